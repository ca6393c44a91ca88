"""What pages say of bills beside one another, numbers by either habit, words that find things."""

from typing import cast

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.documents.answer import Bill, Power
from service.documents.request import BillRequest
from service.domain import power as domain
from service.domain.power import LIMIT_KINDS, LimitKind, PowerLimit
from service.explain.power import power_told
from service.reading.searching import Search
from service.usecases.find_bills import answer_in
from service.web.counter.numbers import both_in, number_in
from service.web.pages.bills import Difference, Piece, differences, together
from service.web.pages.power import in_short, standing
from tests.explain.sheets import seed

SIDE = {"chassis": "fennic-16", "layout": "own-hose-6-side", "gauge": "top", "limit": 8}


def test_mirror_images_are_one_bill_with_both_ways() -> None:
    """Same parts, price and power; what stands together differs by its places alone."""
    bills = answer_in(seed(), BillRequest.model_validate(SIDE))["bills"]
    groups = together(bills)
    assert sorted(place for first, others in groups for place in (first, *others)) == list(range(len(bills)))
    assert any(others for _, others in groups)
    for first, others in groups:
        for other in others:
            assert bills[other]["duties"] != bills[first]["duties"]
            assert bills[other]["price"] == bills[first]["price"]
            for difference in differences(bills[first], bills[other]):
                assert difference.where


def test_what_differs_tells_exactly_what_is_taken_and_left() -> None:
    """The parts of the first, less what is left, with what is taken, are those of the other."""
    bills = answer_in(seed(), BillRequest.model_validate(SIDE | {"limit": 20}))["bills"]
    for other in bills[1:]:
        counted = {line["sku"]: 0 for bill in (bills[0], other) for line in bill["lines"]}
        for line in bills[0]["lines"]:
            counted[line["sku"]] += line["qty"]
        for difference in differences(bills[0], other):
            for piece in difference.takes:
                counted[piece.sku] += piece.qty
            for piece in difference.instead:
                counted[piece.sku] -= piece.qty
        has = dict.fromkeys(counted, 0)
        for line in other["lines"]:
            has[line["sku"]] += line["qty"]
        assert counted == has


def test_what_differs_is_told_in_a_line() -> None:
    """By the words that two names have not in common; by the first words of several parts."""
    one, two = Piece(1, "A", "Adapter, size 6, satin"), Piece(1, "B", "Adapter, size 6, nitrile seal")
    told = {
        "satin instead of nitrile seal": Difference("left", "", (one,), (two,)),
        "Adapter + Plug": Difference("left", "", (one, Piece(1, "C", "Plug, low")), (two,)),
        "without Adapter, size 6, satin": Difference("left", "", (), (one,)),
        "left: feed instead of closed": Difference("left", "feed instead of closed", (), ()),
    }
    for words, difference in told.items():
        assert difference.in_short == words


def test_a_spot_that_one_rail_lacks_is_called_so() -> None:
    """Rails of one pattern may have other spots."""
    short, long = ({"duties": duties, "chains": {}, "lines": []} for duties in ({}, {"top": "closed"}))
    told = [differences(cast("Bill", one), cast("Bill", two)) for one, two in ((short, long), (long, short))]
    assert [x.in_short for [x] in told] == ["top: closed instead of no spot", "top: no spot instead of closed"]


def _power(kw: float | None, asked_kw: float = 100, *, only: bool = False, assumed: bool = False) -> Power:
    kinds: tuple[LimitKind, ...] = () if kw is None else ("injectors",) if only else LIMIT_KINDS
    facts = {"pump": "car", "flow_l_h": 90.0, "outlet_kpa": 300.0, "injectors": "car", "count": 4, "max_duty": 0.85}
    facts |= {"over_kpa": 300.0, "duty": "feed", "spots": ["left"], "limit": "drop"}
    limits = tuple(PowerLimit(kind, kw or 0.0, facts) for kind in kinds)
    boost_kpa = 50.0 if assumed else 0.0
    return power_told(domain.Power(asked_kw, assumed, limits, 0.2, boost_kpa, 300, "manifold", "manifold", False))


def test_a_power_is_told_in_a_line_only_where_that_is_all() -> None:
    """What is not known is never said to be enough, and no warning is folded away."""
    assert standing(_power(None)) == "untold"
    assert in_short(_power(150)) == "150 kW (201 hp): there the plumbing is at its limit."
    assert in_short(_power(110)).endswith("limit; with less than the reserve of 20 % left.")
    for said in (_power(None), _power(90), _power(150, only=True), _power(150, assumed=True)):
        assert in_short(said) == ""


@pytest.mark.parametrize(
    ("text", "number"),
    [
        ("120,5", 120.5),
        ("120.5", 120.5),
        ("1 299", 1299),
        ("1\u202f299,5", 1299.5),
        ("1'200", 1200),
        ("1,299.50", 1299.5),
        ("1.299,50", 1299.5),
        ("1,299,000", 1_299_000),
        ("0,250", 0.25),
        ("12.3456", 12.3456),
        ("-5", -5),
        ("1,299", None),
        ("1.299", None),
        ("12,34,5", None),
        ("1e5", None),
        ("", None),
        ("inf", None),
    ],
)
def test_numbers_by_either_habit(text: str, number: float | None) -> None:
    assert number_in(text) == number
    assert (both_in(text) is not None) == (text in ("1,299", "1.299"))


def test_of_money_three_digits_are_thousands() -> None:
    assert [number_in(text, has_thousandths=False) for text in ("1,299", "1.299", "12,5")] == [1299, 1299, 12.5]


@settings(max_examples=60)
@given(st.text("0123456789,. '+-e\u00a0", max_size=30))
def test_any_text_is_a_number_or_none(text: str) -> None:
    value = number_in(text)
    assert value is None or abs(value) < 1e12


def test_words_find_near_spellings_and_nothing_else() -> None:
    texts = {"a": "pressure gauge satin", "b": "o-ring 12 seal", "c": "flare adapter graphite fitting"}
    found = {words: Search(texts).found(words) for words in ("guage", "oring", "fitting graphite", "seals", "x", "")}
    assert found == {"guage": ["a"], "oring": ["b"], "fitting graphite": ["c"], "seals": ["b"], "x": [], "": [*texts]}
