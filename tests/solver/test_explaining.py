"""Why a part is, or is not, in the bills: each rule alone on the small catalog, and the least change that helps."""

import pytest

from tests.support.builders import FACTORY, HOSE, LINKED, RETURN, Json, catalog, fitting, passage, room, twin
from tests.support.engine import answer
from tests.support.explaining import at, change, explain, stopped_by

ODD: Json = {
    "id": "odd",
    "name": "Odd rubber",
    "ratings": {"petrol": "A", "e85": "D"},
    "min_c": -20.0,
    "max_c": 90.0,
    "source": "figures for tests",
}


def verdict_on(sku: str, request: Json, *changes: Json, spot: str | None = None) -> Json:
    """The verdict on a part at a spot that is asked about, or on what is at none."""
    found = explain(catalog(*changes), request, sku, spot)
    return at(found, spot)


STOPS: dict[str, tuple[str, Json, Json, str, list[tuple[str, float | None, str | None]], Json | None]] = {
    "too long": (
        "ADAPT-B8-F6",
        HOSE | {"clearances": [room("centre", 24.55)]},
        {},
        "centre",
        [("clearance", -1.45, "mm")],
        {"clearances/centre/axial_mm": 26.0},
    ),
    "too wide": (
        "PLUG-B8",
        HOSE | {"clearances": [room("left", across_mm=23.96)]},
        {},
        "left",
        [("clearance", -0.04, "mm")],
        {"clearances/left/across_mm": 24.0},
    ),
    "too long and too wide": (
        "ADAPT-B8-F6",
        HOSE | {"clearances": [room("centre", 20.0, 20.0)]},
        {},
        "centre",
        [("clearance", -6.0, "mm"), ("clearance", -5.0, "mm")],
        None,
    ),
    "too long for the car": (
        "ADAPT-B8-F6",
        HOSE,
        {"chassis/brook/clearances/centre/axial_mm": 20.0},
        "centre",
        [("clearance", -6.0, "mm")],
        None,
    ),
    "too long beside an add-on": (
        "ADAPT-B8-F6",
        RETURN | {"addons": ["blower"]},
        {},
        "right",
        [("clearance", -46.0, "mm")],
        {"addons/blower": None},
    ),
    "rounded to the side that works": (
        "ADAPT-B8-F6",
        HOSE | {"clearances": [room("centre", 20.0)]},
        {"items/ADAPT-B8-F6/standout_mm": 26.04},
        "centre",
        [("clearance", -6.04, "mm")],
        {"clearances/centre/axial_mm": 26.1},
    ),
    "out of reach": (
        "SPIGOT-B8-Q",
        FACTORY,
        {"chassis/brook/hookups/0/spots/left/min_mm": 35.5},
        "left",
        [("reach", -5.5, "mm")],
        None,
    ),
    "weak": (
        "GAUGE-T",
        HOSE | {"gauge": "any", "boost_kpa": 450.05},
        {},
        "top",
        [("pressure", -50.05, "kPa")],
        {"boost_kpa": 400.0},
    ),
    "does not stand the fuel": (
        "ADAPT-B8-F6",
        HOSE | {"fuel": "e85"},
        {"materials/-": ODD, "items/ADAPT-B8-F6/wetted": ["odd"]},
        "centre",
        [("fuel", None, None)],
        {"fuel": "petrol"},
    ),
    "excluded": (
        "ADAPT-B8-F6",
        HOSE | {"exclude": ["ADAPT-B8-F6", "LINE-F6"]},
        {},
        "centre",
        [("wish", None, None)],
        {"exclude/ADAPT-B8-F6": None},
    ),
    "excluded and retired": (
        "ADAPT-B8-F6",
        HOSE | {"exclude": ["ADAPT-B8-F6"]},
        {"items/ADAPT-B8-F6/status": "retired"},
        "centre",
        [("supply", None, None), ("wish", None, None)],
        None,
    ),
    "another finish and excluded": (
        "PLUG-B8",
        HOSE | {"exclude": ["PLUG-B8"], "finish": "slate"},
        {"items/PLUG-B8/family": "plug", "items/PLUG-B8/finish": "black"}
        | {"items/-": twin("PLUG-B8", "PLUG-S", family="plug", finish="slate")},
        "left",
        [("wish", None, None), ("wish", None, None)],
        None,
    ),
    "bought elsewhere, which is not allowed": (
        "ADAPT-B8-F6",
        HOSE | {"allow_unsold": False},
        {"items/ADAPT-B8-F6/sold": False},
        "centre",
        [("wish", None, None)],
        {"allow_unsold": True},
    ),
    "for another pattern": (
        "ADAPT-B8-F6",
        HOSE,
        {"items/ADAPT-B8-F6/patterns": ["broad-six"]},
        "centre",
        [("pattern", None, None)],
        None,
    ),
    "through a regulator that was not asked for": ("REG-F6", HOSE, {}, "centre", [("via", None, None)], None),
    "of a kind that a closed spot does not take": ("ADAPT-B8-F6", HOSE, {}, "left", [("closed", None, None)], None),
    "without a way on": ("SPIGOT-B8-Q", HOSE, {}, "centre", [("mates", None, None)], None),
    "without a way to it": ("LINE-F6", HOSE, {}, "centre", [("mates", None, None)], None),
    "not meeting the spot": ("PLUG-T", HOSE, {}, "left", [("mates", None, None)], None),
    "beside the plug of the rail": (
        "PLUG-U",
        HOSE,
        {"items/-": twin("PLUG-T", "PLUG-U")},
        "top",
        [("supplied", None, None)],
        None,
    ),
    "from elsewhere, beside one that is sold": (
        "ADAPT-E",
        HOSE,
        {"items/-": twin("ADAPT-B8-F6", "ADAPT-E", sold=False)},
        "centre",
        [("elsewhere", None, None)],
        None,
    ),
    "out of stock": (
        "ADAPT-B8-F6",
        LINKED | {"in_stock_only": True},
        {"items/ADAPT-B8-F6/stock": 1},
        "1.right",
        [("supply", -1.0, "units")],
        {"in_stock_only": False},
    ),
    "too dear": (
        "ADAPT-D",
        HOSE | {"max_price": 22_300},
        {"items/-": twin("ADAPT-B8-F6", "ADAPT-D", price=9_000)},
        "centre",
        [("wish", -7_400.0, "minor units")],
        {"max_price": 29_700},
    ),
    "a gauge that was not asked for": ("GAUGE-T", HOSE, {}, "top", [("closed", None, None)], {"gauge": "top"}),
    "where another spot is dead": (
        "PLUG-B8",
        HOSE | {"clearances": [room("centre", 20.0)]},
        {},
        "left",
        [("clearance", None, None)],
        {"clearances/centre/axial_mm": 26.0},
    ),
}


