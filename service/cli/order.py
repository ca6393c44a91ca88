"""`portwright order`: a file of orders checked, the results in a file beside it."""

from collections import Counter
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Annotated

import typer
from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeRemainingColumn

from service.cli.console import errors, output
from service.cli.database import revision_store
from service.cli.refusals import ExitCode, refusals_told, refuse
from service.usecases.check_sheet import Judged, outcome_of, write_results, write_workbook
from service.usecases.library import Edition, Library
from service.usecases.order_sheet import SheetError, SheetOrder, read_orders

_WORKBOOK = ".xlsx"

app = typer.Typer(no_args_is_help=True, help="Check orders before they are sent off.")


@app.command()
@refusals_told()
def check(
    file: Annotated[
        Path, typer.Argument(help="CSV or XLSX: order, chassis, sku, qty; perhaps a column for each wish.")
    ],
    out: Annotated[
        Path | None, typer.Option(help="Default: FILE with .checked before .csv or .xlsx, which tells the form.")
    ] = None,
) -> None:
    """Check every order of a file: rows with the same `order` are one, and the results have a row for each."""
    target = out or _beside(file)
    try:
        with file.open("rb") as content:
            orders = read_orders(content)
    except (SheetError, OSError) as error:
        told = error.strerror or type(error).__name__ if isinstance(error, OSError) else error
        refuse(f"FILE: {file}: {told}", ExitCode.BAD_INPUT)
    if target.exists() and target.samefile(file):
        refuse("--out: found FILE itself, expected another file", ExitCode.BAD_INPUT)
    with revision_store() as store:
        library = Library(store)
        edition = library.edition()
        verdicts: Counter[str] = Counter()
        _write(target, _judged(library, edition, orders, verdicts))
    counted = ", ".join(f"{count:,} {verdict}" for verdict, count in verdicts.most_common())
    noun = "1 order" if len(orders) == 1 else f"{len(orders):,} orders"
    output().print(f"{noun} checked{': ' if counted else ''}{counted}; see {target}", soft_wrap=True)
    if set(verdicts) - {"complete"}:
        raise typer.Exit(ExitCode.NO)


def _beside(file: Path) -> Path:
    """Where the results of a file go: beside it, in its own form."""
    suffix = file.suffix.lower()
    stem = file.stem if suffix in (".csv", _WORKBOOK) else file.name
    return file.with_name(f"{stem}.checked{_WORKBOOK if suffix == _WORKBOOK else '.csv'}")


def _write(target: Path, judged: Iterator[Judged]) -> None:
    if target.suffix.lower() == _WORKBOOK:
        with target.open("wb") as book:
            write_workbook(book, judged)
        return
    with target.open("w", encoding="utf-8", newline="") as results:
        write_results(results, judged)


def _judged(
    library: Library, edition: Edition, orders: Sequence[SheetOrder], verdicts: Counter[str]
) -> Iterator[Judged]:
    """Judge the orders one by one and count the verdicts."""
    for order in _shown(orders):
        outcome = outcome_of(edition, order, library)
        verdicts[outcome.verdict] += 1
        yield order, outcome


def _shown(orders: Sequence[SheetOrder]) -> Iterator[SheetOrder]:
    """Give the orders one by one, with a bar on a terminal."""
    console = errors()
    columns = TextColumn("{task.description}"), BarColumn(), MofNCompleteColumn(), TimeRemainingColumn()
    with Progress(*columns, console=console, transient=True, disable=not console.is_terminal) as progress:
        yield from progress.track(orders, description="Checking")
