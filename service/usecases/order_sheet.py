"""Orders in a CSV file: rows with the same name are one order; what is wrong with a row is told with its order."""

import csv
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from io import TextIOWrapper
from itertools import chain
from typing import Any, BinaryIO

from pydantic import ValidationError

from service.documents.faults import Fault, faults_of
from service.documents.nearest import nearest_words
from service.documents.order import OrderRequest
from service.documents.rendering import printable, rendered
from service.usecases.errors import RequestFault

_APART = ",;\t"
"""Spreadsheets of many countries write semicolons."""
REQUIRED = ("order", "chassis", "sku", "qty")
_ONCE_AN_ORDER = ("chassis", "layout", "fuel", "gauge", "finish", "sets")
KNOWN = ("order", "chassis", "layout", "sku", "qty", "fuel", "gauge", "finish", "sets")
_NUMBERS = {"qty", "sets"}
_NUMBER = re.compile(r"([+-]?[0-9]{1,9})(\.0+)?")
_OF_A_LINE = re.compile(r"/lines/([0-9]+)(/.*)?")


class SheetError(Exception):
    """The file cannot be read as orders at all."""


@dataclass
class SheetOrder:
    """One order of a sheet: its fields, for each of its lines the line of the file, and why it cannot be asked."""

    name: str
    fields: dict[str, Any] = field(default_factory=dict)
    rows: list[int] = field(default_factory=list)
    faults: list[str] = field(default_factory=list)

    def request(self) -> OrderRequest | None:
        """Return the order as it is asked, None where its faults (perhaps first found here) do not let it."""
        if self.faults:
            return None
        try:
            return OrderRequest.model_validate(self.fields)
        except ValidationError as error:
            self.faults += [self.told(fault) for fault in faults_of(error)]
            return None

    def told(self, fault: Fault | RequestFault) -> str:
        """Word a fault of the request by the place in the file that it comes from."""
        place = fault.pointer.removeprefix("/").replace("/", " ")
        if match := _OF_A_LINE.fullmatch(fault.pointer):
            place = f"line {self.rows[int(match[1])]}" + (match[2] or "").replace("/", ", ")
        nearest = fault.nearest if isinstance(fault, RequestFault) else ()
        alike = f" (nearest: {', '.join(nearest)})" if nearest else ""
        return f"{place}: found {printable(fault.found)}, expected {fault.expected}{alike}"


def read_orders(file: BinaryIO) -> list[SheetOrder]:
    """Read the orders of a file in the order of their first rows; cells stand apart by what the first line uses.

    A row that cannot be read at all, or names no order, stands as an order without a name. Raises SheetError for what
    is no CSV in UTF-8, and for a header with other columns than are known; OSError.
    """
    lines = TextIOWrapper(file, encoding="utf-8-sig", newline="")
    try:
        first = lines.readline()
        apart = max(_APART, key=first.count)
        rows = _rows(csv.reader(chain([first], lines), strict=True, delimiter=apart))
        _, header, _ = next(rows, (1, [], ""))
        return _gathered(_checked(header), rows)
    except UnicodeDecodeError:
        raise SheetError("found bytes that are not UTF-8, expected a CSV file in UTF-8") from None
    finally:
        lines.detach()


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


def _gathered(header: list[str], rows: Iterator[tuple[int, list[str], str]]) -> list[SheetOrder]:
    orders: list[SheetOrder] = []
    by_name: dict[str, SheetOrder] = {}
    for line, texts, fault in rows:
        cells = [text.strip() for text in texts]
        if fault or not any(cells):
            orders += [SheetOrder("", faults=[fault])] if fault else []
            continue
        told = {name: cell for name, cell in zip(header, cells, strict=False) if cell}
        name = told.pop("order", "")
        order = by_name.get(name) if name else None
        if order is None:
            order = by_name[name] = SheetOrder(name)
            orders.append(order)
        if not name:
            order.faults.append(f"line {line}: order: found nothing, expected the name of the order")
        if any(cells[len(header) :]):
            order.faults.append(f"line {line}: found {len(cells)} cells, expected {len(header)} as in the first line")
        _take(order, line, told)
    return orders


def _take(order: SheetOrder, line: int, told: dict[str, str]) -> None:
    """Add a row to its order; what an order has once may stand in any of its rows, but not in two ways."""
    for name in _ONCE_AN_ORDER:
        if name in told:
            value = _value(name, told[name])
            if order.fields.setdefault(name, value) != value:
                first = rendered(order.fields[name])
                order.faults.append(
                    f"line {line}, {name}: found {rendered(value)}, expected {first} as before in this order"
                )
    order.rows.append(line)
    order.fields.setdefault("lines", []).append(
        {name: _value(name, told[name]) for name in ("sku", "qty") if name in told}
    )


def _value(name: str, text: str) -> object:
    match = _NUMBER.fullmatch(text) if name in _NUMBERS else None
    return int(match[1]) if match else text
