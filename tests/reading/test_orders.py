"""Orders as people write them: what is sure, what is asked back, what is no part. A row for each habit."""

import pytest

from service.reading.orders import OrderReader
from service.reading.vocabulary import Part, Vocabulary
from tests.reading.orders import READER, doubtful, sure
from tests.support.growth import assert_linear

TIMES = "\u00d7"
ENDASH = "\u2013"


@pytest.mark.parametrize(
    ("text", "sku", "qty"),
    [
        # how many, before and behind
        ("HOSE-6", "HOSE-6", 1),
        ("HOSE-6 (2)", "HOSE-6", 2),
        ("(2) HOSE-6", "HOSE-6", 2),
        ("HOSE-6 [2]", "HOSE-6", 2),
        ("2Stk HOSE-6", "HOSE-6", 2),
        ("2 Stück HOSE-6", "HOSE-6", 2),
        ("2er HOSE-6", "HOSE-6", 2),
        ("2x HOSE-6", "HOSE-6", 2),
        ("2xHOSE-6", "HOSE-6", 2),
        ("x2 HOSE-6", "HOSE-6", 2),
        (f"HOSE-6 {TIMES}2", "HOSE-6", 2),
        ("HOSE-6 2 pcs", "HOSE-6", 2),
        ("2 off HOSE-6", "HOSE-6", 2),
        ("HOSE-6 qty 2", "HOSE-6", 2),
        ("HOSE-6, qty: 2", "HOSE-6", 2),
        ("Menge 2 HOSE-6", "HOSE-6", 2),
        ("two HOSE-6", "HOSE-6", 2),
        ("twelve of HOSE-6", "HOSE-6", 12),
        ("a pair of HOSE-6", "HOSE-6", 2),
        ("a dozen HOSE-6", "HOSE-6", 12),
        ("2 (two) HOSE-6", "HOSE-6", 2),
        ("a HOSE-6, please", "HOSE-6", 1),
        ("HOSE-6\t5", "HOSE-6", 5),
        ("6,HOSE-6", "HOSE-6", 6),
        ('"HOSE-6";"6"', "HOSE-6", 6),
        ("HOSE-6 - 7", "HOSE-6", 7),
        ("please send 4 HOSE-6", "HOSE-6", 4),
        ("We would like to order four HOSE-6", "HOSE-6", 4),
        ("> 2 x HOSE-6", "HOSE-6", 2),
        ("1000 x HOSE-6", "HOSE-6", 1000),
        # what is no quantity
        ("Pos 3: HOSE-6, 2 pcs", "HOSE-6", 2),
        ("Pos 3: HOSE-6", "HOSE-6", 1),
        ("3) HOSE-6 2", "HOSE-6", 2),
        ("HOSE-6 EUR 12.50", "HOSE-6", 1),
        ("2 EUR 12.50 HOSE-6", "HOSE-6", 2),
        ("HOSE-6 2 12.50 25.00", "HOSE-6", 2),
        ("2 x HOSE-6 (12,50 each)", "HOSE-6", 2),
        ("HOSE-6 by 28.11.2026 2 pcs", "HOSE-6", 2),
        ("HOSE-6 size 6", "HOSE-6", 1),
        ("screw-m6-20 M6 x 20 4", "screw-m6-20", 4),
        ("Order no 12345: 2 x HOSE-6", "HOSE-6", 2),
        ("2 x HOSE-6 for the Brook 1.6", "HOSE-6", 2),
        ("3 x HOSE-6 (ref. 12)", "HOSE-6", 3),
        ("2 x HOSE-6 for car no 3, week 48", "HOSE-6", 2),
        ("-> 2 x HOSE-6", "HOSE-6", 2),
        ("QTY2 HOSE-6", "HOSE-6", 2),
        ("order: 3 HOSE-6", "HOSE-6", 3),
        # what it is called
        (f"2 {TIMES} rail{ENDASH}S", "RAIL-S", 2),
        ("rail_s; 4", "RAIL-S", 4),
        ("rails", "RAIL-S", 1),
        ("plug 8 nitrile 2", "PLUG-8-NITRILE", 2),
        ("gauge t", "GAUGE/T", 1),
        ("3 spigot 5/16", "spigot-5-16", 3),
        ('3 x Quick-connect spigot 5/16"', "spigot-5-16", 3),
        ("Plugs for a size 8 boss, nitrile: 3", "PLUG-8-NITRILE", 3),
        ("FUEL RAIL SATIN x 2", "RAIL-S", 2),
        ("2 pressure gauges 0 to 600 kPa", "GAUGE/T", 2),
        ("two rubber stoppers", "PLUG-8-NITRILE", 2),
        ("1 manometre", "GAUGE/T", 1),
        ("RAIL-S Fuel rail, satin 2", "RAIL-S", 2),
        ("RAIL-S | Fuel rail satin | 2 pcs | 249.00", "RAIL-S", 2),
        ("HOSE-62 2", "HOSE-62", 2),
        ("part no. HOSE-6 x 2", "HOSE-6", 2),
        ("4711 x 2", "4711", 2),
    ],
)
def test_a_row_is_sure(text: str, sku: str, qty: int) -> None:
    assert sure(text) == [(1, sku, qty)]


