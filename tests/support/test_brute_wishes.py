"""Conflicts, repairs and least changes of the slow solver: worked out by hand."""

from typing import Any

import pytest

from tests.support.brute_wishes import conflicts, repairs, why, wishes_of, with_wishes
from tests.support.builders import HOSE, catalog, own_hose, passage, room, twin

Json = dict[str, Any]

BILL_PRICE = 18900 + 1500 + 2 * 900
DEAR: Json = {"items/-": twin("PLUG-B8", "PLUG-DEAR", price=5000)}


def told(parts: Json, request: Json) -> list[tuple[Json, int]]:
    """The change and the number of bills of each repair; there is one way up or down in each."""
    return [choice for repair in repairs(parts, request) for choice in repair.choices]


def test_a_request_with_a_bill_has_neither() -> None:
    """Nothing to explain."""
    assert (conflicts(catalog(), HOSE), repairs(catalog(), HOSE)) == ([], [])


@pytest.mark.parametrize(
    ("wishes", "name", "change"),
    [
        ({"max_price": BILL_PRICE - 1}, "max_price", {"max_price": BILL_PRICE}),
        ({"exclude": ["PLUG-B8", "GAUGE-T"]}, "exclude/PLUG-B8", {"exclude/PLUG-B8": None}),
        ({"finish": "black"}, "finish", {"finish": None}),
        ({"gauge": "centre"}, "gauge", {"gauge": "none"}),
        ({"boost_kpa": 750.55}, "boost_kpa", {"boost_kpa": 700.0}),
        ({"clearances": [room("left", axial_mm=5.55)]}, "clearances/left/axial_mm", {"clearances/left/axial_mm": 8.0}),
        (
            {"clearances": [room("left", axial_mm=9.0), room("left", axial_mm=5.0, across_mm=30.0)]},
            "clearances/left/axial_mm",
            {"clearances/left/axial_mm": 8.0},
        ),
        (
            {"clearances": [room("right", across_mm=23.99)]},
            "clearances/right/across_mm",
            {"clearances/right/across_mm": 24.0},
        ),
    ],
)
def test_one_wish_too_many(wishes: Json, name: str, change: Json) -> None:
    """A wish that has no bill by itself is the conflict and the repair."""
    assert conflicts(catalog(), HOSE | wishes) == [[name]]
    assert told(catalog(), HOSE | wishes) == [(change, 1)]


def test_two_wishes_that_do_not_go_together() -> None:
    """With the cheap plug excluded the dear one is beyond the budget: giving up either helps."""
    request = HOSE | {"exclude": ["PLUG-B8"], "max_price": 30000}
    assert conflicts(catalog(DEAR), request) == [["exclude/PLUG-B8", "max_price"]]
    assert told(catalog(DEAR), request) == [
        ({"exclude/PLUG-B8": None}, 3),
        ({"max_price": 18900 + 1500 + 2 * 5000}, 1),
    ]


def test_two_conflicts_are_repaired_together() -> None:
    """Each wish fails by itself, so both go back to their defaults; of two numbers neither gets a least change."""
    request = HOSE | {"clearances": [room("left", axial_mm=5.0)], "boost_kpa": 800}
    assert conflicts(catalog(), request) == [["boost_kpa"], ["clearances/left/axial_mm"]]
    assert told(catalog(), request) == [({"boost_kpa": 0, "clearances/left/axial_mm": None}, 1)]


def test_groups_are_counted_where_they_are_asked_for() -> None:
    """Two plugs of one family on two spots: one group, or three bills within the budget."""
    parts = catalog({"items/PLUG-B8/family": "plugs"}, DEAR, {"items/PLUG-DEAR/family": "plugs"})
    request = HOSE | {"finish": "black", "max_price": 30000}
    assert told(parts, request) == [({"finish": None}, 1)]
    assert told(parts, request | {"group_variants": False}) == [({"finish": None}, 3)]


def test_chassis_and_layout_alone() -> None:
    """The empty set is the only conflict, and there is nothing to repair."""
    parts = catalog({"items/ADAPT-B8-F6/status": "retired"})
    assert why(parts, HOSE | {"max_price": 10}) == why(parts, HOSE)
    assert (conflicts(parts, HOSE), repairs(parts, HOSE)) == ([[]], [])


def test_a_wish_may_make_a_request_valid_again() -> None:
    """Nothing stands the first fuel: the empty set is a conflict, though keeping the other fuel is the way out."""
    parts = catalog({"materials/aluminium/ratings/petrol": "D"})
    request = HOSE | {"fuel": "e85", "max_price": 10}
    assert conflicts(parts, request) == [[]]
    assert told(parts, request) == [({"max_price": BILL_PRICE}, 1)]


def test_numbers_are_rounded_to_the_side_that_works() -> None:
    """A plug of 8.04 mm needs 8.1 mm."""
    parts = catalog({"items/PLUG-B8/standout_mm": 8.04})
    request = HOSE | {"clearances": [room("left", axial_mm=5.55)]}
    assert told(parts, request) == [({"clearances/left/axial_mm": 8.1}, 1)]


