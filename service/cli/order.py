"""`portwright order`: a file of orders checked, the results in a file beside it."""

import csv
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from pathlib import Path
from typing import Annotated

import typer
from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeRemainingColumn

from service.cli.console import errors, output
from service.cli.database import revision_store
from service.cli.order_sheet import SheetError, SheetOrder, read_orders
from service.cli.refusals import ExitCode, refusals_told, refuse
from service.documents.order_answer import Change, OrderResult, Swap
from service.usecases.check_order import check_order
from service.usecases.errors import RequestFaultsError
from service.usecases.library import Edition, Library

app = typer.Typer(no_args_is_help=True, help="Check orders before they are sent off.")

_COLUMNS = ("order", "verdict", "layout", "add", "remove", "swap", "price_change", "fault")
_REFUSED = "refused"


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
        orders = read_orders(file)
    except SheetError as error:
        refuse(f"FILE: {file}: {error}", ExitCode.BAD_INPUT)
    if target.exists() and target.samefile(file):
        refuse("--out: found FILE itself, expected another file", ExitCode.BAD_INPUT)
    with revision_store() as store:
        edition = Library(store).edition()
        with target.open("w", encoding="utf-8", newline="") as results:
            verdicts = _write(csv.writer(results, lineterminator="\n").writerow, edition, orders)
    counted = ", ".join(f"{count:,} {verdict}" for verdict, count in verdicts.most_common())
    noun = "1 order" if len(orders) == 1 else f"{len(orders):,} orders"
    output().print(f"{noun} checked{': ' if counted else ''}{counted}; see {target}", soft_wrap=True)
    if set(verdicts) - {"complete"}:
        raise typer.Exit(ExitCode.NO)


def _write(row: Callable[[Iterable[str]], object], edition: Edition, orders: Sequence[SheetOrder]) -> Counter[str]:
    row(_COLUMNS)
    verdicts: Counter[str] = Counter()
    for order in _shown(orders):
        result = _checked(edition, order)
        verdicts[_REFUSED if result is None else result["verdict"]] += 1
        row([order.name, *(_told(result) if result else [""] * 6), "; ".join(order.faults)])
    return verdicts


def _shown(orders: Sequence[SheetOrder]) -> Iterator[SheetOrder]:
    """Give the orders one by one, with a bar on a terminal."""
    console = errors()
    columns = TextColumn("{task.description}"), BarColumn(), MofNCompleteColumn(), TimeRemainingColumn()
    with Progress(*columns, console=console, transient=True, disable=not console.is_terminal) as progress:
        yield from progress.track(orders, description="Checking")


def _checked(edition: Edition, order: SheetOrder) -> OrderResult | None:
    """Judge an order; where it is refused the faults are added to its own."""
    request = order.request()
    if request is None:
        return None
    try:
        return check_order(edition, request)
    except RequestFaultsError as error:
        order.faults += map(order.told, error.faults)
        return None


def _told(result: OrderResult) -> list[str]:
    price = "" if result["price_change"] is None else str(result["price_change"])
    changes = (map(_changed, result["add"]), map(_changed, result["remove"]), map(_swapped, result["swap"]))
    return [result["verdict"], result["layout"] or "", *map("; ".join, changes), price]


def _changed(change: Change) -> str:
    return f"{change['qty']} x {change['sku']}"


def _swapped(swap: Swap) -> str:
    place = f" at {swap['spot']}" if swap["spot"] else ""
    return f"{swap['qty']} x {swap['out']} -> {swap['in']}{place}"