@pytest.mark.parametrize(
    "text",
    [
        *("1.5 HOSE-6", "1,000 HOSE-6", "1.000 x HOSE-6", "5,000 HOSE-6", "1 000 HOSE-6", ".5 HOSE-6", "HOSE-6 \u00bd"),
        *("0 HOSE-6", "-2 HOSE-6", "HOSE-6 -2", "1001 HOSE-6", "2-3 HOSE-6", "~2 HOSE-6", "2 x 3 HOSE-6", "HOSE-6 2?"),
        *("2 HOSE-6 4", "2 x HOSE-6 for 3 cars", "HOSE-6 1st", "two dozen HOSE-6", "two pairs of HOSE-6", "3. HOSE-6"),
        *("half a dozen HOSE-6", "a few HOSE-6", "thirteen HOSE-6", "zwei HOSE-6", "deux HOSE-6", "1 set HOSE-6"),
        *(
            "no HOSE-6",
            "cancel the HOSE-6",
            "do you have HOSE-6",
            "the HOSE-6 you sent",
            "HOSE-6?",
            "HOSE-6 don't send",
        ),
        *("we got 2 x HOSE-6", "HOSE-6 or HOSE-62", "about 2 HOSE-6", "instead of HOSE-6", "price of HOSE-6"),
        *(
            "RAIL-S graphite",
            "fuel rail satin graphite",
            "RAIL-S Fuel rail, graphite 2",
            "2 x RAIL",
            "long rail, nitrile",
        ),
        *(
            "PLUG-8 nitrl",
            "PLUG-8 2",
            "PLUG-8-X 2",
            "PLUG-8-NITRILEX 2",
            "HOSE-6 caps 2",
            "2 blue HOSE-6",
            "plug 8 nitrle",
        ),
        *("total for HOSE-6: 25.00", "HOSE-6 12/11", "HOSE-6 3 Nov", "HOSE-6 " * 60, "2 x HOSE-6" + " " * 600 + "."),
        *("HOSE-6 HOSE-62 2", "HOSE-6; HOSE-62; 2", "2 x HOSE-6, and HOSE-6"),
    ],
)
def test_a_row_is_asked_back(text: str) -> None:
    assert sure(text) == []
    assert set(doubtful(text)) == {1}
    assert all(line.asks for line in READER.read(text).lines)


@pytest.mark.parametrize(
    "text",
    [
        *("Hello,", "Dear rail team,", "Best regards", "Thanks a lot!", "Total EUR 139.00", "Tel 01234 567890"),
        *("12 Hose Street", "info@hose-6.example", "https://shop.example/HOSE-6", "On Mon, 3 Nov 2026, Una wrote:"),
        *("Una Brandt", "12 High Road", "-- ", "3 widgets", "VAT 20 %"),
    ],
)
def test_a_row_is_no_part(text: str) -> None:
    reading = READER.read(text)
    assert (reading.lines, reading.unread) == ((), ((1, text),))


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("1x RAIL-S, 2x HOSE-6, 1x HOSE-62", [("RAIL-S", 1), ("HOSE-6", 2), ("HOSE-62", 1)]),
        ("RAIL-S x1; HOSE-6 x2", [("RAIL-S", 1), ("HOSE-6", 2)]),
        ("RAIL-S 1, HOSE-6 2", [("RAIL-S", 1), ("HOSE-6", 2)]),
        ("2 RAIL-S and 4 HOSE-6", [("RAIL-S", 2), ("HOSE-6", 4)]),
        ("HOSE-6, RAIL-S", [("HOSE-6", 1), ("RAIL-S", 1)]),
        ("2 RAIL-S and a HOSE-6", [("RAIL-S", 2), ("HOSE-6", 1)]),
        ("RAIL-S and HOSE-6, 2 each", [("RAIL-S", 2), ("HOSE-6", 2)]),
    ],
)
def test_several_parts_on_a_row(text: str, told: list[tuple[str, int]]) -> None:
    assert sure(text) == [(1, sku, qty) for sku, qty in told]
    assert doubtful(text) == []