@pytest.mark.parametrize(("given_mm", "least_mm"), [(8.4, 7.9), (9.5, 10.0)])
def test_less_room_may_help_more(given_mm: float, least_mm: float) -> None:
    """With 8 mm a plug that is out of stock rules the short unsold one out; from 10 mm on a long one is in stock."""
    parts = catalog(
        {"items/PLUG-B8/stock": 0, "items/-": twin("PLUG-B8", "SHORT", sold=False, standout_mm=5.0)},
        {"items/-": twin("PLUG-B8", "LONG", standout_mm=10.0)},
    )
    request = HOSE | {"clearances": [room("left", axial_mm=given_mm)], "in_stock_only": True}
    repair = next(repair for repair in repairs(parts, request) if repair.wishes == ("clearances/left/axial_mm",))
    assert repair.choices == (({"clearances/left/axial_mm": least_mm}, 1),)


def test_up_and_down_as_near() -> None:
    """From 8.95 mm it is 1.05 mm to either side, in tenths: both are right."""
    parts = catalog(
        {"items/PLUG-B8/stock": 0, "items/-": twin("PLUG-B8", "SHORT", sold=False, standout_mm=5.0)},
        {"items/-": twin("PLUG-B8", "LONG", standout_mm=10.0)},
    )
    request = HOSE | {"clearances": [room("left", axial_mm=8.95)], "in_stock_only": True}
    repair = next(repair for repair in repairs(parts, request) if repair.wishes == ("clearances/left/axial_mm",))
    assert {change["clearances/left/axial_mm"] for change, _ in repair.choices} == {7.9, 10.0}


def test_power() -> None:
    """0.3 m/s through 7.5 mm are 47.71 l/h: by 1.25, times 745 kg/m3 over 300 g/kWh, power for 94.79 kW."""
    parts = catalog({"policies/max_velocity_m_s": 0.3})
    assert conflicts(parts, HOSE | {"power_kw": 250}) == [["power_kw"]]
    assert told(parts, HOSE | {"power_kw": 250}) == [({"power_kw": 94.7}, 1)]


def test_hose() -> None:
    """Laminar in 30 mm at 45.3 l/h: 128 mu L Q / (pi D^4) is 0.348 Pa a metre, so 0.01 kPa lasts for 28.7 m."""
    parts = catalog(
        {"items/ADAPT-B8-F6/flow": passage(30.0), "items/RAIL-S/flow": passage(30.0)},
        {
            "layouts/hose-centre/placements/0/centre/hookup": own_hose(flow=passage(30.0, 1500.0)),
            "policies/max_feed_drop_kpa": 0.01,
        },
    )
    (change, total) = told(parts, HOSE | {"feed_hose_m": 90})[0]
    assert (change, total) == ({"feed_hose_m": 28.7}, 1)


def test_hoses_of_several_lengths() -> None:
    """No length stands for both. Each carries half of 45.3 l/h: 0.881 Pa a metre in 20 mm, 0.01 kPa for 11.35 m."""
    both = {
        spot: {"duty": "feed", "hookup": own_hose(flow=passage(20.0, mm))} for spot, mm in (("left", 1), ("right", 9))
    }
    parts = catalog(
        {"items/ADAPT-B8-F6/flow": passage(20.0), "items/RAIL-S/flow": passage(20.0)},
        {"layouts/hose-centre/placements": [both], "policies/max_feed_drop_kpa": 0.01},
    )
    (change, _) = told(parts, HOSE | {"feed_hose_m": 90})[0]
    assert change == {"feed_hose_m": 11.3}


def test_what_is_had_is_no_wish() -> None:
    """It stays in every set: without the two retired plugs that are had no repair would be found."""
    parts = catalog({"items/PLUG-B8/status": "retired"})
    request = HOSE | {"have": [{"sku": "PLUG-B8", "qty": 2}], "max_price": 10}
    assert told(parts, request) == [({"max_price": 18900 + 1500}, 1)]
    assert conflicts(parts, request) == [["max_price"]]


def test_wishes_that_count() -> None:
    """Defaults do not; of two rooms at one spot the smaller does; the rest of the request is no wish."""
    request = HOSE | {
        "fuel": "petrol",
        "boost_kpa": 0,
        "gauge": "none",
        "in_stock_only": False,
        "allow_unsold": True,
        "addons": ["blower"],
        "exclude": ["PLUG-T", "PLUG-T"],
        "clearances": [room("left", 9.0), room("left", 7.0, 30.0)],
        "limit": 3,
        "order_by": "lead",
        "have": [{"sku": "PLUG-T", "qty": 1}],
    }
    wishes = wishes_of(catalog(), request)
    assert set(wishes) == {
        *("addons/blower", "exclude/PLUG-T", "clearances/left/axial_mm", "clearances/left/across_mm"),
    }
    bare: Json = {"addons": [], "exclude": [], "clearances": []}
    assert with_wishes(request, {}) == HOSE | bare | {"limit": 3, "order_by": "lead", "have": request["have"]}
