"""The same parts and quantities as a file in every form that spreadsheets write, uploaded or pasted: read the same."""

import csv
import io
from contextlib import suppress
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st
from openpyxl import Workbook

from service.usecases.order_sheet import read_orders
from service.usecases.sheet_rows import SheetError
from tests.reading.catalogs import ODD_PARTS, READERS, SEED_PARTS

ENCODINGS = ("utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "cp1252")
HEADERS = (
    ("order", "chassis", "sku", "qty"),
    ("Order no", "Car", "Part number", "Q'ty"),
    ("PO", "Vehicle", "Article", "Menge"),
)
ORDERS = st.lists(st.tuples(st.sampled_from(SEED_PARTS + ODD_PARTS), st.integers(1, 1000)), min_size=1, max_size=8)


def as_csv(rows: list[list[str]], apart: str, ends: str, quoting: Any, *, is_said: bool) -> str:
    written = io.StringIO()
    csv.writer(written, delimiter=apart, lineterminator=ends, quoting=quoting).writerows(rows)
    return (f"sep={apart}{ends}" if is_said else "") + written.getvalue()


@settings(max_examples=60, deadline=None)
@given(
    ORDERS,
    st.sampled_from(HEADERS),
    st.sampled_from(ENCODINGS),
    st.sampled_from(",;\t"),
    st.sampled_from(("\n", "\r\n")),
    st.sampled_from((csv.QUOTE_MINIMAL, csv.QUOTE_ALL)),
    st.booleans(),
)
def test_a_file_is_read_the_same_in_every_form(
    order: Any, header: Any, encoding: str, apart: str, ends: str, quoting: Any, is_said: bool
) -> None:
    rows = [list(header), *(["A-1", "car", part.sku, str(qty)] for part, qty in order)]
    raw = as_csv(rows, apart, ends, quoting, is_said=is_said).encode(encoding)
    assert told(raw) == [(part.sku, qty) for part, qty in order]


@settings(max_examples=15, deadline=None)
@given(ORDERS, st.sampled_from(HEADERS), st.booleans())
def test_a_workbook_is_read_the_same(order: Any, header: Any, are_numbers: bool) -> None:
    book = Workbook()
    sheet = book.worksheets[0]
    sheet.append(list(header))
    for part, qty in order:
        sheet.append(["A-1", "car", part.sku, qty if are_numbers else str(qty)])
    written = io.BytesIO()
    book.save(written)
    assert told(written.getvalue()) == [(part.sku, qty) for part, qty in order]


def told(raw: bytes) -> list[tuple[object, object]]:
    """The parts and quantities of the only order of a file."""
    [order] = read_orders(io.BytesIO(raw))
    return [(line["sku"], line["qty"]) for line in order.fields["lines"]]


@settings(max_examples=60, deadline=None)
@given(
    st.sampled_from((("seed", SEED_PARTS), ("odd", ODD_PARTS))).flatmap(
        lambda one: st.tuples(
            st.just(one[0]),
            st.lists(st.tuples(st.sampled_from(one[1]), st.integers(1, 1000)), min_size=1, max_size=8),
        )
    ),
    st.sampled_from(";\t|"),
    st.sampled_from((("sku", "qty"), ("Artikel", "Menge"), ("Part no.", "Quantity"))),
    st.sampled_from((csv.QUOTE_MINIMAL, csv.QUOTE_ALL)),
    st.booleans(),
)
def test_a_pasted_table_is_read_the_same(order: Any, apart: str, header: Any, quoting: Any, is_behind: bool) -> None:
    """With its header: so even a part is sure whose SKU looks like a quantity; what is asked back names the part."""
    catalog, lines = order
    rows = [list(header), *([part.sku, str(qty)] for part, qty in lines)]
    text = as_csv(rows if is_behind else [row[::-1] for row in rows], apart, "\n", quoting, is_said=False)
    reading = READERS[catalog].read(text)
    assert len(reading.lines) == len(lines)
    for line, (part, qty) in zip(reading.lines, lines, strict=True):
        if line.sure:
            assert (line.sku, line.qty) == (part.sku, qty)
        else:  # a name whose figure makes another part's beside the quantity
            assert catalog == "odd"
            assert part.sku in {one.sku for one in line.candidates}


@settings(max_examples=80, deadline=None)
@given(
    st.one_of(
        st.binary(max_size=300), st.text(max_size=200).map(lambda text: f"order,chassis,sku,qty\n{text}".encode())
    )
)
def test_any_bytes_are_orders_or_no_table(raw: bytes) -> None:
    with suppress(SheetError):
        assert all(order.request() is not None or order.told_faults for order in read_orders(io.BytesIO(raw)))
