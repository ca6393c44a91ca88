"""The power answer of whole bills: where each fact comes from, what is not told, verdicts, cautions; worked by hand."""

from typing import Any

import pytest

from tests.support.catalogs import GONE, changed
from tests.support.engine import answer
from tests.support.engineering_data import told_catalog
from tests.support.figures import SIX_DIGITS

Json = dict[str, Any]

CAR = "/chassis/0"
RAIL: Json = {"chassis": "brook", "layout": "through-return", "limit": 1}
"""A return through a regulator on the rail."""
TANK: Json = {"chassis": "brook", "layout": "hose-centre", "limit": 1}
"""Nothing returns."""
REGULATES = next(place for place, item in enumerate(told_catalog()["items"]) if item["sku"] == "REG-F6")


def power_of(asked: Json, changes: Json | None = None) -> Json:
    return dict(bill_of(asked, changes)["power"])


def bill_of(asked: Json, changes: Json | None = None) -> Json:
    return dict(answer(changed(told_catalog(), changes or {}), asked)["bills"][0])


def kw(power: Json, what: str) -> float:
    return next(float(limit["kw"]) for limit in power["limits"] if limit["what"] == what)


def test_injectors_worked_by_hand() -> None:
    """Four injectors of 20 L/h at 300 kPa, 85 % of the time; the catalog's petrol: 300 g/kWh, 750 kg/m3.

    On the rail 300 kPa stand over them: 4 * 20 * 0.85 = 68 L/h, and 68 * 750 / 300 = 170 kW. With twice the flow and
    400 kPa: 8 injectors' worth: 340 * sqrt(400 / 300) = 392.6 kW. Boosted by 60 without following, 240 kPa stand over
    them: 68 * sqrt(0.8) = 60.821 L/h at 360 g/kWh: 126.71 kW.
    """
    density, base = told_catalog()["fuels"][0]["density_kg_m3"], told_catalog()["chassis"][0]["base_kpa"]
    na = 68 * (base / 300) ** 0.5 * density / 300
    assert kw(power_of(RAIL), "injectors") == pytest.approx(na, rel=SIX_DIGITS)
    own = {"injectors": {"static_l_h": 40, "rated_kpa": 300}, "regulator": {"set_kpa": 400}}
    assert kw(power_of(RAIL | own), "injectors") == pytest.approx(2 * 68 * (400 / 300) ** 0.5 * density / 300)
    boosted = {"boost_kpa": 60, "regulator": {"set_kpa": 300, "follows": "atmosphere"}}
    assert kw(power_of(RAIL | boosted), "injectors") == pytest.approx(68 * 0.8**0.5 * density / 360, rel=SIX_DIGITS)


FOLLOWED: dict[str, tuple[Json, Json, str]] = {
    "the request goes first": (RAIL | {"regulator": {"follows": "atmosphere"}}, {}, "atmosphere"),
    "then the part": (RAIL, {f"{CAR}/regulator/follows": "atmosphere"}, "manifold"),
    "then the car": (
        *(RAIL, {f"/items/{REGULATES}/regulates": GONE, f"{CAR}/regulator/follows": "atmosphere"}),
        "atmosphere",
    ),
    "else it is not told": (RAIL, {f"/items/{REGULATES}/regulates": GONE, f"{CAR}/regulator": GONE}, "not told"),
    "a part that is not there tells nothing": (TANK, {f"{CAR}/regulator": GONE}, "not told"),
    "with the car's": (TANK, {}, "manifold"),
}


@pytest.mark.parametrize(("asked", "changes", "follows"), FOLLOWED.values(), ids=FOLLOWED.keys())
def test_what_the_regulator_follows(asked: Json, changes: Json, follows: str) -> None:
    """The first that tells it, boosted or not."""
    assert power_of(asked, changes)["follows"] == follows
    assert power_of(asked | {"boost_kpa": 40}, changes)["follows"] == follows


PLACES: dict[str, tuple[Json, Json, str]] = {
    "on the rail": (RAIL, {}, "rail"),
    "behind the return": (RAIL, {"/layouts/2/placements/0/right/via": GONE}, "after"),
    "the car's own, by a sensor": (TANK, {}, "rail"),
    "the car's own, at the tank": (TANK, {f"{CAR}/regulator/at": "tank"}, "tank"),
    "nothing told: at the tank": (TANK, {f"{CAR}/regulator": GONE}, "tank"),
}


