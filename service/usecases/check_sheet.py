"""Orders of a file judged one by one: for each the row of the results, which says all that is to be changed."""

import csv
import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import asdict, dataclass, fields
from itertools import chain
from typing import Any, BinaryIO, TextIO

from service.documents.order_answer import Change, FromElsewhere, OrderResult, StockLine, Swap
from service.documents.rendering import rendered
from service.usecases.check_order import check_order
from service.usecases.errors import NotFoundError, RequestFaultsError
from service.usecases.library import Edition, Library
from service.usecases.order_sheet import SheetOrder
from service.usecases.recall_bill import edition_of_key, held_by
from service.usecases.sheet_columns import INSTEAD_OF_A_CAR
from service.usecases.sheet_names import amount, resolve_names

REFUSED = "refused"
"""Where another order has its verdict: what was written is no order that can be judged."""

_FORMULA = re.compile(r"\s*[=+\-@\uff1d\uff0b\uff0d\uff20]")
"""A beginning that spreadsheets take for a formula, the wide signs too; they pass over spaces."""
_NUMBER = re.compile(r"-?[0-9]+(\.[0-9]+)?")
_MOST_REASONS = 2_000
_MOST_CELL = 32_000
"""Characters: a cell of a workbook holds 32,767."""


@dataclass(frozen=True)
class Outcome:
    """What is said of an order, each as one text; `price_change` in the currency's own units; `tax`: net, where it
    comes on top of that, or gross.

    `changes`: how many pieces change, a swap as one; `ships_now`: whole sets that are in stock, `rest_days`: days until
    the others can follow, `short`: what there is too little of.
    """

    verdict: str
    layout: str = ""
    add: str = ""
    remove: str = ""
    swap: str = ""
    elsewhere: str = ""
    price_change: str = ""
    currency: str = ""
    reasons: str = ""
    fault: str = ""
    notes: str = ""
    changes: str = ""
    ships_now: str = ""
    rest_days: str = ""
    short: str = ""
    tax: str = ""


COLUMNS = ("order", *(field.name for field in fields(Outcome)))
"""Of the results; after them the file's own columns that nobody knows."""
_NUMBERS = ("price_change", "changes", "ships_now", "rest_days")
_BEFORE = ("verdict", "layout", "add", "remove", "swap", "price_change", "fault")
"""How outcomes were kept that are older than their other columns."""

Judged = tuple[SheetOrder, Outcome]


def outcome_of(edition: Edition, order: SheetOrder, library: Library | None = None) -> Outcome:
    """Judge an order; where it cannot be asked or is refused, its faults are told.

    `library`: where the edition of a bill is found whose key an order tells; without one, keys are of this edition.
    """
    try:
        edition = _edition_of(edition, order, library)
        resolve_names(edition, order)
        request = order.request()
        if request is not None:
            return _told(check_order(edition, request), order)
    except NotFoundError as error:
        order.tell(f"{INSTEAD_OF_A_CAR}: found {rendered(error.value)}, expected the key of a known {error.kind}")
    except RequestFaultsError as error:
        order.tell(*map(order.told, error.faults))
    return Outcome(REFUSED, fault=order.told_faults, notes="; ".join(order.notes))


def _edition_of(edition: Edition, order: SheetOrder, library: Library | None) -> Edition:
    """The edition that judges an order: that of its key, if it tells one. Raises NotFoundError."""
    key = order.fields.get(INSTEAD_OF_A_CAR)
    if not isinstance(key, str):
        return edition
    if library is not None:
        return edition_of_key(library, key)
    if held_by(key).revision != edition.number:
        raise NotFoundError("bill", key)
    return edition


def refused(fault: str) -> Outcome:
    """The outcome of an order that has none but a fault."""
    return Outcome(REFUSED, fault=fault)


def kept_outcome(plain: Any) -> Outcome:
    """An outcome as it was kept: its fields, or of older ones the list of their texts."""
    return Outcome(**(plain if isinstance(plain, dict) else dict(zip(_BEFORE, plain, strict=True))))


