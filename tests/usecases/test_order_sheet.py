"""Files of orders: what is kept of them is bounded, whatever stands in them, and their results are no formulas."""

import csv
import io
import json
import re
import tracemalloc
from dataclasses import asdict
from unicodedata import category

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from service.documents.order import MAX_LINES
from service.usecases.check_sheet import COLUMNS, Outcome, outcome_of, plain, refused, write_results
from service.usecases.library import Edition
from service.usecases.order_sheet import MOST_TOLD, SheetError, SheetOrder, read_orders
from tests.support.builders import HOSE
from tests.support.engine import answer_from
from tests.support.growth import assert_linear

HEADER = "order,chassis,sku,qty\n"
MUCH_BYTES = 700_000
FORMULAS = "=+-@\uff1d\uff0b\uff0d\uff20"


def read(text: str, most: int | None = None) -> list[SheetOrder]:
    return read_orders(io.BytesIO(text.encode()), most)


def filled(row: str, size: int = MUCH_BYTES) -> str:
    return HEADER + row * (size // len(row))


def kept_bytes(orders: list[SheetOrder]) -> int:
    return sum(len(json.dumps(asdict(order))) for order in orders)


def test_rows_without_an_order_are_told_up_to_a_number() -> None:
    """The rest is counted with the last."""
    orders = read(filled(",b,c,1\n"))
    rows = MUCH_BYTES // len(",b,c,1\n")
    assert [order.name for order in orders] == [""] * (MOST_TOLD + 1)
    assert orders[0].faults == ["line 2: order: found nothing, expected the name of the order"]
    assert orders[-1].told_faults == f"these rows belong to no order; {rows - MOST_TOLD:,} more faults"
    assert kept_bytes(orders) < 10_000


def test_lines_of_an_order_are_kept_up_to_a_number(edition: Edition) -> None:
    """The order is refused with how many there are."""
    [order] = read(filled("A,brook,RAIL-S,1\n", 50_000 * 17))
    assert len(order.rows) == len(order.fields["lines"]) == MAX_LINES
    assert kept_bytes([order]) < 20_000
    assert outcome_of(edition, order).fault == f"lines: found 50,000 lines, expected at most {MAX_LINES}"


def test_faults_of_an_order_are_told_up_to_a_number(edition: Edition) -> None:
    """Those that are seen in reading and those that are found later."""
    [order] = read(filled("A,brook,RAIL-S,1,x\n", 30_000))
    assert len(order.faults) == MOST_TOLD
    assert len(outcome_of(edition, order).fault) < 4_000
    [order] = read(HEADER + "A,brook,RAIL-S,many\n" * 100)
    told = outcome_of(edition, order).fault
    assert told.count("expected a whole number") == MOST_TOLD
    assert told.endswith("; 80 more faults")


_HOSTILE = {
    "two million commas": ("," * 2_000_000, "line 1 has more than"),
    "columns": ("," * 200 + "\n", "more than 50 columns"),
    "semicolons": (";" * 200 + "\n", "more than 50 columns"),
    "a long header": ("x" * 2_000_000 + "\n", "line 1 has more than"),
    "a long line": (HEADER + "A,brook,RAIL-S," + "1" * 2_000_000, "line 2 has more than"),
    "a long line of cells": (HEADER + "A,brook,RAIL-S,1" + "," * 2_000_000, "line 2 has more than"),
    "too many orders": (HEADER + "".join(f"{n},b,c,1\n" for n in range(300_000)), "more than 5,000 orders"),
}


@pytest.mark.parametrize("name", list(_HOSTILE))
def test_a_file_that_is_no_table_of_orders_is_refused_in_few_words(name: str) -> None:
    text, told = _HOSTILE[name]
    with pytest.raises(SheetError, match=told) as refused_:
        read(text, 5_000)
    assert len(str(refused_.value)) < 300


def test_a_long_name_is_no_name() -> None:
    """Nor is one of many lines in quotes."""
    for row in (f"{'n' * 1_001},b,c,1\n", '"' + "n\n" * 600 + '",b,c,1\n'):
        [order] = read(HEADER + row)
        assert order.faults[0].startswith("line 2: order: found 1,")
        assert order.name == ""


def test_what_one_file_takes_is_bounded() -> None:
    """Of memory, beside the file itself: no more for a file of twice the size."""
    for row in (",b,c,1\n", "A,b,c,1\n", '"\n', "A,b,c,1,,,,,,,,,,,,\n"):
        raw = io.BytesIO(filled(row, 100_000).encode())
        tracemalloc.start()
        read_orders(raw, 5_000)
        _, most = tracemalloc.get_traced_memory()
        tracemalloc.stop()
        assert most < 1_000_000


@pytest.mark.parametrize(
    "row",
    [",b,c,1\n", "A,b,c,1\n", '"A,b,c,1\n', "A,b,c,1,x\n", "\n", '""""\n'],
    ids=lambda row: row.strip() or "blank",
)
def test_reading_is_linear(row: str) -> None:
    assert_linear(lambda raw: read_orders(io.BytesIO(raw), 5_000), lambda size: filled(row, size).encode(), 100_000)


def test_writing_is_linear() -> None:
    def write(names: list[str]) -> None:
        write_results(io.StringIO(), ((SheetOrder(name), refused("no")) for name in names))

    assert_linear(write, lambda size: [f"=\t{n}" for n in range(size)], 2_000)


_TEXTS = st.text() | st.text(alphabet="=+-@\t\r\n ,;\"'a1\x00\x0b\x85\u2028\ufeff\u200b\uff1d", max_size=8)


@given(st.lists(st.tuples(_TEXTS, _TEXTS, _TEXTS), min_size=1, max_size=5))
@example([("z\r=1+1", "\r=1", "\ufeff=1")])
@example([("\u2028=1+1", "\x0b=1", "\t@x")])
def test_results_read_back_row_by_row_and_hold_no_formula(texts: list[tuple[str, str, str]]) -> None:
    """Any reader: one that knows of quotes, and one that takes each line end for the end of a row."""
    written = io.StringIO()
    rows = [
        (SheetOrder(name), Outcome("short", layout, price_change="-18.00", fault=fault))
        for name, layout, fault in texts
    ]
    write_results(written, rows)
    assert len(written.getvalue().splitlines()) == len(texts) + 1
    read_back = list(csv.reader(io.StringIO(written.getvalue(), newline=""), strict=True))
    assert len(read_back) == len(texts) + 1
    for row in read_back[1:]:
        assert len(row) == len(COLUMNS)
        assert row.pop(COLUMNS.index("price_change")) == "-18.00"
        for cell in row:
            bare = cell.lstrip("".join(sign for sign in cell if category(sign)[0] in "CZ"))
            assert not bare.startswith(tuple(FORMULAS)) or re.fullmatch(r"-[0-9.]+", cell)


def test_plain_texts_stay_as_they_are() -> None:
    for text in ("A-1", "1 x RAIL-S", "Gro\u00df, \u540d\u524d", "", "it's"):
        assert plain(text) == text


def test_a_key_takes_the_place_of_the_car(edition: Edition) -> None:
    """In its column; an order without one still has to name its car."""
    [bill] = answer_from(edition, HOSE | {"limit": 1})["bills"]
    bought = [(line["sku"], line["qty"]) for line in bill["lines"] if line["source"] == "buy"]
    rows = [f"K,{bill['key']},{sku},{qty}" for sku, qty in bought]
    keyed, without, unknown = read("\n".join(["order,key,sku,qty", *rows, "A,,RAIL-S,1", "B,1abc,RAIL-S,1"]))
    assert outcome_of(edition, keyed).verdict == "complete"
    assert outcome_of(edition, without).fault == "chassis: found nothing, expected a value: the field is required"
    assert outcome_of(edition, unknown).fault == 'key: found "1abc", expected the key of a known bill'
    [both] = read(f"order,key,chassis,sku,qty\nK,{bill['key']},brook,RAIL-S,1\n")
    assert outcome_of(edition, both).fault.startswith('chassis: found "brook", expected nothing beside a key')
    [elsewhere] = read("order,key,sku,qty\n" + rows[0])
    assert outcome_of(Edition(2, edition.catalog), elsewhere).verdict == "refused"


def test_stock_and_changes_of_an_order(edition: Edition) -> None:
    """Sets that ship, days for the rest, what is short; a swap is one change."""
    [order] = read("order,chassis,layout,sku,qty,sets\nA,brook,hose-centre,RAIL-S,20,20\nA,,,SPIGOT-B8-Q,20,\n")
    outcome = outcome_of(edition, order)
    rail, plug = (edition.revision.items[sku] for sku in ("RAIL-S", "PLUG-B8"))
    assert (outcome.ships_now, outcome.rest_days) == (str(rail.stock), str(max(rail.lead_days, plug.lead_days)))
    assert outcome.short == (
        f"{20 - rail.stock} x RAIL-S in {rail.lead_days} days; {40 - plug.stock} x PLUG-B8 in {plug.lead_days} days"
    )
    assert outcome.changes == "60"