@pytest.mark.parametrize(("asked", "changes", "place"), PLACES.values(), ids=PLACES.keys())
def test_where_the_pressure_is_held(asked: Json, changes: Json, place: str) -> None:
    """Bills say it among the facts of pump and injectors."""
    document = told_catalog()
    at = next(i for i, layout in enumerate(document["layouts"]) if layout["id"] == "through-return")
    moved = {path.replace("/layouts/2/", f"/layouts/{at}/"): value for path, value in changes.items()}
    power = power_of(asked, moved)
    assert {x["facts"]["held_at"] for x in power["limits"] if x["what"] != "plumbing"} == {place}


@pytest.mark.parametrize(
    ("changes", "asked", "not_told"),
    [
        ({}, {}, []),
        ({f"{CAR}/pump": GONE, f"{CAR}/pump_v": GONE}, {}, ["pump"]),
        ({f"{CAR}/injectors": GONE}, {}, ["injectors"]),
        ({f"{CAR}/pump": GONE, f"{CAR}/pump_v": GONE, f"{CAR}/injectors": GONE}, {}, ["pump", "injectors"]),
        ({f"{CAR}/injectors": GONE}, {"injectors": {"static_l_h": 9, "rated_kpa": 300}}, []),
    ],
)
def test_what_is_not_told(changes: Json, asked: Json, not_told: list[str]) -> None:
    """It is listed, and the sentence says so."""
    power = power_of(TANK | asked, changes)
    assert power["not_told"] == not_told
    assert [limit["what"] for limit in power["limits"]] == [
        what for what in ("plumbing", "pump", "injectors") if what not in not_told
    ]
    assert ("as far as is told" in power["text"]) == bool(not_told)
    assert power["carries_kw"] == min(limit["kw"] for limit in power["limits"])


def test_nothing_is_told_at_all() -> None:
    """No number, no limit, and all is well."""
    document = told_catalog()
    for thing in (*document["items"], *document["chassis"], *document["layouts"]):
        for name in ("flow", "pump", "pump_v", "injectors"):
            thing.pop(name, None)
        for hookup in thing.get("hookups", []):
            hookup.pop("flow", None)
        for placement in thing.get("placements", []):
            for entry in placement.values():
                entry.get("hookup", {}).pop("flow", None)
    power = answer(document, TANK)["bills"][0]["power"]
    assert (power["carries_kw"], power["limited_by"], power["verdict"]) == (None, None, "ok")
    assert power["not_told"] == ["plumbing", "pump", "injectors"]


@pytest.mark.parametrize(
    ("of_carried", "reserve", "verdict"),
    [
        (0.5, None, "ok"),
        (0.83, None, "ok"),
        (0.84, None, "tight"),
        (0.999, 0, "ok"),
        (0.999, 0.1, "tight"),
        (1.001, 0, "over"),
    ],
)
def test_verdicts(of_carried: float, reserve: float | None, verdict: str) -> None:
    """Over what it carries; within it with less than the reserve on top (0.2 where none is set); or with all of it."""
    changes: Json = {"/policies/power_reserve": GONE if reserve is None else reserve}
    carries = power_of(RAIL, changes)["carries_kw"]
    power = power_of(RAIL | {"power_kw": carries * of_carried}, changes)
    assert (power["verdict"], power["assumed"]) == (verdict, False)
    assert power["reserve"] == (0.2 if reserve is None else reserve)


def test_boost_without_a_power_is_said_aloud() -> None:
    """In the text and as a caution; not without boost, and not with a power."""
    words = "the stock power is taken, though it is boosted"
    bill = bill_of(RAIL | {"boost_kpa": 40})
    assert words in bill["power"]["text"]
    [caution] = [x for x in bill["cautions"] if x["rule"] == "power"]
    assert words in caution["text"]
    for more in ({}, {"boost_kpa": 40, "power_kw": 80}):
        bill = bill_of(RAIL | more)
        assert words not in bill["power"]["text"]
        assert not [x for x in bill["cautions"] if x["rule"] == "power"]


