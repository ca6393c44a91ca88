"""`portwright contract`: hold a deployment to its standing cases and to the promises of the API."""

from collections import Counter
from collections.abc import Sequence
from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer

from service.cli.console import output
from service.cli.refusals import ExitCode, refusals_told, refuse
from service.client import AddressError, ClientError, UnavailableError, UnreachableError
from service.contract import (
    CaseFileError,
    Outcome,
    Site,
    github_lines,
    junit_xml,
    opened,
    operations,
    read_case_file,
    run_contract,
)
from service.documents.contract_kinds import AnyCase

_WORDS = {"kept": "kept   ", "broken": "BROKEN ", "skipped": "skipped", "slow": "SLOW   ", "failing": "FAILING"}


class Format(StrEnum):
    """How outcomes are printed."""

    TEXT = "text"
    GITHUB = "github"


@refusals_told()
def contract(
    base_url: Annotated[str, typer.Argument(help="Where the service is, such as http://127.0.0.1:8000.")],
    cases: Annotated[
        Path | None, typer.Option(help="A file of your own cases; default: those that the service itself tells.")
    ] = None,
    junit: Annotated[Path | None, typer.Option(help="Write the outcome to this file as JUnit XML as well.")] = None,
    format_: Annotated[
        Format, typer.Option("--format", help="github: what is broken as annotations of a workflow.")
    ] = Format.TEXT,
    key: Annotated[
        str | None,
        typer.Option(envvar="PORTWRIGHT_KEY", show_envvar=True, help="Your key, where the service asks for one."),
    ] = None,
    only: Annotated[str, typer.Option(help="Only what has this text in its name, such as a promise or cases.")] = "",
) -> None:
    """Try every case and every promise of the API; 0 where all are kept, 1 where one is broken, 3 where the service is
    slow or fails."""
    own = _own_cases(cases)
    try:
        with opened(base_url, key=key or None) as site:
            site.cases = own if own is not None else _told_cases(site)
            outcomes = _shown(site, only, format_)
    except AddressError as error:
        refuse(f"BASE_URL: {error}", ExitCode.BAD_INPUT)
    except (UnreachableError, UnavailableError) as error:
        refuse(f"{base_url}: {error}", ExitCode.UNAVAILABLE)
    if junit is not None:
        junit.write_bytes(junit_xml(outcomes))
    _end(outcomes)


def _end(outcomes: list[Outcome]) -> None:
    """Tell how many came to what, and leave by it."""
    counts = Counter(outcome.state for outcome in outcomes)
    told = [f"{counts['kept']} kept", f"{counts['broken']} broken"]
    told += [f"{counts[state]} {state}" for state in ("skipped", "slow", "failing") if counts[state]]
    output().print(f"{len(outcomes)} promises: {', '.join(told)}", soft_wrap=True)
    if counts["broken"]:
        raise typer.Exit(ExitCode.NO)
    if counts["slow"] or counts["failing"]:
        raise typer.Exit(ExitCode.UNAVAILABLE)


def _own_cases(file: Path | None) -> tuple[AnyCase, ...] | None:
    try:
        return None if file is None else read_case_file(file)
    except CaseFileError as error:
        told = tuple(f"{x.pointer or '/'}: found {x.found}, expected {x.expected}" for x in error.faults)
        refuse(f"--cases: {file} holds no cases", ExitCode.BAD_INPUT, told)


def _told_cases(site: Site) -> Sequence[AnyCase]:
    """The cases that the service tells; where it fails to, there are none, and its promises show what is broken."""
    try:
        told = site.ask(operations.contract_cases()).content
        return () if told is None else told.cases
    except (UnreachableError, UnavailableError):
        raise
    except ClientError as error:
        output().print(f"BROKEN  the standing cases cannot be had: {error}", soft_wrap=True)
        return ()


def _shown(site: Site, only: str, format_: Format) -> list[Outcome]:
    console = output()
    outcomes: list[Outcome] = []
    for outcome in run_contract(site, only):
        outcomes.append(outcome)
        lines = github_lines(outcome) if format_ is Format.GITHUB else _lines(outcome)
        for line in lines:
            console.print(line, soft_wrap=True)
    return outcomes


def _lines(outcome: Outcome) -> list[str]:
    why = f": {outcome.why}" if outcome.why else ""
    lines = [f"{_WORDS[outcome.state]} {outcome.name}{why}"]
    for broken in outcome.broken:
        what, *rest = broken.lines()
        lines += [f"        {what}", *(f"          {line}" for line in rest)]
    return lines + ([f"        {outcome.note}"] if outcome.note else [])
