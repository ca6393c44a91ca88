"""`portwright catalog impact`: what one catalog does to the standing questions of another."""

import json
from collections.abc import Iterator
from contextlib import ExitStack
from pathlib import Path
from time import monotonic, sleep
from typing import Annotated, Any

import typer

from service.cli.bars import bar
from service.cli.catalogs import checked
from service.cli.console import errors, output
from service.cli.database import opened_database
from service.cli.refusals import ExitCode, refusals_told, refuse
from service.documents.impact import CatalogChange, ImpactAnswer, ImpactQuestion
from service.documents.rendering import printable
from service.impact.outcomes import EXPLAINED
from service.impact.questions import Kept
from service.settings import read_settings
from service.storage.engine import Database
from service.storage.impact_sweeps import ImpactSweepStore
from service.storage.revisions import RevisionStore
from service.usecases.impact import impact_told
from service.usecases.impact_sweeps import LEASE_S, Progress, Sides, Sweeper
from service.usecases.library import Edition, Library
from service.usecases.standing import questions_in
from service.usecases.sweep_impact import InMemory, sweep
from service.usecases.sweep_workers import Workers, cluster, processes

_TEXT_LIMIT = 2_000
_MOST_NAMED = 5
_LOOK_S = 0.5


@refusals_told()
def impact(
    from_: Annotated[str, typer.Argument(metavar="FROM", help="A revision's number, or a catalog as for `check`.")],
    to: Annotated[str, typer.Argument(metavar="TO", help="The same, of what is held against it.")],
    workers: Annotated[
        int | None,
        typer.Option(min=1, max=256, help="So many processes ask at once. Default: one a core, for many questions."),
    ] = None,
    scheduler: Annotated[
        str | None, typer.Option(metavar="ADDRESS", help="Ask by the Dask cluster of this scheduler instead.")
    ] = None,
    as_json: Annotated[bool, typer.Option("--json", help="All that is known, as JSON.")] = False,
) -> None:
    """Tell what one catalog does to the answers of another: promises broken, bills lost and gained, and which edits did
    it. Where one of them is a revision, what was killed goes on where it stood."""
    asked = cluster(scheduler) if scheduler is not None else None if workers is None else processes(workers)
    with ExitStack() as stack:
        database, library = None, None
        if any(map(_is_number, (from_, to))):
            database = stack.enter_context(opened_database())
            library = Library(RevisionStore(database))
        sides = Sides(_edition(from_, library, 1), _edition(to, library, 2), (_name(from_), _name(to)))
        moved = stack.enter_context(bar("Asking every standing question of both"))
        told = _swept(sides, asked, moved) if database is None else _swept_on(database, sides, asked, moved)
    for line in [json.dumps(told, ensure_ascii=False, indent=2)] if as_json else impact_lines(told):
        output().print(line, soft_wrap=True, markup=False, highlight=False)


def _swept(sides: Sides, workers: Workers | None, moved: Progress) -> ImpactAnswer:
    found = sweep(sides.before, sides.after, Kept(), workers, InMemory(moved))
    return impact_told(found, sides.before, sides.after, sides.names)


def _swept_on(database: Database, sides: Sides, workers: Workers | None, moved: Progress) -> Any:
    """Sweep with what was found kept in the database until the end; wait for whoever works at the same."""
    store = ImpactSweepStore(database)
    sweeper = Sweeper(store, questions_in(database, read_settings().keeping), workers)
    begun = sweeper.begin(sides)
    if not sweeper.claim(begun.id):
        errors().print(f"another process works at this, or did until just now: waiting for up to {LEASE_S} s")
        until = monotonic() + LEASE_S + 1
        while not sweeper.claim(begun.id):
            if monotonic() > until:
                refuse("another process works at this very sweep", ExitCode.UNAVAILABLE)
            sleep(_LOOK_S)
    told = sweeper.work(begun.id, sides, moved)
    store.delete(begun.id)
    return told


def _name(name: str) -> int | str:
    return int(name) if _is_number(name) else name


def kept_in(database: Database) -> Kept:
    """Return the standing questions that are kept in a database beside its catalogs."""
    return questions_in(database, read_settings().keeping).gather()


def impact_lines(told: ImpactAnswer) -> Iterator[str]:
    """Yield an impact as text: how many questions have which outcome, then each that is not the same."""
    yield ", ".join(f"{outcome}: {count}" for outcome, count in told["counts"].items()) or "no standing question"
    yield f"changes: {_named(told['changes']) if told['changes'] else 'none'}"
    for question in told["questions"]:
        yield question_line(question, is_explained=True)
    if (orders := told.get("orders")) and orders["otherwise"]:
        named = ", ".join(orders.get("ids", [])[:_MOST_NAMED])
        yield f"kept order checks judged otherwise: {orders['otherwise']:,} of {orders['looked_at']:,}: {named}"
    for request in told["not_asked"]:
        yield f"not asked, as it takes too much work: {json.dumps(request)}"


def question_line(question: ImpactQuestion, *, is_explained: bool = False) -> str:
    """Return the line of a question: its outcome and the edits behind it; `is_explained`: those were looked for."""
    because = ""
    if question["because"]:
        because = f" Because of: {_named(question['because'])}."
    elif is_explained and question["outcome"] in EXPLAINED:
        because = " No edit is found that decides it alone."
    return printable(f"{question['outcome']:<11} {question['text']}{because}", _TEXT_LIMIT)


def _named(changes: list[CatalogChange]) -> str:
    named = [f"{_object(change)} {change['what']}" for change in changes[:_MOST_NAMED]]
    more = len(changes) - len(named)
    return "; ".join(named) + (f"; and {more:,} more" if more else "")


def _object(change: CatalogChange) -> str:
    """What a change is of; of some things there is one in a catalog."""
    kind = change["kind"].replace("_", " ")
    return kind if change["kind"] in ("policies", "maker", "fuel_order") else f"{kind} {change['id']}"


def _is_number(name: str) -> bool:
    return name.isascii() and name.isdecimal() and len(name) < 11 and not Path(name).exists()


def _edition(name: str, library: Library | None, number: int) -> Edition:
    if library is not None and _is_number(name):
        return library.edition(int(name))
    return Edition(number, checked(Path(name)))