@pytest.mark.parametrize("name", STOPS)
def test_every_rule_that_stops_a_part(name: str) -> None:
    """Each with what is missing, and the smallest change of one wish that lets the part in."""
    sku, request, changes, spot, rules, changed = STOPS[name]
    verdict = verdict_on(sku, request, changes, spot=spot)
    assert not verdict["stands"]
    assert stopped_by(verdict) == rules
    assert change(verdict) == changed


def test_of_several_chains_the_one_that_comes_furthest_is_told() -> None:
    """The one that the fewest rules stop, though it misses by more; of those alike the one that misses by less."""
    cramped = HOSE | {"clearances": [room("centre", 24.0)], "exclude": ["ADAPT-X"]}
    excluded = fitting("ADAPT-X", ("boss-8", "male"), ("quick-3/8", "male"), standout_mm=5.0)
    join = fitting("JOIN-Q", ("quick-3/8", "female"), ("flare-6", "male"), standout_mm=20.0)
    document = catalog({"items/-": excluded})
    document["items"].append(join)
    verdict = at(explain(document, cramped, "JOIN-Q", "centre"), "centre")
    assert (verdict["chain"], stopped_by(verdict)) == (["SPIGOT-B8-Q", "JOIN-Q"], [("clearance", -26.0, "mm")])
    document["items"].append(excluded | {"sku": "ADAPT-Y", "standout_mm": 8.0})
    verdict = at(explain(document, cramped, "JOIN-Q", "centre"), "centre")
    assert (verdict["chain"], stopped_by(verdict)) == (["ADAPT-Y", "JOIN-Q"], [("clearance", -4.0, "mm")])
    assert change(verdict) == {"clearances/centre/axial_mm": 28.0}


def test_a_path_that_is_asked_too_much_tells_what_it_could_carry() -> None:
    """To the flow at which the drop, or the velocity, is at its limit; the change is the most power that still goes."""
    document = catalog()
    verdict = at(explain(document, HOSE | {"power_kw": 2_000}, "ADAPT-B8-F6", "centre"), "centre")
    [(rule, left, unit)] = stopped_by(verdict)
    assert (rule, unit) == ("flow", "L/h")
    facts = verdict["rules"][0]["facts"]
    power_kw = (change(verdict) or {})["power_kw"]
    assert facts["flow_l_h"] + left == pytest.approx(facts["flow_l_h"] * power_kw / 2_000, rel=1e-3)
    for more, stands in ((0.0, True), (0.1, False)):
        asked = HOSE | {"power_kw": round(power_kw + more, 1)}
        assert at(explain(document, asked, "ADAPT-B8-F6", "centre"), "centre")["stands"] is stands


