"""`portwright inquiries`: what the catalog could not answer, with whom to tell when it can."""

import json
from collections.abc import Iterator, Sequence
from typing import Annotated

import typer
from pydantic import ValidationError

from service.cli.console import output
from service.cli.database import opened_database
from service.cli.refusals import ExitCode, refusals_told, refuse
from service.documents.faults import faults_of
from service.documents.inquiry import InquiryChange, InquiryGroup, InquiryStatus, WorkshopInquiry
from service.documents.rendering import printable
from service.settings import read_settings
from service.storage.inquiries import InquiryStore
from service.usecases.answer_inquiry import answer_inquiry
from service.usecases.errors import RequestFaultsError
from service.usecases.list_inquiries import delete_inquiry, group_inquiries, list_inquiries
from service.usecases.preconditions import ANY

app = typer.Typer(no_args_is_help=True, help="Read, answer and delete the questions that were sent to the workshop.")

_TEXT_LIMIT = 2_000


@app.command("list")
@refusals_told()
def list_(
    newest: Annotated[bool, typer.Option("--newest", help="One list, newest first, instead of groups.")] = False,
    limit: Annotated[int, typer.Option(min=1, max=1_000, help="How many of a group, or of the list.")] = 20,
    after: Annotated[str | None, typer.Option(help="With --newest: go on after the inquiry with this id.")] = None,
    status: Annotated[InquiryStatus | None, typer.Option(help="Only those of a status.")] = None,
    as_json: Annotated[bool, typer.Option("--json", help="All that is known of each, as JSON.")] = False,
) -> None:
    """List the inquiries by what was missing, the most frequent first. They hold contact lines: treat them so."""
    with opened_database() as database:
        store = InquiryStore(database, read_settings().keeping)
        if newest or after is not None:
            page = list_inquiries(store, limit, after, status=status)
            told: dict[str, object] = {"inquiries": page.inquiries, "next": page.next}
            lines = _listed(page.inquiries, page.next)
        else:
            groups = group_inquiries(store, limit, status)
            told = {"groups": groups}
            lines = _grouped(groups)
    for line in [json.dumps(told, ensure_ascii=False, indent=2)] if as_json else lines:
        output().print(line, soft_wrap=True)


@app.command(context_settings={"ignore_unknown_options": True})
@refusals_told()
def answer(
    id_: Annotated[str, typer.Argument(metavar="ID", help="The id of an inquiry, as it is listed.")],
    reply: Annotated[str, typer.Argument(metavar="REPLY", help="What is answered; whoever has the id reads it.")],
    close: Annotated[bool, typer.Option("--close", help="Close it as well.")] = False,
) -> None:
    """Answer an inquiry: the reply takes the place of one that was given before."""
    _change(id_, {"reply": reply, "status": "closed" if close else "answered"})


@app.command(context_settings={"ignore_unknown_options": True})
@refusals_told()
def mark(
    id_: Annotated[str, typer.Argument(metavar="ID", help="The id of an inquiry, as it is listed.")],
    status: Annotated[InquiryStatus, typer.Argument(metavar="STATUS", help="open, answered or closed.")],
) -> None:
    """Give an inquiry another status; its reply stays."""
    _change(id_, {"status": status})


def _change(id_: str, change: dict[str, str]) -> None:
    try:
        asked = InquiryChange.model_validate(change)
        with opened_database() as database:
            store = InquiryStore(database, read_settings().keeping)
            kept = json.loads(answer_inquiry(store, id_, asked, (ANY,)).document)
    except ValidationError as error:
        wrong = [f"found {fault.found}, expected {fault.expected}" for fault in faults_of(error)]
        refuse("the reply cannot be taken", ExitCode.BAD_INPUT, tuple(wrong))
    except RequestFaultsError:
        refuse("an inquiry without a reply is not answered: see `inquiries answer`", ExitCode.BAD_INPUT)
    output().print(f"inquiry {id_} is {kept['status']}", soft_wrap=True)


@app.command(context_settings={"ignore_unknown_options": True})  # ids that were given out earlier may begin with -
@refusals_told()
def delete(id_: Annotated[str, typer.Argument(metavar="ID", help="The id of an inquiry, as it is listed.")]) -> None:
    """Delete an inquiry with its contact line, for good."""
    with opened_database() as database:
        delete_inquiry(InquiryStore(database), id_)
    output().print(f"deleted inquiry {id_}", soft_wrap=True)


def _grouped(groups: Sequence[InquiryGroup]) -> Iterator[str]:
    for number, group in enumerate(groups):
        if number:
            yield ""
        count = "1 inquiry" if group["count"] == 1 else f"{group['count']:,} inquiries"
        yield f"{group['missing']} ({count})"
        for inquiry in group["inquiries"]:
            yield from (f"  {line}" for line in _lines(inquiry))
        unshown = group["count"] - len(group["inquiries"])
        if unshown:
            yield f"  and {unshown:,} older: see --limit"
    yield from _none(groups)


def _listed(inquiries: Sequence[WorkshopInquiry], next_: str | None) -> Iterator[str]:
    for inquiry in inquiries:
        yield from _lines(inquiry)
        yield f"  {inquiry['missing']['text']}"
    if next_ is not None:
        yield f"more: --newest --after {next_}"
    yield from _none(inquiries)


def _none(found: Sequence[object]) -> Iterator[str]:
    if not found:
        yield "no inquiries"


def _lines(inquiry: WorkshopInquiry) -> Iterator[str]:
    """What a person needs to answer it; text from outside cannot move the cursor or turn the writing round."""
    status = "" if inquiry["status"] == "open" else f"  {inquiry['status']}"
    yield f"{inquiry['id']}  {inquiry['received']}  {printable(inquiry['contact'], _TEXT_LIMIT)}{status}"
    request = {name: value for name, value in inquiry["request"].items() if name not in ("chassis", "layout")}
    wishes = f" with {printable(json.dumps(request, ensure_ascii=False), _TEXT_LIMIT)}" if request else ""
    bills = f", {inquiry['total_valid']:,} valid" if inquiry["total_valid"] else ""
    asked = inquiry["request"]
    question = f"{asked.get('chassis', 'a car that is not in the catalog')}, {asked.get('layout', 'no layout')}{wishes}"
    yield f"  {question} (catalog revision {inquiry['revision']}{bills})"
    for line in inquiry["note"].splitlines():
        yield f"  > {printable(line, _TEXT_LIMIT)}"
    for line in (inquiry["reply"] or "").splitlines():
        yield f"  < {printable(line, _TEXT_LIMIT)}"
