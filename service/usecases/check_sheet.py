"""Orders of a file judged one by one: for each the row of the results, which says all that is to be changed."""

import csv
import re
from collections.abc import Iterable, Sequence
from typing import TextIO

from service.documents.order_answer import Change, OrderResult, Swap
from service.usecases.check_order import check_order
from service.usecases.errors import RequestFaultsError
from service.usecases.library import Edition
from service.usecases.order_sheet import SheetOrder

COLUMNS = ("order", "verdict", "layout", "add", "remove", "swap", "price_change", "fault")
"""Of the results; the price change is in minor units of the catalog's currency."""
REFUSED = "refused"
"""Where another order has its verdict: what was written is no order that can be judged."""

Outcome = tuple[str, str, str, str, str, str, str]
"""A row of the results without the name: verdict, layout, add, remove, swap, price change, fault."""

_FORMULA = re.compile(r"\s*[=+\-@\uff1d\uff0b\uff0d\uff20]")
"""A beginning that spreadsheets take for a formula, the wide signs too; they pass over spaces."""
_NUMBER = re.compile(r"-?[0-9]+")


def outcome_of(edition: Edition, order: SheetOrder) -> Outcome:
    """Judge an order; where it cannot be asked or is refused, its faults are the last cell."""
    request = order.request()
    if request is not None:
        try:
            return _told(check_order(edition, request))
        except RequestFaultsError as error:
            order.tell(*map(order.told, error.faults))
    return refused(order.told_faults)


def refused(fault: str) -> Outcome:
    """The outcome of an order that has none but a fault."""
    return (REFUSED, "", "", "", "", "", fault)


def write_results(file: TextIO, rows: Iterable[tuple[str, Outcome]]) -> None:
    """Write the header and a row for each order, by its name; texts so that no spreadsheet takes them for formulas."""
    written = csv.writer(file, lineterminator="\n")
    written.writerow(COLUMNS)
    for name, (verdict, layout, add, remove, swap, price_change, fault) in rows:
        given = "" if verdict == REFUSED else verdict
        price = price_change if _NUMBER.fullmatch(price_change) else plain(price_change)
        written.writerow([*map(plain, (name, given, layout, add, remove, swap)), price, plain(fault)])


def plain(text: str) -> str:
    """A text as one line that a spreadsheet does not take for a formula: what cannot be seen of it becomes a space.

    A line end in a cell begins a row for readers that do not know of quotes, and what follows it may be a formula.
    """
    line = "".join(sign if sign.isprintable() else " " for sign in text)
    return f"'{line}" if _FORMULA.match(line) else line


def _told(result: OrderResult) -> Outcome:
    price = "" if result["price_change"] is None else str(result["price_change"])
    add, remove = (_listed(result["add"]), _listed(result["remove"]))
    return (result["verdict"], result["layout"] or "", add, remove, "; ".join(map(_swapped, result["swap"])), price, "")


def _listed(changes: Sequence[Change]) -> str:
    return "; ".join(f"{change['qty']} x {change['sku']}" for change in changes)


def _swapped(swap: Swap) -> str:
    place = f" at {swap['spot']}" if swap["spot"] else ""
    return f"{swap['qty']} x {swap['out']} -> {swap['in']}{place}"
