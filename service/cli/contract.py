"""`portwright contract`: hold a deployment to its standing cases and to the promises of the API."""

from pathlib import Path
from typing import Annotated

import httpx
import typer

from service.cli.console import output
from service.cli.refusals import ExitCode, refusals_told, refuse
from service.client import AddressError, Client, ClientError, UnavailableError, UnreachableError
from service.contract import CaseFileError, Outcome, junit_xml, read_case_file, run_contract
from service.documents.contract import CaseFile

_TIMEOUT_S = 30.0


@refusals_told()
def contract(
    base_url: Annotated[str, typer.Argument(help="Where the service is, such as http://127.0.0.1:8000.")],
    cases: Annotated[
        Path | None, typer.Option(help="A file of your own cases; default: those that the service itself tells.")
    ] = None,
    junit: Annotated[Path | None, typer.Option(help="Write the outcome to this file as JUnit XML as well.")] = None,
) -> None:
    """Try every case and every promise of the API; 0 where all are kept, 1 where one is broken."""
    own = _own_cases(cases)
    try:
        with Client(base_url, timeout_s=_TIMEOUT_S) as client, _plain_client(base_url) as http:
            outcomes = _shown(client, http, own if own is not None else _told_cases(client))
    except AddressError as error:
        refuse(f"BASE_URL: {error}", ExitCode.BAD_INPUT)
    except (UnreachableError, UnavailableError) as error:
        refuse(f"{base_url}: {error}", ExitCode.UNAVAILABLE)
    if junit is not None:
        junit.write_bytes(junit_xml(outcomes))
    broken = sum(not outcome.is_kept for outcome in outcomes)
    console = output()
    console.print(f"{len(outcomes)} promises tried: {len(outcomes) - broken} kept, {broken} broken", soft_wrap=True)
    if broken:
        raise typer.Exit(ExitCode.NO)


def _own_cases(file: Path | None) -> CaseFile | None:
    try:
        return None if file is None else read_case_file(file)
    except CaseFileError as error:
        told = tuple(f"{x.pointer or '/'}: found {x.found}, expected {x.expected}" for x in error.faults)
        refuse(f"--cases: {file} holds no cases", ExitCode.BAD_INPUT, told)


def _plain_client(base_url: str) -> httpx.Client:
    return httpx.Client(base_url=base_url.rstrip("/"), timeout=_TIMEOUT_S)


def _told_cases(client: Client) -> CaseFile:
    """The cases that the service tells; where it fails to, there are none, and its promises show what is broken."""
    try:
        return client.contract_cases().content or CaseFile(cases=[])
    except (UnreachableError, UnavailableError):
        raise
    except ClientError as error:
        output().print(f"BROKEN  the standing cases cannot be had: {error}", soft_wrap=True)
        return CaseFile(cases=[])


def _shown(client: Client, http: httpx.Client, cases: CaseFile) -> list[Outcome]:
    console = output()
    outcomes: list[Outcome] = []
    for outcome in run_contract(client, http, cases):
        outcomes.append(outcome)
        console.print(f"{'kept  ' if outcome.is_kept else 'BROKEN'}  {outcome.name}", soft_wrap=True)
        for line in outcome.broken:
            console.print(f"        {line}", soft_wrap=True)
    return outcomes
