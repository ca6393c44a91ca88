"""Orders in a CSV file: rows with the same name are one order; what is wrong with a row is told with its order.

What is kept of a file is bounded by its orders, not by its bytes: a file may be nothing but faults. So of each order as
many lines and faults are kept as help, the rest is counted.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import islice
from typing import Any, BinaryIO

from pydantic import ValidationError

from service.documents.faults import Fault, faults_of
from service.documents.order import MAX_LINES, OrderRequest
from service.documents.rendering import printable, rendered
from service.domain.work import spend
from service.usecases.errors import RequestFault
from service.usecases.sheet_cells import CellError, value_of
from service.usecases.sheet_columns import KNOWN, OF_A_LINE, REQUIRED, Columns, columns_of
from service.usecases.sheet_rows import SheetError, SheetRow, open_rows

__all__ = ["KNOWN", "MOST_TOLD", "REQUIRED", "SheetError", "SheetOrder", "read_orders"]

MOST_TOLD = 20
"""So many faults of an order, and so many rows that belong to no order, are told each for itself."""
_MOST_EXTRA = 300
_MOST_NAME = 1_000
_NO_NAME = "found nothing, expected the name of the order"
_OF_A_LINE = re.compile(r"/lines/([0-9]+)(/.*)?")


@dataclass
class SheetOrder:
    """One order of a sheet: its fields, for each of its lines the line of the file, and why it cannot be asked.

    `more_rows`, `more_faults`: how many there are beyond those that are kept. `notes`: what was read as something
    else, to be said aloud; `extra`: what stood in columns that nobody knows.
    """

    name: str
    fields: dict[str, Any] = field(default_factory=dict)
    rows: list[int] = field(default_factory=list)
    faults: list[str] = field(default_factory=list)
    more_rows: int = 0
    more_faults: int = 0
    notes: list[str] = field(default_factory=list)
    extra: dict[str, str] = field(default_factory=dict)

    def request(self) -> OrderRequest | None:
        """Return the order as it is asked, None where its faults (perhaps first found here) do not let it."""
        if self.more_rows:
            total = len(self.rows) + self.more_rows
            self.tell(f"lines: found {total:,} lines, expected at most {MAX_LINES}")
        if self.faults:
            return None
        try:
            return OrderRequest.model_validate(self.fields)
        except ValidationError as error:
            self.tell(*(self.told(fault) for fault in faults_of(error)))
            return None

    def tell(self, *faults: str) -> None:
        """Add faults, as far as they are told; the rest is counted."""
        room = max(MOST_TOLD - len(self.faults), 0)
        self.faults += faults[:room]
        self.more_faults += len(faults[room:])

    def note(self, note: str) -> None:
        """Add what is to be said aloud, once and as far as it is told."""
        if note not in self.notes and len(self.notes) < MOST_TOLD:
            self.notes.append(note)

    @property
    def told_faults(self) -> str:
        """All faults in one text."""
        return "; ".join([*self.faults, f"{self.more_faults:,} more faults"] if self.more_faults else self.faults)

    def told(self, fault: Fault | RequestFault) -> str:
        """Word a fault of the request by the place in the file that it comes from."""
        place = fault.pointer.removeprefix("/").replace("/", " ")
        if match := _OF_A_LINE.fullmatch(fault.pointer):
            place = f"line {self.rows[int(match[1])]}" + (match[2] or "").replace("/", ", ")
        nearest = fault.nearest if isinstance(fault, RequestFault) else ()
        alike = f" (nearest: {', '.join(nearest)})" if nearest else ""
        return f"{place}: found {printable(fault.found)}, expected {fault.expected}{alike}"


def read_orders(file: BinaryIO, most: int | None = None) -> list[SheetOrder]:
    """Read the orders of a file in the order of their first rows; how the file was read is noted with the first.

    A row that cannot be read at all, or names no order, stands as an order without a name; where there are many such
    rows, the last of these counts the rest. Raises SheetError for what is no table, for a header that lacks a column,
    and for more orders than `most`; OSError.
    """
    opened = open_rows(file)
    columns = columns_of(opened.header)
    orders = _gathered(columns, opened.rows, most)
    for order in orders[:1]:
        order.notes = [*opened.notes, *columns.notes, *order.notes]
    return orders


class _Gathering:
    """Orders by their names, and the rows that belong to none."""

    def __init__(self, most: int | None) -> None:
        self.orders: list[SheetOrder] = []
        self._by_name: dict[str, SheetOrder] = {}
        self._strays = 0
        self._rest = SheetOrder("", faults=["these rows belong to no order"])
        self._most = most

    def of(self, name: str) -> SheetOrder:
        """Give the order of a name. Raises SheetError where there are too many."""
        order = self._by_name.get(name)
        if order is None:
            order = self._by_name[name] = SheetOrder(name)
            self._add(order)
        return order

    def stray(self, fault: str) -> None:
        """Add a row that belongs to no order, for this reason."""
        self._strays += 1
        if self._strays <= MOST_TOLD:
            self._add(SheetOrder("", faults=[fault]))
            return
        if self._strays == MOST_TOLD + 1:
            self._add(self._rest)
        self._rest.more_faults += 1

    def _add(self, order: SheetOrder) -> None:
        self.orders.append(order)
        if self._most is not None and len(self.orders) > self._most:
            raise SheetError(f"found more than {self._most:,} orders, expected at most {self._most:,}")


def _gathered(columns: Columns, rows: Iterator[SheetRow], most: int | None) -> list[SheetOrder]:
    gathering = _Gathering(most)
    width = len(columns.names)
    extra = {columns.names[place]: "" for place in columns.extra}
    for row in rows:
        spend(1, "order")
        cells = [text.strip() for text in islice(row.cells, width)]
        if row.fault or not any(map(str.strip, row.cells)):
            if row.fault:
                gathering.stray(row.fault)
            continue
        told = {name: cell for name, cell in zip(columns.names, cells, strict=False) if cell}
        name = told.pop("order", "")
        if not name or len(name) > _MOST_NAME:
            found = f"found {len(name):,} characters, expected at most {_MOST_NAME:,}" if name else _NO_NAME
            gathering.stray(f"line {row.line}: order: {found}")
            continue
        order = gathering.of(name)
        order.extra = order.extra or dict(extra)
        if any(map(str.strip, islice(row.cells, width, None))):
            order.tell(f"line {row.line}: found {len(row.cells)} cells, expected {width} as in the first line")
        _take(order, row.line, told)
    return gathering.orders


def _take(order: SheetOrder, line: int, told: dict[str, str]) -> None:
    """Add a row to its order; what an order has once may stand in any of its rows, but not in two ways."""
    values = _values(order, line, told)
    for name, value in values.items():
        if name not in OF_A_LINE and order.fields.setdefault(name, value) != value:
            first = rendered(order.fields[name])
            order.tell(f"line {line}, {name}: found {rendered(value)}, expected {first} as before in this order")
    for name in order.extra:
        _keep_extra(order, name, told.get(name, ""))
    if len(order.rows) == MAX_LINES:
        order.more_rows += 1
        return
    order.rows.append(line)
    order.fields.setdefault("lines", []).append({name: values[name] for name in OF_A_LINE if name in values})


def _values(order: SheetOrder, line: int, told: dict[str, str]) -> dict[str, object]:
    """The cells of a row as values; those that are none are told."""
    values: dict[str, object] = {}
    for name, text in told.items():
        if name not in KNOWN:
            continue
        try:
            values[name] = value_of(name, text)
        except CellError as error:
            order.tell(f"line {line}, {name}: found {rendered(text)}, expected {error}")
    return values


def _keep_extra(order: SheetOrder, name: str, text: str) -> None:
    """Keep what a row has in a column that nobody knows, once and not without end."""
    kept = order.extra[name]
    if text and text not in kept.split("; ") and len(kept) + len(text) < _MOST_EXTRA:
        order.extra[name] = f"{kept}; {text}" if kept else text
