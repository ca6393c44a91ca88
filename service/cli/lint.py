"""`portwright catalog lint`: what is odd in a catalog that has no fault."""

from pathlib import Path
from typing import Annotated

import typer

from service.cli.catalogs import checked
from service.cli.console import errors, output
from service.cli.refusals import refusals_told
from service.documents.rendering import printable
from service.usecases.library import Edition
from service.usecases.lint import lint as lint_edition

_TEXT_LIMIT = 1_000


@refusals_told()
def lint(path: Annotated[Path, typer.Argument(help="As for `check`.")]) -> None:
    """List what is odd in a catalog: parts that nothing meets, cars without a bill, spots that only bought-elsewhere
    parts close, figures that cannot be, names that are nearly the same."""
    catalog = checked(path)
    with errors().status("Looking it over"):
        found = list(lint_edition(Edition(1, catalog)))
    output().print(f"{len(found):,} remarks" if len(found) != 1 else "1 remark", soft_wrap=True, highlight=False)
    for remark in found:
        text = printable(f"{remark.pointer}: {remark.text}", _TEXT_LIMIT)
        output().print(text, soft_wrap=True, markup=False, highlight=False)
