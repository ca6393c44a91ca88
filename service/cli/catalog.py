"""`portwright catalog`: check, import and export a catalog document; what a change of it does, and what is odd."""

from pathlib import Path
from typing import Annotated

import typer

from service.cli.bars import FileForm, write
from service.cli.catalogs import checked
from service.cli.console import output
from service.cli.database import opened_database, revision_store
from service.cli.impact import impact, kept_in
from service.cli.lines import AUTHOR, REASON, line_of
from service.cli.lint import lint
from service.cli.publishing import guard, publish
from service.cli.refusals import refusals_told
from service.documents.packed import PackedCatalog
from service.documents.remarks import remarks
from service.storage.revisions import Publishing, RevisionStore
from service.usecases.library import Library

app = typer.Typer(no_args_is_help=True, help="Check, import and export catalogs.")

app.command()(impact)
app.command()(lint)

Source = Annotated[Path, typer.Argument(help="One JSON file, or a folder with one JSON file a section.")]
Target = Annotated[
    Path,
    typer.Argument(
        help="JSON: a file that ends in .json, or a folder for one file a section; XLSX: a file; CSV: a folder, or a "
        "file that ends in .zip."
    ),
]
Form = Annotated[
    FileForm | None,
    typer.Option("--format", help="Default: xlsx where PATH ends so, csv where it ends in .zip, else json."),
]
Accept = Annotated[
    str | None, typer.Option(metavar="REASON", help="Publish although something is broken or lost, and why.")
]
Author = Annotated[str | None, typer.Option(metavar="NAME", help="Who publishes it, kept with the revision.")]
Reason = Annotated[str | None, typer.Option(metavar="TEXT", help="Why it is published, kept with the revision.")]
Revision = Annotated[int | None, typer.Option(min=1, max=2**31 - 1, help="Default: the newest.")]

_FORMS: dict[str, FileForm] = {".xlsx": "xlsx", ".zip": "csv"}


@app.command()
@refusals_told()
def check(path: Source) -> None:
    """List every fault of a catalog: its JSON pointer, what was found and what would be right; else what is odd."""
    catalog = checked(path)
    output().print(f"no faults: {_counts(catalog)}", soft_wrap=True)
    for remark in remarks(catalog):
        output().print(f"remark: {remark.pointer}: {remark.text}", soft_wrap=True, markup=False)


@app.command("import")
@refusals_told()
def import_(path: Source, accept: Accept = None, author: Author = None, reason: Reason = None) -> None:
    """Check a catalog and keep it as a new revision, all or nothing; one that breaks a promise or loses a bill of the
    newest takes a reason."""
    publishing = Publishing(line_of(author, AUTHOR), line_of(reason, REASON), line_of(accept, REASON))
    catalog = checked(path)
    with opened_database() as database:
        library = Library(RevisionStore(database))
        guard(library, catalog, kept_in(database), accept)
        number, is_new = publish(catalog, library, publishing)
    if is_new:
        output().print(f"imported as revision {number}: {_counts(catalog)}", soft_wrap=True)
    else:
        output().print(f"nothing imported: revision {number}, the newest, is the same catalog", soft_wrap=True)


@app.command()
@refusals_told()
def export(path: Target, revision: Revision = None, form: Form = None) -> None:
    """Write a revision's catalog as a document that imports to the same, or as tables for `portwright draft edit`."""
    with revision_store() as store:
        library = Library(store)
        number = library.newest() if revision is None else revision
        catalog = library.catalog(number)
    write(catalog, path, form or _FORMS.get(path.suffix.lower(), "json"))
    output().print(f"exported revision {number}: {_counts(catalog)}", soft_wrap=True)


def _counts(catalog: PackedCatalog) -> str:
    counted = ("items", "chassis", "layouts", "addons", "fuels", "materials", "port_standards", "joints")
    return ", ".join(f"{len(getattr(catalog, section)):,} {section.replace('_', ' ')}" for section in counted)
