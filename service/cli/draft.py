"""`portwright draft`: working copies of the catalog: begun, edited by tables, tried, published."""

import json
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Annotated, Any, NoReturn

import typer
from pydantic import ValidationError

from service.cli.bars import bar
from service.cli.console import errors, output
from service.cli.database import opened_database
from service.cli.draft_table import begun_line, changes_lines, draft_lines, taken_lines
from service.cli.impact import impact_lines
from service.cli.lines import AUTHOR, REASON, AuthorOption, ReasonOption, line_of
from service.cli.refusals import ExitCode, refusals_told, refuse
from service.documents.draft import BegunDraft, DraftMove, Publication
from service.documents.folder import CatalogFileError
from service.documents.impact import ImpactAnswer
from service.documents.pointers import segments_of
from service.documents.rendering import printable
from service.settings import read_settings
from service.storage.drafts import DraftStore
from service.storage.engine import Database
from service.storage.revisions import RevisionStore
from service.storage.trail import TrailStore
from service.tables.opening import Bounds
from service.usecases import publish as publishing
from service.usecases.draft_tables import Manner, bring, sheets_at
from service.usecases.draft_telling import head_of
from service.usecases.drafts import Drafts
from service.usecases.errors import ConflictError, RequestFault, RequestFaultsError
from service.usecases.impact import usual_meter
from service.usecases.library import Library
from service.usecases.long_lived import uncollected
from service.usecases.standing import questions_in

app = typer.Typer(no_args_is_help=True, help="Begin, edit, try and publish drafts of the catalog.")

_BOUNDS = Bounds(unpacked_bytes=4 * 1024**3, rows=3_000_000)
"""Whoever is at the machine may bring a whole large catalog."""
_MOST_SHOWN = 200
_TEXT_LIMIT = 2_000

DraftId = Annotated[str, typer.Argument(metavar="ID", help="The id of a draft, as it is listed.")]
AsJson = Annotated[bool, typer.Option("--json", help="All that is known, as JSON.")]


@app.command()
@refusals_told()
def new(
    name: Annotated[str, typer.Argument(help="What it is for, in a few words.")],
    base: Annotated[
        int | None, typer.Option(min=1, max=2**31 - 1, help="The revision to start from. Default: the newest.")
    ] = None,
    author: AuthorOption = None,
) -> None:
    """Begin a draft: a working copy of a revision."""
    try:
        asked = BegunDraft(name=name, author=line_of(author, AUTHOR), base=base)
    except ValidationError:
        raise typer.BadParameter("a name is one text of 1 to 200 characters") from None
    with _drafts() as drafts:
        _print(begun_line(head_of(drafts.begin(asked))))


@app.command("list")
@refusals_told()
def list_(
    limit: Annotated[int, typer.Option(min=1, max=1_000, help="How many.")] = 20, as_json: AsJson = False
) -> None:
    """List the drafts, the newest first."""
    with _drafts() as drafts:
        heads, _ = drafts.page(limit, None)
    _print(*([_json({"results": heads})] if as_json else [begun_line(head) for head in heads] or ["no drafts"]))


@app.command()
@refusals_told()
def show(id_: DraftId, as_json: AsJson = False) -> None:
    """Show what a draft has otherwise than its base, and what does not hold in it."""
    with _drafts() as drafts:
        told = drafts.told(id_)
        changes, more = drafts.changes(id_, _MOST_SHOWN, 0)
    if as_json:
        _print(_json({**told, "changes": changes["results"]}))
        return
    _print(*draft_lines(told), *changes_lines(changes["results"]), *(["and more"] if more is not None else []))


@app.command()
@refusals_told()
def edit(
    id_: DraftId,
    path: Annotated[Path, typer.Argument(help="Tables as `portwright catalog export` writes them: XLSX or CSV.")],
    dry_run: Annotated[bool, typer.Option("--dry-run", help="Only tell what it would change.")] = False,
    replace: Annotated[
        bool, typer.Option("--replace", help="The tables count, also where the draft was edited otherwise.")
    ] = False,
    author: AuthorOption = None,
    reason: ReasonOption = None,
    as_json: AsJson = False,
) -> None:
    """Bring tables into a draft: what they have otherwise than its base becomes its edits. A table that is not there
    changes nothing; what has no row in a table that is there is removed."""
    manner = Manner(line_of(author, AUTHOR), line_of(reason, REASON), replace=replace, dry_run=dry_run)
    with _drafts() as drafts, _conflicts_told(), uncollected():
        try:
            told = bring(drafts, id_, sheets_at(path, _BOUNDS), manner)
        except OSError as error:
            raise CatalogFileError(path, error) from error
        except RequestFaultsError as error:
            _refuse_tables(error)
    _print(*([_json(told)] if as_json else taken_lines(told)))


