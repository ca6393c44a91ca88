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
from service.usecases.check_sheet import Outcome, outcome_of, write_results
from service.usecases.library import Edition, Library
from service.usecases.order_sheet import SheetError, SheetOrder, read_orders

app = typer.Typer(no_args_is_help=True, help="Check orders before they are sent off.")


@app.command()
@refusals_told()
def check(
    file: Annotated[
        Path, typer.Argument(help="CSV: order, chassis, sku, qty; perhaps layout, fuel, gauge, finish, sets.")
    ],
    out: Annotated[Path | None, typer.Option(help="Default: FILE with .checked before .csv.")] = None,
) -> None:
    """Check every order of a file: rows with the same `order` are one, and the results have a row for each."""
    target = out or file.with_name(f"{file.stem if file.suffix.lower() == '.csv' else file.name}.checked.csv")
    try:
        with file.open("rb") as content:
            orders = read_orders(content)
    except (SheetError, OSError) as error:
        told = error.strerror or type(error).__name__ if isinstance(error, OSError) else error
        refuse(f"FILE: {file}: {told}", ExitCode.BAD_INPUT)
    if target.exists() and target.samefile(file):
        refuse("--out: found FILE itself, expected another file", ExitCode.BAD_INPUT)
    with revision_store() as store:
        edition = Library(store).edition()
        with target.open("w", encoding="utf-8", newline="") as results:
            verdicts: Counter[str] = Counter()
            write_results(results, _judged(edition, orders, verdicts))
    counted = ", ".join(f"{count:,} {verdict}" for verdict, count in verdicts.most_common())
    noun = "1 order" if len(orders) == 1 else f"{len(orders):,} orders"
    output().print(f"{noun} checked{': ' if counted else ''}{counted}; see {target}", soft_wrap=True)
    if set(verdicts) - {"complete"}:
        raise typer.Exit(ExitCode.NO)


def _judged(edition: Edition, orders: Sequence[SheetOrder], verdicts: Counter[str]) -> Iterator[tuple[str, Outcome]]:
    """Judge the orders one by one and count the verdicts."""
    for order in _shown(orders):
        outcome = outcome_of(edition, order)
        verdicts[outcome[0]] += 1
        yield order.name, outcome


def _shown(orders: Sequence[SheetOrder]) -> Iterator[SheetOrder]:
    """Give the orders one by one, with a bar on a terminal."""
    console = errors()
    columns = TextColumn("{task.description}"), BarColumn(), MofNCompleteColumn(), TimeRemainingColumn()
    with Progress(*columns, console=console, transient=True, disable=not console.is_terminal) as progress:
        yield from progress.track(orders, description="Checking")