def write_results(file: TextIO, judged: Iterable[Judged]) -> None:
    """Write the header and a row for each order; texts so that no spreadsheet takes them for formulas."""
    csv.writer(file, lineterminator="\n").writerows(
        [cell if _NUMBER.fullmatch(cell) else plain(cell) for cell in row] for row in _table(judged)
    )


def write_workbook(file: BinaryIO, judged: Iterable[Judged]) -> None:
    """Write the same as a workbook (XLSX): amounts as numbers, all else as text, whatever it begins with."""
    from openpyxl import Workbook  # here, as it takes a tenth of every start
    from openpyxl.cell import WriteOnlyCell

    book = Workbook(write_only=True)
    sheet = book.create_sheet("orders")
    for number, row in enumerate(_table(judged)):
        cells = []
        for name, text in zip(chain(COLUMNS, row[len(COLUMNS) :]), row, strict=True):
            is_amount = number > 0 and name in _NUMBERS and _NUMBER.fullmatch(text)
            cell = WriteOnlyCell(sheet, float(text) if is_amount else _line(text)[:_MOST_CELL])
            if not is_amount:
                cell.data_type = "s"
            cells.append(cell)
        sheet.append(cells)
    book.save(file)


def _table(judged: Iterable[Judged]) -> Iterator[list[str]]:
    """Yield the header and the rows of the results."""
    rows = iter(judged)
    first = next(rows, None)
    extra = () if first is None else tuple(first[0].extra)
    yield [*COLUMNS, *extra]
    for order, outcome in chain([] if first is None else [first], rows):
        yield [order.name, *map(str, asdict(outcome).values()), *(order.extra.get(name, "") for name in extra)]


def plain(text: str) -> str:
    """A text as one line that a spreadsheet does not take for a formula: what cannot be seen of it becomes a space.

    A line end in a cell begins a row for readers that do not know of quotes, and what follows it may be a formula.
    """
    line = _line(text)
    return f"'{line}" if _FORMULA.match(line) else line


def _line(text: str) -> str:
    return "".join(sign if sign.isprintable() else " " for sign in text)


def _told(result: OrderResult, order: SheetOrder) -> Outcome:
    change, edits, ships = result["price_change"], result.get("edits"), result.get("ships")
    return Outcome(
        verdict=result["verdict"],
        layout=result["layout"] or "",
        add=_listed(result["add"]),
        remove=_listed(result["remove"]),
        swap="; ".join(map(_swapped, result["swap"])),
        elsewhere=_listed(result.get("elsewhere", [])),
        price_change="" if change is None else amount(change, result["currency"]),
        currency=result["currency"],
        tax=result["tax"] or "",
        reasons=" ".join(_reasons(result))[:_MOST_REASONS],
        notes="; ".join(order.notes),
        changes="" if edits is None else str(edits),
        ships_now="" if ships is None else str(ships["now"]),
        rest_days="" if ships is None else str(ships["rest_days"]),
        short=_short(result.get("stock", [])),
    )


def _short(stock: Sequence[StockLine]) -> str:
    """What there is too little of, with the days until it comes."""
    return "; ".join(f"{one['short']} x {one['sku']} in {one['rest_days']} days" for one in stock if one["short"])


def _reasons(result: OrderResult) -> Iterator[str]:
    yield from (reason["text"] for reason in result["reasons"])
    for change in (*result["add"], *result["remove"]):
        yield f"{change['sku']}: {change['why']}"
    yield from (f"{swap['out']}: {swap['why']}" for swap in result["swap"])
    yield from (f"{note['sku']}: {note['text']}" for note in (*result["notes"], *result["extras"]))


def _listed(changes: Sequence[Change] | Sequence[FromElsewhere]) -> str:
    return "; ".join(f"{change['qty']} x {change['sku']}" for change in changes)


def _swapped(swap: Swap) -> str:
    place = f" at {swap['spot']}" if swap["spot"] else ""
    return f"{swap['qty']} x {swap['out']} -> {swap['in']}{place}"