@app.command()
@refusals_told()
def impact(id_: DraftId, as_json: AsJson = False) -> None:
    """Tell what a draft does to the standing questions: promises broken, bills lost and gained, prices."""
    with _drafts() as drafts, _conflicts_told():
        told = _impact(drafts, publishing.looked_at(drafts, id_))
    _print(*([_json(told)] if as_json else impact_lines(told)))


@app.command()
@refusals_told()
def publish(
    id_: DraftId,
    author: Annotated[str, typer.Option(metavar="NAME", help="Who publishes it, kept with the revision.")],
    reason: Annotated[str, typer.Option(metavar="TEXT", help="Why, kept with the revision.")],
    accept: Annotated[
        str | None, typer.Option(metavar="REASON", help="Publish although something is broken or lost, and why.")
    ] = None,
) -> None:
    """Publish a draft as the next revision, whole or not at all; what breaks a promise or loses a bill takes
    `--accept`."""
    who, why = line_of(author, AUTHOR), line_of(reason, REASON)
    if who is None or why is None:
        raise typer.BadParameter("--author and --reason say who publishes it, and why")
    asked = Publication(author=who, reason=why, accept=line_of(accept, REASON))
    with _drafts() as drafts, _conflicts_told():
        ready = publishing.ready_draft(drafts, id_)
        if asked.accept is None:
            publishing.refuse_losses(_impact(drafts, ready))
        with bar("Publishing"), uncollected():
            made = publishing.publish(drafts, ready, asked)
    _print(f"published as revision {made['revision']}")


@app.command()
@refusals_told()
def rebase(
    id_: DraftId,
    keep: Annotated[
        str | None, typer.Option(metavar="draft|newest", help="Whose state stays where both changed an object.")
    ] = None,
    author: AuthorOption = None,
) -> None:
    """Move a draft to the newest revision, object by object."""
    try:
        asked = DraftMove.model_validate({"keep": keep, "author": line_of(author, AUTHOR)})
    except ValidationError:
        raise typer.BadParameter("--keep is draft or newest") from None
    with _drafts() as drafts, _conflicts_told():
        _print(begun_line(head_of(drafts.rebase(id_, asked))))


@app.command()
@refusals_told()
def delete(id_: DraftId, author: AuthorOption = None) -> None:
    """Delete a draft with its edits; what was done to it stays in its trail."""
    with _drafts() as drafts, _conflicts_told():
        drafts.discard(id_, line_of(author, AUTHOR))
    _print(f"deleted draft {id_}")


@contextmanager
def _drafts() -> Iterator["_Opened"]:
    with opened_database() as database:
        yield _Opened(database)


class _Opened(Drafts):
    """The drafts of a database, and the standing questions that are kept beside them."""

    def __init__(self, database: Database) -> None:
        super().__init__(Library(RevisionStore(database)), DraftStore(database), TrailStore(database))
        self.questions = questions_in(database, read_settings().keeping)


def _impact(drafts: "_Opened", ready: publishing.Ready) -> ImpactAnswer:
    with errors().status("Asking every standing question of both"):
        return publishing.impact_on(drafts.library, ready, drafts.questions, usual_meter)


@contextmanager
def _conflicts_told() -> Iterator[None]:
    """Tell what is in the way, and leave."""
    try:
        yield
    except ConflictError as error:
        refuse(printable(error.told, _TEXT_LIMIT), ExitCode.NO, tuple(_told(fault) for fault in error.faults[:20]))


def _refuse_tables(error: RequestFaultsError) -> NoReturn:
    """Tell every fault of tables by its sheet, row and column, and leave."""
    count = len(error.faults) + error.more
    details = [_in_table(fault) for fault in error.faults]
    more = [f"and {error.more:,} more"] if error.more else []
    counted = f"{count:,} faults" if count > 1 else "1 fault"
    refuse(f"the tables have {counted}: nothing was taken", ExitCode.NO, (*details, *more))


def _told(fault: RequestFault) -> str:
    return _worded(" ".join(segments_of(fault.pointer)), fault)


def _in_table(fault: RequestFault) -> str:
    sheet, *rest = segments_of(fault.pointer) or [""]
    place = ", ".join([sheet, *(f"{what} {at}" for what, at in zip(("row", "column"), rest, strict=False))])
    return _worded(place, fault)


def _worded(place: str, fault: RequestFault) -> str:
    alike = f"; nearest: {', '.join(fault.nearest)}" if fault.nearest else ""
    return f"{place}: found {printable(fault.found, _TEXT_LIMIT)}, expected {fault.expected}{alike}"


def _json(told: Any) -> str:
    return json.dumps(told, ensure_ascii=False, indent=2)


def _print(*lines: str) -> None:
    for line in lines:
        output().print(line, soft_wrap=True, markup=False, highlight=False)
