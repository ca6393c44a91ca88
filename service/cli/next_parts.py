"""`portwright next-parts`: the part that would give most questions without a bill one."""

import json
from collections.abc import Iterator
from typing import Annotated

import typer

from service.cli.console import errors, output
from service.cli.database import opened_database
from service.cli.impact import kept_in
from service.cli.refusals import refusals_told
from service.documents.next_part import NextPart, PartNeeds
from service.storage.revisions import RevisionStore
from service.usecases.library import Library
from service.usecases.next_parts import next_parts_in

_WORDS = (
    ("standout_mm_at_least", "stands at least {:g} mm proud"),
    ("standout_mm_at_most", "stands at most {:g} mm proud"),
    ("across_mm_at_most", "is at most {:g} mm across"),
    ("kpa_at_least", "takes at least {:g} kPa"),
    ("power_kw_at_least", "feeds at least {:g} kW"),
    ("bore_mm_at_least", "has a bore of at least {:g} mm"),
)


@refusals_told()
def next_parts(
    revision: Annotated[int | None, typer.Option(min=1, max=2**31 - 1, help="Default: the newest.")] = None,
    limit: Annotated[int, typer.Option(min=1, max=1_000, help="How many are listed.")] = 10,
    as_json: Annotated[bool, typer.Option("--json", help="All of them with all that is known, as JSON.")] = False,
) -> None:
    """Tell which one part, if the maker had it, would give most standing questions without a bill one."""
    with opened_database() as database:
        edition = Library(RevisionStore(database)).edition(revision)
        kept = kept_in(database)
    with errors().status("Trying parts that are not there yet"):
        found = next_parts_in(edition, kept)
    for line in [json.dumps(found, ensure_ascii=False, indent=2)] if as_json else _lines(found, limit):
        output().print(line, soft_wrap=True, markup=False, highlight=False)


def _lines(found: list[NextPart], limit: int) -> Iterator[str]:
    if not found:
        yield "no single part would give a question without a bill one"
    for part in found[:limit]:
        ports = " to ".join(f"{port['end']} {port['standard']}" for port in part["ports"])
        times = "once" if part["asked"] == 1 else f"{part['asked']:,} times"
        asked = f", asked {times}" if part["asked"] else ""
        gives = "1 question" if part["unlocks"] == 1 else f"{part['unlocks']:,} questions"
        yield f"{part['kind']}, {ports}: gives {gives} a bill{asked}; it {_needed(part['needs'])}"


def _needed(needs: PartNeeds) -> str:
    told = {**needs}
    words = [text.format(told[name]) for name, text in _WORDS if told[name] is not None]
    return ", ".join([*words, f"suits {', '.join(needs['fuels'])}"])
