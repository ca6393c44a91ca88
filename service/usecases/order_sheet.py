"""Orders in a CSV file: rows with the same name are one order; what is wrong with a row is told with its order.

What is kept of a file is bounded by its orders, not by its bytes: a file may be nothing but faults. So of each order as
many lines and faults are kept as help, the rest is counted.
"""

import csv
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from io import TextIOWrapper
from itertools import chain, islice
from typing import Any, BinaryIO

from pydantic import ValidationError

from service.documents.faults import Fault, faults_of
from service.documents.nearest import nearest_words
from service.documents.order import MAX_LINES, OrderRequest
from service.documents.rendering import printable, rendered
from service.domain.work import spend
from service.usecases.errors import RequestFault

_APART = ",;\t"
"""Spreadsheets of many countries write semicolons."""
REQUIRED = ("order", "chassis", "sku", "qty")
_ONCE_AN_ORDER = ("chassis", "layout", "fuel", "gauge", "finish", "sets")
KNOWN = ("order", "chassis", "layout", "sku", "qty", "fuel", "gauge", "finish", "sets")
_NUMBERS = {"qty", "sets"}
_NUMBER = re.compile(r"([+-]?[0-9]{1,9})(\.0+)?")
MOST_TOLD = 20
"""So many faults of an order, and so many rows that belong to no order, are told each for itself."""
_MOST_COLUMNS = 50
_MOST_LINE = 20_000
"""So many characters a line of the file may have."""
_MOST_NAME = 1_000
_NO_NAME = "found nothing, expected the name of the order"
_OF_A_LINE = re.compile(r"/lines/([0-9]+)(/.*)?")


class SheetError(Exception):
    """The file cannot be read as orders at all."""


@dataclass
class SheetOrder:
    """One order of a sheet: its fields, for each of its lines the line of the file, and why it cannot be asked.

    `more_rows`, `more_faults`: how many there are beyond those that are kept.
    """

    name: str
    fields: dict[str, Any] = field(default_factory=dict)
    rows: list[int] = field(default_factory=list)
    faults: list[str] = field(default_factory=list)
    more_rows: int = 0
    more_faults: int = 0

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
    """Read the orders of a file in the order of their first rows; cells stand apart by what the first line uses.

    A row that cannot be read at all, or names no order, stands as an order without a name; where there are many such
    rows, the last of these counts the rest. Raises SheetError for what is no CSV in UTF-8, for a header with other
    columns than are known, and for more orders than `most`; OSError.
    """
    lines = TextIOWrapper(file, encoding="utf-8-sig", newline="")
    try:
        first = next(_bounded(lines), "")
        apart = max(_APART, key=first.count)
        if first.count(apart) >= _MOST_COLUMNS:
            raise SheetError(f"the first line has more than {_MOST_COLUMNS} columns; known are {', '.join(KNOWN)}")
        rows = _rows(csv.reader(chain([first], _bounded(lines, 2)), strict=True, delimiter=apart))
        _, header, _ = next(rows, (1, [], ""))
        return _gathered(_checked(header), rows, most)
    except UnicodeDecodeError:
        raise SheetError("found bytes that are not UTF-8, expected a CSV file in UTF-8") from None
    finally:
        lines.detach()


def _bounded(lines: TextIOWrapper, number: int = 1) -> Iterator[str]:
    """Yield the lines of a file, the first of which has this number. Raises SheetError for one that is too long."""
    while line := lines.readline(_MOST_LINE + 1):
        if len(line) > _MOST_LINE:
            raise SheetError(f"line {number} has more than {_MOST_LINE:,} characters")
        yield line
        number += 1


def _rows(reader: Any) -> Iterator[tuple[int, list[str], str]]:
    """Yield each row with the line it begins in; where it cannot be read, why. A bad row does not end the reading."""
    while True:
        line = reader.line_num + 1
        try:
            yield line, next(reader), ""
        except StopIteration:
            return
        except csv.Error as error:
            yield line, [], f"line {line}: found {error}, expected cells in commas, quotes closed"


def _checked(cells: Sequence[str]) -> list[str]:
    header = [cell.strip().lower() for cell in cells]
    while header and not header[-1]:
        header.pop()
    missing = [name for name in REQUIRED if name not in header]
    unknown = [name for name in header if name not in KNOWN]
    if missing and not unknown:
        raise SheetError(f"the first line lacks {', '.join(missing)}; expected a header of {', '.join(KNOWN)}")
    if unknown:
        told = "; ".join(rendered(name) + nearest_words(name, KNOWN) for name in unknown)
        raise SheetError(f"the first line has columns that are not known: {told}. Known are {', '.join(KNOWN)}")
    doubled = [name for name in KNOWN if header.count(name) > 1]
    if doubled:
        raise SheetError(f"the first line has {', '.join(doubled)} more than once")
    return header


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


def _gathered(header: list[str], rows: Iterator[tuple[int, list[str], str]], most: int | None) -> list[SheetOrder]:
    gathering = _Gathering(most)
    for line, texts, fault in rows:
        spend(1, "order")
        cells = [text.strip() for text in islice(texts, len(header))]
        if fault or not any(map(str.strip, texts)):
            if fault:
                gathering.stray(fault)
            continue
        told = {name: cell for name, cell in zip(header, cells, strict=False) if cell}
        name = told.pop("order", "")
        if not name or len(name) > _MOST_NAME:
            found = f"found {len(name):,} characters, expected at most {_MOST_NAME:,}" if name else _NO_NAME
            gathering.stray(f"line {line}: order: {found}")
            continue
        order = gathering.of(name)
        if any(map(str.strip, islice(texts, len(header), None))):
            order.tell(f"line {line}: found {len(texts)} cells, expected {len(header)} as in the first line")
        _take(order, line, told)
    return gathering.orders


def _take(order: SheetOrder, line: int, told: dict[str, str]) -> None:
    """Add a row to its order; what an order has once may stand in any of its rows, but not in two ways."""
    for name in _ONCE_AN_ORDER:
        if name in told:
            value = _value(name, told[name])
            if order.fields.setdefault(name, value) != value:
                first = rendered(order.fields[name])
                order.tell(f"line {line}, {name}: found {rendered(value)}, expected {first} as before in this order")
    if len(order.rows) == MAX_LINES:
        order.more_rows += 1
        return
    order.rows.append(line)
    order.fields.setdefault("lines", []).append(
        {name: _value(name, told[name]) for name in ("sku", "qty") if name in told}
    )


def _value(name: str, text: str) -> object:
    match = _NUMBER.fullmatch(text) if name in _NUMBERS else None
    return int(match[1]) if match else text