def test_feeds_that_share_a_rail_tell_what_they_could_carry_together() -> None:
    """The narrow feed is judged beside the best that the other one has."""
    both = {"left": {"duty": "feed", "hookup": HOSE_END}, "right": {"duty": "feed", "hookup": HOSE_END}}
    document = catalog({"layouts/-": {"id": "both", "name": "Both", "summary": "", "banks": 1, "placements": [both]}})
    document["items"].append(twin("ADAPT-B8-F6", "ADAPT-N", flow=passage(2.0, 40.0, 0.4)))
    request = {"chassis": "brook", "layout": "both", "power_kw": 900}
    best = answer(document, request | {"order_by": "drop"})["bills"][0]["flow"]["paths"]
    document["policies"] |= {"max_feed_drop_kpa": 1.5 * best[0]["drop_kpa"], "max_velocity_m_s": 100.0}
    verdict = at(explain(document, request, "ADAPT-N", "left"), "left")
    [(rule, left, unit)] = stopped_by(verdict)
    assert (rule, unit) == ("flow", "L/h")
    assert left is not None
    assert left < 0
    assert at(explain(document, request, "ADAPT-B8-F6", "left"), "left")["stands"]


HOSE_END: Json = {"kind": "own-hose", "standard": "flare-6", "end": "female"}


def test_where_it_stands_what_is_left_is_told() -> None:
    """Of each rule that measures, in the cheapest bill with it."""
    document = catalog({"items/-": twin("ADAPT-B8-F6", "ADAPT-D", price=9_000)})
    found = explain(document, HOSE | {"clearances": [room("centre", 30.0, 40.0)]}, "ADAPT-D")
    assert (found["in_bills"], found["where"]) == (True, ["centre"])
    verdict = at(found, "centre")
    lefts = {rule: (left, unit) for rule, left, unit in stopped_by(verdict) if unit is not None}
    assert lefts["clearance"] == (4.0, "mm")
    assert lefts["pressure"] == (700.0, "kPa")
    assert lefts["flow"][1] == "L/h"
    assert lefts["flow"][0] is not None
    assert lefts["flow"][0] > 0
    assert {"mates", "closed", "fuel", "supply"} <= {rule for rule, _, _ in stopped_by(verdict)}


def test_both_ends_of_a_link() -> None:
    """The chain of a link stands at both of its spots, though bills list it under the first."""
    found = explain(catalog(), LINKED, "LINE-F6")
    assert found["where"] == ["1.right"]
    assert [verdict["spot"] for verdict in found["verdicts"] if verdict["stands"]] == ["1.right", "2.right"]
    far = explain(catalog(), LINKED, "ADAPT-B8-F6", "2.right")
    mates = next(rule for rule in at(far, "2.right")["rules"] if rule["rule"] == "mates")
    assert mates["text"].endswith("meets Link line, size-6 flare, 400 mm.")


RAILS: dict[str, tuple[Json, Json, list[tuple[str, float | None, str | None]], Json | None]] = {
    "of another pattern": (
        HOSE,
        {"items/-": twin("RAIL-S", "RAIL-X", patterns=["broad-six"])},
        [("pattern", None, None)],
        None,
    ),
    "weak and of another finish": (
        HOSE | {"finish": "slate", "boost_kpa": 100},
        {"items/-": twin("RAIL-S", "RAIL-X", finish="black", max_kpa=350.0)},
        [("pressure", -50.0, "kPa"), ("wish", None, None)],
        None,
    ),
    "without a spot": (
        RETURN,
        {
            "items/-": twin(
                "RAIL-S", "RAIL-X", ports=[{"id": "l", "standard": "boss-8", "end": "female", "spot": "left"}]
            )
        },
        [("layout", None, None)],
        None,
    ),
    "out of stock": (
        LINKED | {"in_stock_only": True},
        {"items/-": twin("RAIL-S", "RAIL-X", stock=1)},
        [("supply", -1.0, "units")],
        {"in_stock_only": False},
    ),
    "too dear": (
        HOSE | {"max_price": 30_000},
        {"items/-": twin("RAIL-S", "RAIL-X", price=30_000)},
        [("wish", -3_300.0, "minor units")],
        {"max_price": 33_300},
    ),
    "for an engine with other banks": (
        HOSE | {"chassis": "heron"},
        {"items/-": twin("RAIL-S", "RAIL-X")},
        [("layout", None, None)],
        None,
    ),
    "beside a rail by somebody else": (
        HOSE | {"own_rail": {"centre": {"standard": "boss-8", "end": "female"}}},
        {"items/-": twin("RAIL-S", "RAIL-X")},
        [("pattern", None, None)],
        None,
    ),
}


@pytest.mark.parametrize("name", RAILS)
def test_every_rule_that_stops_a_rail(name: str) -> None:
    request, changes, rules, changed = RAILS[name]
    verdict = verdict_on("RAIL-X", request, changes)
    assert (verdict["duty"], verdict["stands"]) == ("rail", False)
    assert stopped_by(verdict) == rules
    assert change(verdict) == changed


