"""Pasted lines of an order: what is recognised, how many, and what is suggested."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.documents.pasted_order import SkuReader

SKUS = ["RAIL-S", "plug-8-nitrile", "PLUG-8", "hose-6-1.5m", "GAUGE/T"]
READER = SkuReader(SKUS)
TIMES = "\u00d7"
DASHES = "-\u2013\u2014\u2011_"


@pytest.mark.parametrize(
    ("text", "sku", "qty"),
    [
        ("RAIL-S", "RAIL-S", 1),
        ("2x rail-s", "RAIL-S", 2),
        (f"2 {TIMES} Rail\u2013S", "RAIL-S", 2),
        ("rail s x3", "RAIL-S", 3),
        ("rail_s; 4", "RAIL-S", 4),
        ("RAIL-S\t5", "RAIL-S", 5),
        ("6,RAIL-S", "RAIL-S", 6),
        ("Rail \u2014 S - 7 pcs", "RAIL-S", 7),
        ("plug 8 nitrile 2", "plug-8-nitrile", 2),
        ("PLUG-8 2", "PLUG-8", 2),
        ("3x PLUG-8 Plug for a size 8 boss", "PLUG-8", 3),
        ("Fuel rail, satin | RAIL-S | 2 pcs | 249.00", "RAIL-S", 2),
        ("hose-6-1.5m 2", "hose-6-1.5m", 2),
        ("gauget", "GAUGE/T", 1),
    ],
)
def test_a_line_is_read(text: str, sku: str, qty: int) -> None:
    [line] = READER.lines(text)
    assert (line.sku, line.qty) == (sku, qty)


def test_what_is_not_a_part_is_left_out_and_what_may_be_one_has_suggestions() -> None:
    hello, alike, numbered = READER.lines("Hi\n\n2x RAIL-Q\n12345")
    assert (hello.sku, hello.qty, hello.number) == (None, 0, 1)
    assert (alike.sku, alike.qty, alike.alike[0], alike.number) == (None, 2, "RAIL-S", 3)
    assert numbered.sku is None
    assert numbered.qty > 0


def test_what_may_be_two_parts_is_not_guessed_unless_it_is_written_exactly() -> None:
    reader = SkuReader(["AB-1", "A-B1"])
    [both] = reader.lines("ab1")
    assert (both.sku, set(both.alike)) == (None, {"AB-1", "A-B1"})
    [exact] = reader.lines("A-B1 2")
    assert (exact.sku, exact.qty) == ("A-B1", 2)


@given(
    st.lists(st.tuples(st.sampled_from(SKUS), st.integers(1, 9999)), max_size=8),
    st.sampled_from(["{q} x {s}", "{q}x {s}", "{s} x{q}", "{s}\t{q}", "{s};{q}", "{q},{s}", "{s} {q} pcs"]),
    st.sampled_from([str.upper, str.lower, str.title]),
    st.sampled_from(DASHES),
)
def test_every_way_of_writing_reads_back(order: list[tuple[str, int]], form: str, case: object, dash: str) -> None:
    assert callable(case)
    text = "\r\n".join(form.format(s=case(sku).replace("-", dash), q=qty) for sku, qty in order)
    assert [(line.sku, line.qty) for line in READER.lines(text)] == order


@given(st.text(max_size=300))
def test_any_text_is_read_without_a_fault(text: str) -> None:
    for line in READER.lines(text):
        assert line.sku is None or line.sku in SKUS
        assert 0 <= line.qty < 1_000_000