@pytest.mark.parametrize(("set_kpa", "cautioned"), [(199.9, True), (200, False), (500, False), (500.1, True)])
def test_a_set_pressure_out_of_reach_is_cautioned(set_kpa: float, cautioned: bool) -> None:
    """Of the regulator that stands on the rail; no bill falls by it."""
    asked = RAIL | {"regulator": {"set_kpa": set_kpa}}
    assert [x["rule"] for x in bill_of(asked)["cautions"]].count("regulator") == int(cautioned)
    assert [x["rule"] for x in bill_of(TANK | {"regulator": {"set_kpa": set_kpa}})["cautions"]].count("regulator") == 0


def _two_regulators() -> tuple[Json, Json]:
    """A question whose fuel goes back at both ends of the rail, with changes that give a second regulator: 100 to 250
    kPa, over the atmosphere."""
    document = told_catalog()
    at = next(i for i, layout in enumerate(document["layouts"]) if layout["id"] == RAIL["layout"])
    feed, back = (document["layouts"][at]["placements"][0][spot] for spot in ("left", "right"))
    other = document["items"][REGULATES] | {
        "sku": "REG-AIR",
        "regulates": {"min_kpa": 100, "max_kpa": 250, "follows": "atmosphere"},
    }
    other.pop("gtin", None)
    return RAIL | {"limit": 100, "regulator": {"set_kpa": 300}}, {
        f"/layouts/{at}/placements": [{"centre": feed, "left": back, "right": back}],
        "/items/-": other,
    }


@pytest.mark.parametrize(
    ("more", "apart"),
    [
        ({}, False),
        ({"boost_kpa": 40, "power_kw": 80}, True),
        ({"boost_kpa": 40, "power_kw": 80, "regulator": {"set_kpa": 300, "follows": "manifold"}}, False),
    ],
)
def test_every_regulator_of_a_bill_is_cautioned(more: Json, apart: bool) -> None:
    """Each that cannot be set so, wherever it stands; and boosted, that two of them follow different things."""
    asked, changes = _two_regulators()
    bills = answer(changed(told_catalog(), changes), asked | more)["bills"]
    seen = set()
    for bill in bills:
        used = tuple(sku for spot in ("left", "right") for sku in bill["chains"][spot] if sku.startswith("REG"))
        told = [x["facts"] for x in bill["cautions"] if x["rule"] == "regulator"]
        assert [x["sku"] for x in told if "sku" in x] == ["REG-AIR"] * ("REG-AIR" in used)
        assert [x["skus"] for x in told if "skus" in x] == [list(used)] * (apart and len(set(used)) > 1)
        seen.add(used)
    assert {("REG-F6", "REG-AIR"), ("REG-AIR", "REG-F6"), ("REG-F6", "REG-F6")} <= seen


def test_a_power_that_looks_like_what_is_carried() -> None:
    """More is asked than it carries, though both are worded alike: the sentence does not read as if neither were."""
    carries = power_of(RAIL)["carries_kw"]
    power = power_of(RAIL | {"power_kw": carries + 0.001})
    assert power["verdict"] == "over"
    assert "asked for is a little more than that" in power["text"]
    assert "asked for is more than that" in power_of(RAIL | {"power_kw": carries + 1})["text"]


def test_what_hangs_on_the_regulator_is_said() -> None:
    """Not told, and boosted: the lesser is shown."""
    untold: Json = {f"{CAR}/regulator": GONE}
    asked = TANK | {"boost_kpa": 60, "power_kw": 80}
    power = power_of(asked, untold)
    both = [power_of(asked | {"regulator": {"follows": x}}, untold) for x in ("manifold", "atmosphere")]
    assert power["carries_kw"] == min(x["carries_kw"] for x in both)
    assert "This hangs on what the regulator follows" in power["text"]
    assert "hangs" not in power_of(asked | {"boost_kpa": 0}, untold)["text"]


def test_voltages_alone_go_with_the_car_s_pump() -> None:
    """At half the voltage half the flow; the car's own voltages go before none."""
    level: Json = {f"{CAR}/pump": [{"kpa": 0, "l_h": 100}, {"kpa": 9000, "l_h": 100}]}
    volts = [{"rated": 12, "fed": fed} for fed in (12, 6)]
    full, half = (kw(power_of(TANK | {"pump_v": pair}, level), "pump") for pair in volts)
    assert full == pytest.approx(2 * half, rel=SIX_DIGITS)