def test_a_rail_of_valid_bills() -> None:
    found = explain(catalog(), HOSE, "RAIL-S")
    assert (found["in_bills"], found["where"]) == (True, ["rail"])
    assert at(found, None)["stands"]
    own = {"own_rail": {"centre": {"standard": "boss-8", "end": "female"}}}
    assert explain(catalog(), HOSE | own, "own-rail")["where"] == ["rail"]


@pytest.mark.parametrize(
    ("sku", "request_", "where"),
    [
        pytest.param("SCREW-6", HOSE, ["mounting"], id="fills a mounting role"),
        pytest.param("SPACER-5", HOSE, ["mounting"], id="is on the car"),
        pytest.param("SEALANT", RETURN, ["extra"], id="goes with a joint"),
        pytest.param("SEALANT", HOSE | {"exclude": ["PLUG-T"]}, [], id="goes with a joint that no bill has"),
        pytest.param("SCREW-6-LONG", HOSE, [], id="fills a role of an add-on that is not there"),
        pytest.param("SCREW-6", HOSE | {"addons": ["blower"]}, [], id="is replaced by an add-on's"),
    ],
)
def test_parts_that_stand_at_no_spot(sku: str, request_: Json, where: list[str]) -> None:
    found = explain(catalog(), request_, sku)
    assert (found["where"], found["in_bills"]) == (where, bool(where))
    assert [verdict["spot"] for verdict in found["verdicts"]] == [None]
    assert found["verdicts"][0]["stands"] is bool(where)


def test_a_part_that_comes_in_a_box() -> None:
    """With the part in whose box it is, and not without."""
    boxed = {"items/ADAPT-B8-F6/supplied": [{"sku": "SEAL-B8", "qty": 1}], "joints/boss-8-torque/spare_seal": "SEALANT"}
    assert explain(catalog(boxed), HOSE, "SEAL-B8")["where"] == ["box"]
    assert explain(catalog(boxed), HOSE | {"exclude": ["ADAPT-B8-F6"]}, "SEAL-B8")["where"] == []


def test_what_replaces_a_mounting_part_is_told() -> None:
    verdict = verdict_on("SCREW-6", HOSE | {"addons": ["blower"]})
    assert [rule for rule, _, _ in stopped_by(verdict)] == ["mounting"]
    assert change(verdict) == {"addons/blower": None}


def test_a_spot_that_no_rail_in_question_has() -> None:
    """The pattern has it, but the rail that is there does not."""
    own = {"own_rail": {"centre": {"standard": "boss-8", "end": "female"}}}
    verdict = verdict_on("PLUG-B8", HOSE | own, spot="left")
    assert (verdict["duty"], verdict["stands"]) == (None, False)
    assert [rule for rule, _, _ in stopped_by(verdict)] == ["layout"]


def test_a_retired_part_that_is_had_stands() -> None:
    """And without it at hand, it does not."""
    retired = {"items/ADAPT-B8-F6/status": "retired"}
    have = {"have": [{"sku": "ADAPT-B8-F6", "qty": 1}]}
    assert explain(catalog(retired), HOSE | have, "ADAPT-B8-F6")["where"] == ["centre"]
    assert stopped_by(verdict_on("ADAPT-B8-F6", HOSE, retired, spot="centre")) == [("supply", None, None)]


def test_more_of_a_part_than_is_had_and_can_be_got() -> None:
    """A link needs two of the retired adapter; one is there."""
    retired = {"items/ADAPT-B8-F6/status": "retired"}
    verdict = verdict_on("LINE-F6", LINKED | {"have": [{"sku": "ADAPT-B8-F6", "qty": 1}]}, retired, spot="1.right")
    assert {rule for rule, _, _ in stopped_by(verdict)} == {"supply"}
    assert explain(catalog(retired), LINKED | {"have": [{"sku": "ADAPT-B8-F6", "qty": 2}]}, "LINE-F6")["in_bills"]


def test_stock_that_the_whole_bill_runs_out_of() -> None:
    """Each spot would do alone, all together need more than there is."""
    verdict = verdict_on("PLUG-B8", HOSE | {"in_stock_only": True}, {"items/PLUG-B8/stock": 1}, spot="left")
    assert stopped_by(verdict) == [("supply", -1.0, "units")]
    assert change(verdict) == {"in_stock_only": False}


def test_no_gauge_where_fuel_runs_through_every_spot() -> None:
    own = {"own_rail": {"centre": {"standard": "boss-8", "end": "female"}}}
    verdict = verdict_on("ADAPT-B8-F6", HOSE | own | {"gauge": "any"})
    assert [rule for rule, _, _ in stopped_by(verdict)] == ["wish"]
    assert change(verdict) == {"gauge": "none"}
