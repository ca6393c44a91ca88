"""The slow solver on parts that the customer has already, and on a rail by somebody else: worked out by hand."""

from typing import Any

import pytest

from tests.support.brute_force import all_bills
from tests.support.builders import FACTORY, HOSE, LINKED, catalog, room, twin
from tests.support.slow_bills import OracleBill

Json = dict[str, Any]

BOSS: Json = {"standard": "boss-8", "end": "female"}
RETIRED: Json = {"items/PLUG-B8/status": "retired"}
GENERIC: Json = {"items/-": twin("PLUG-B8", "GENERIC", sold=False, price=1, standout_mm=5.0)}


def had(*skus: str) -> Json:
    """One unit of each."""
    return {"have": [{"sku": sku, "qty": 1} for sku in skus]}


def plugs(bills: list[OracleBill]) -> set[tuple[str, ...]]:
    """What closes the left and the right of each bill."""
    return {bill.chains["left"] + bill.chains["right"] for bill in bills}


def only(bills: list[OracleBill]) -> OracleBill:
    (bill,) = bills
    return bill


def test_nothing_is_had() -> None:
    """The bill that the others here are beside: a rail, an adapter, two plugs; the plug on top is supplied."""
    bill = only(all_bills(catalog(), HOSE))
    assert (bill.price, bill.pieces, bill.lead_days) == (18900 + 1500 + 2 * 900, 4, 10)


def test_a_had_unit_goes_to_the_spot_that_sorts_first() -> None:
    """The first of two plugs is had, the second bought; the had one is no piece and costs nothing."""
    bill = only(all_bills(catalog(), HOSE | had("PLUG-B8")))
    assert {("PLUG-B8", 1, "have"), ("PLUG-B8", 1, "buy")} <= bill.lines
    assert (bill.stands["PLUG-B8", "have"], bill.stands["PLUG-B8", "buy"]) == (("left",), ("right",))
    assert (bill.price, bill.pieces) == (18900 + 1500 + 900, 3)


def test_lines_of_one_sku_add_up_and_what_is_not_needed_stays_out() -> None:
    """Three plugs had in two lines serve two spots; a line of the catalog that has no place does no harm."""
    bill = only(all_bills(catalog(), HOSE | had("PLUG-B8", "LINE-F6", "PLUG-B8", "PLUG-B8")))
    assert {line for line in bill.lines if line[2] == "have"} == {("PLUG-B8", 2, "have")}


def test_a_had_rail_supplies_what_a_bought_one_does() -> None:
    """Its plug and its screws come along, and its lead time does not count."""
    bill = only(all_bills(catalog(), HOSE | had("RAIL-S")))
    assert {("RAIL-S", 1, "have"), ("PLUG-T", 1, "supplied"), ("SCREW-6", 2, "supplied")} <= bill.lines
    assert (bill.price, bill.lead_days) == (1500 + 2 * 900, 3)


def test_a_supplied_plug_goes_before_a_had_one() -> None:
    """A plug had for the top stays on the bench."""
    bill = only(all_bills(catalog(), HOSE | had("PLUG-T")))
    assert {line for line in bill.lines if line[0] == "PLUG-T"} == {("PLUG-T", 1, "supplied")}


@pytest.mark.parametrize(("units", "count"), [(0, 0), (1, 1), (2, 1)])
def test_stock_is_needed_for_what_is_bought(units: int, count: int) -> None:
    """Of two plugs one is in stock: the other one must be had."""
    request = HOSE | had(*["PLUG-B8"] * units) | {"in_stock_only": True}
    assert len(all_bills(catalog({"items/PLUG-B8/stock": 1}), request)) == count


@pytest.mark.parametrize(("units", "count"), [(0, 0), (1, 0), (2, 1)])
def test_retired_parts_must_all_be_had(units: int, count: int) -> None:
    """The only plug is retired, and each of two spots alone needs one."""
    assert len(all_bills(catalog(RETIRED), HOSE | had(*["PLUG-B8"] * units))) == count


@pytest.mark.parametrize(("units", "count"), [(1, 0), (2, 1)])
def test_a_retired_rail_is_needed_twice_on_two_banks(units: int, count: int) -> None:
    """The same SKU on both banks."""
    request = LINKED | had(*["RAIL-S"] * units)
    assert len(all_bills(catalog({"items/RAIL-S/status": "retired"}), request)) == count


