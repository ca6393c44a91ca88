"""`portwright catalog`: check, import and export a catalog document."""

from pathlib import Path
from typing import Annotated

import typer

from service.cli.console import errors, output
from service.cli.database import revision_store
from service.cli.publishing import publish
from service.cli.refusals import ExitCode, refusals_told, refuse
from service.documents.catalog import Catalog
from service.documents.check import CatalogFaultsError
from service.documents.folder import load_catalog, write_catalog
from service.documents.remarks import remarks
from service.usecases.library import Library

app = typer.Typer(no_args_is_help=True, help="Check, import and export catalogs.")

Source = Annotated[Path, typer.Argument(help="One JSON file, or a folder with one JSON file a section.")]
Target = Annotated[Path, typer.Argument(help="A file that ends in .json, or a folder for one file a section.")]
Revision = Annotated[int | None, typer.Option(min=1, max=2**31 - 1, help="Default: the newest.")]


@app.command()
@refusals_told()
def check(path: Source) -> None:
    """List every fault of a catalog: its JSON pointer, what was found and what would be right; else what is odd."""
    catalog = _checked(path)
    output().print(f"no faults: {_counts(catalog)}", soft_wrap=True)
    for remark in remarks(catalog):
        output().print(f"remark: {remark.pointer}: {remark.text}", soft_wrap=True, markup=False)


@app.command("import")
@refusals_told()
def import_(path: Source) -> None:
    """Check a catalog and keep it as a new revision, all or nothing."""
    catalog = _checked(path)
    with revision_store() as store:
        number, is_new = publish(catalog, Library(store))
    if is_new:
        output().print(f"imported as revision {number}: {_counts(catalog)}", soft_wrap=True)
    else:
        output().print(f"nothing imported: revision {number}, the newest, is the same catalog", soft_wrap=True)


@app.command()
@refusals_told()
def export(path: Target, revision: Revision = None) -> None:
    """Write a revision's catalog as a document that imports to the same."""
    with revision_store() as store:
        edition = Library(store).edition(revision)
    write_catalog(edition.catalog, path)
    output().print(f"exported revision {edition.number}: {_counts(edition.catalog)}", soft_wrap=True)


def _checked(path: Path) -> Catalog:
    try:
        with errors().status("Checking"):
            return load_catalog(path)
    except CatalogFaultsError as error:
        count = f"{len(error.faults)} faults" if len(error.faults) > 1 else "1 fault"
        faults = tuple(
            f"{fault.pointer or '(the whole)'}: found {fault.found}, expected {fault.expected}"
            for fault in error.faults
        )
        refuse(f"the catalog has {count}", ExitCode.NO, faults)


def _counts(catalog: Catalog) -> str:
    counted = ("items", "chassis", "layouts", "addons", "fuels", "materials", "port_standards", "joints")
    return ", ".join(f"{len(getattr(catalog, section)):,} {section.replace('_', ' ')}" for section in counted)