def test_a_number_that_may_belong_to_both_is_asked_back() -> None:
    [rail, hose] = READER.read("RAIL-S, HOSE-6 x2").lines
    assert [candidate.qty for candidate in rail.candidates] == [1, 2]
    assert (hose.sure, hose.qty) == (True, 2)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("Pos;Artikel;Menge;Preis\n1;HOSE-6;4;12,50\n2;RAIL-S;1;9", [(2, "HOSE-6", 4), (3, "RAIL-S", 1)]),
        ("Part\tQty\tPrice\nHOSE-6\t2\t139\nRAIL-S\t1,5\t9\nHOSE-62\t5,000\t9\nHOSE-62\t\t7", [(2, "HOSE-6", 2)]),
        ("| Qty | Part |\n|-----|------|\n| 2 | HOSE-6 |\n|  | RAIL-S |", [(3, "HOSE-6", 2)]),
        ("sku,qty,qty\nHOSE-6,1,2", []),
        ("Qty\tSKU\n2\tHOSE-6\n\tRAIL-S\nHOSE-62", [(2, "HOSE-6", 2)]),
        ("Subject: order 2 HOSE-6\n\n2 HOSE-6", [(3, "HOSE-6", 2)]),
        ("SKU;Price\nHOSE-6;12", []),
        ("1. HOSE-6 4\n2. RAIL-S 1\n3. HOSE-62 2", [(1, "HOSE-6", 4), (2, "RAIL-S", 1), (3, "HOSE-62", 2)]),
        ("10 HOSE-6 4\n20 RAIL-S 1\n30 HOSE-62 2", [(1, "HOSE-6", 4), (2, "RAIL-S", 1), (3, "HOSE-62", 2)]),
        ("1) HOSE-6\n2) RAIL-S\n3) HOSE-62", [(1, "HOSE-6", 1), (2, "RAIL-S", 1), (3, "HOSE-62", 1)]),
        ("1 HOSE-6\n2 RAIL-S\n3 HOSE-62", []),
        ("4 HOSE-6\n2 RAIL-S\n3 HOSE-62", [(1, "HOSE-6", 4), (2, "RAIL-S", 2), (3, "HOSE-62", 3)]),
        ("1 HOSE-6 4", []),
        ("HOSE-6\nQuantity: 3", []),
        ("3 x\nHOSE-6", []),
        ("RAIL-S\ngraphite", []),
        ("Please cancel these:\n2 x HOSE-6\n3 x RAIL-S", []),
        ("3 of each:\nHOSE-6\nRAIL-S", []),
        ("Please send:\n2 x HOSE-6", [(2, "HOSE-6", 2)]),
    ],
)
def test_rows_tell_of_each_other(text: str, told: list[tuple[int, str, int]]) -> None:
    assert sure(text) == told


def test_a_quantity_on_a_row_of_its_own_is_offered_for_the_part_above() -> None:
    [line] = READER.read("HOSE-6\nQuantity: 3").lines
    assert (line.candidates[0].sku, line.candidates[0].qty) == ("HOSE-6", 3)


@pytest.mark.parametrize(
    ("text", "first"),
    [
        ("2 x PLGU-8", "PLUG-8"),
        ("HOSE6 2", None),
        ("plug for size 8 bos, nitrile x 2", "PLUG-8-NITRILE"),
        ("4 rubber stoper", "PLUG-8-NITRILE"),
        ("2 x RAIL", "RAIL-S"),
    ],
)
def test_the_nearest_candidate_is_first(text: str, first: str | None) -> None:
    [line] = READER.read(text).lines
    if first is None:
        assert line.sure
    else:
        assert (line.sku, line.candidates[0].sku, line.candidates[0].qty) == (None, first, line.qty)


def test_a_name_of_two_parts_is_asked_back_with_both() -> None:
    [line] = READER.read("2 x RAIL").lines
    assert {candidate.sku for candidate in line.candidates} == {"RAIL-S", "RAIL-G"}


def test_the_total_stands_when_all_is_sure_and_leaves_out_what_is_not_sold() -> None:
    assert READER.total(READER.read("2 x HOSE-6\n4711 x 3")) == 2_400
    assert READER.total(READER.read("2 x HOSE-6\nHOSE-62?")) is None
    assert READER.total(READER.read("Hello")) is None


@pytest.mark.parametrize("part", ["1 ", "x2", "1.000", "hose-6 ", "0 to 600 "])
def test_time_is_in_proportion_to_the_rows(part: str) -> None:
    row = (part * 250)[:500]
    assert_linear(READER.read, lambda size: "\n".join([row] * size), 4)


def test_a_comma_may_part_one_name_from_another() -> None:
    reader = OrderReader(Vocabulary((Part("CAP", "Cap"), Part("CAP-R", "Cap red"))))
    (whole,) = reader.read("2 cap red").lines
    (parted,) = reader.read("2 cap, red").lines
    assert (whole.sku, whole.qty, whole.sure) == ("CAP-R", 2, True)
    assert not parted.sure
    assert {one.sku for one in parted.candidates} == {"CAP", "CAP-R"}