def test_a_had_part_is_judged_like_others() -> None:
    """Excluded parts are not used though they are there."""
    assert not all_bills(catalog(), HOSE | had("PLUG-B8", "PLUG-B8") | {"exclude": ["PLUG-B8"]})


@pytest.mark.parametrize(
    ("units", "expected"),
    [
        (0, {("PLUG-B8", "PLUG-B8")}),
        (1, {("PLUG-B8", "PLUG-B8"), ("GENERIC", "PLUG-B8"), ("PLUG-B8", "GENERIC")}),
        (2, {("PLUG-B8", "PLUG-B8"), ("GENERIC", "PLUG-B8"), ("PLUG-B8", "GENERIC"), ("GENERIC", "GENERIC")}),
    ],
)
def test_no_more_unsold_units_than_are_had_where_a_bought_chain_would_serve(
    units: int, expected: set[tuple[str, ...]]
) -> None:
    """Each spot alone may have the unsold plug as soon as one is had; the whole bill only as many as are had."""
    assert plugs(all_bills(catalog(GENERIC), HOSE | had(*["GENERIC"] * units))) == expected


def test_a_chain_that_cannot_be_bought_whole_rules_nothing_out() -> None:
    """Retired plugs serve where they are had; the unsold plug from elsewhere stays possible beside them."""
    bills = all_bills(catalog(GENERIC, RETIRED), HOSE | had("PLUG-B8"))
    assert plugs(bills) == {("GENERIC", "GENERIC"), ("PLUG-B8", "GENERIC"), ("GENERIC", "PLUG-B8")}


def test_units_from_elsewhere_count_only_where_a_bought_chain_would_serve() -> None:
    """At the left nothing sold fits, so the one had unit allows the right; it lies at the left, which sorts first."""
    bills = all_bills(catalog(GENERIC), HOSE | had("GENERIC") | {"clearances": [room("left", axial_mm=6.0)]})
    assert plugs(bills) == {("GENERIC", "PLUG-B8"), ("GENERIC", "GENERIC")}
    both = next(bill for bill in bills if bill.chains["right"] == ("GENERIC",))
    assert (both.stands["GENERIC", "have"], both.stands["GENERIC", "elsewhere"]) == (("left",), ("right",))
    assert (both.price, both.pieces) == (18900 + 1500, 3)


@pytest.mark.parametrize(("units", "count"), [(1, 0), (2, 1)])
def test_unsold_parts_that_are_had_do_not_come_from_elsewhere(units: int, count: int) -> None:
    """Where unsold parts are not allowed, all of them must be had."""
    request = HOSE | had(*["PLUG-B8"] * units) | {"allow_unsold": False}
    assert len(all_bills(catalog({"items/PLUG-B8/sold": False}), request)) == count


def test_own_rail() -> None:
    """No rail is bought, nothing is supplied or mounted, and its flow is not rated."""
    bill = only(all_bills(catalog(), HOSE | {"own_rail": {"left": BOSS, "centre": BOSS}}))
    assert bill.rail == "own-rail"
    assert bill.lines == {("own-rail", 1, "have"), ("ADAPT-B8-F6", 1, "buy"), ("PLUG-B8", 1, "buy")}
    assert (bill.price, bill.pieces, bill.paths[0].unrated) == (1500 + 900, 2, ("own-rail",))


def test_own_rails_on_two_banks() -> None:
    """Both banks alike."""
    bill = only(all_bills(catalog(), LINKED | {"own_rail": {"left": BOSS, "right": BOSS}}))
    assert set(bill.duties) == {"1.left", "1.right", "2.left", "2.right"}
    assert ("own-rail", 2, "have") in bill.lines


@pytest.mark.parametrize(
    ("request_", "count"),
    [
        (HOSE | {"own_rail": {"left": BOSS}}, 0),
        (HOSE | {"own_rail": {"centre": {"standard": "taper-1/8", "end": "female"}}}, 0),
        (FACTORY | {"own_rail": {"left": BOSS}}, 1),
        (HOSE | {"own_rail": {"centre": BOSS}, "finish": "black"}, 1),
        (HOSE | {"finish": "black"}, 0),
        (HOSE | {"own_rail": {"centre": BOSS}, **had("RAIL-S")}, 1),
    ],
    ids=["no such spot", "other thread", "the spot is there", "finish not judged", "finish judged", "rail had as well"],
)
def test_what_an_own_rail_takes(request_: Json, count: int) -> None:
    """It must have the layout's spots; it has no limits of its own and takes the place of every rail."""
    assert len(all_bills(catalog(), request_)) == count
