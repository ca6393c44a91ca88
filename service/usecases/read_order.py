"""Read an order as somebody wrote it: which parts are sure, and what is to be asked."""

from service.documents.money import money_of
from service.documents.nearest import nearest
from service.documents.order_reading import OrderText, ReadLine, ReadOrder
from service.domain.work import spend
from service.reading.orders import LONGEST_ROW, MOST_ROWS, OrderReader, Reading, rows_in
from service.reading.orders import ReadLine as Line
from service.usecases.errors import RequestFault, RequestFaultsError
from service.usecases.library import Edition, Library
from service.usecases.long_work import begin_long_work

_STEPS_A_ROW = 20
_MOST_AT_ONCE = 300
"""Rows: a row takes some 0.2 to 1 ms."""


def read_order(library: Library, asked: OrderText) -> ReadOrder:
    """The lines of an order by the words of a revision.

    Raises RequestFaultsError for an unknown car or revision and for too many rows, NoCatalogError.
    """
    return read_in(library.edition_for(asked.revision), asked)


def read_in(edition: Edition, asked: OrderText) -> ReadOrder:
    """The lines of an order by the words of an edition. Raises RequestFaultsError."""
    chassis = edition.revision.chassis
    if asked.chassis is not None and asked.chassis not in chassis:
        alike = tuple(nearest(asked.chassis, chassis))
        raise RequestFaultsError(
            (RequestFault("/chassis", asked.chassis, "the id of a chassis of this revision", alike),)
        )
    rows = rows_in(asked.text)
    if len(rows) > MOST_ROWS:
        fault = RequestFault("/text", f"{len(rows):,} rows", f"at most {MOST_ROWS:,} rows")
        raise RequestFaultsError((fault,))
    reading = reading_of(edition, asked.text)
    fitting = None if asked.chassis is None or reading.is_sure else edition.skus_fitting(chassis[asked.chassis])
    return told(edition, reading, fitting)


def reading_of(edition: Edition, text: str) -> Reading:
    """What is read of a text by the words of an edition, as counted work."""
    rows = len(rows_in(text))
    if rows > _MOST_AT_ONCE:
        begin_long_work()
    spend(_STEPS_A_ROW * rows, "order")
    return edition.order_reader.read(text)


def told(edition: Edition, reading: Reading, fitting: set[str] | None = None) -> ReadOrder:
    """A reading as the API tells it; of candidates, those that fit come first."""
    reader: OrderReader = edition.order_reader
    total = reader.total(reading)
    return {
        "revision": edition.number,
        "lines": [_line(line, fitting) for line in reading.lines],
        "unread": [{"row": row, "text": text[:LONGEST_ROW]} for row, text in reading.unread],
        "total": None if total is None else {"price": total, **money_of(edition.revision)},
    }


def _line(line: Line, fitting: set[str] | None) -> ReadLine:
    candidates = line.candidates
    if fitting is not None and not line.sure:
        candidates = tuple(sorted(candidates, key=lambda one: one.sku not in fitting))
    return {
        "row": line.row,
        "text": line.text[:LONGEST_ROW],
        "sku": line.sku,
        "qty": line.qty,
        "sure": line.sure,
        "asks": line.asks,
        "candidates": [
            {"sku": one.sku, "name": one.name, "qty": one.qty, "likeness": one.likeness} for one in candidates
        ],
    }
