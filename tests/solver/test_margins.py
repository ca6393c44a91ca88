"""What bills have left of their limits: worked out by hand on the small catalog."""

import pytest

from tests.support.builders import HOSE, LINKED, RETURN, Json, catalog, layout, room, twin
from tests.support.engine import answer_from, edition
from tests.support.reading import ask

OPEN: Json = {"policies/max_feed_drop_kpa": 100_000.0, "policies/max_velocity_m_s": 1_000.0}
"""Policies that nothing comes near."""


def margin(request: Json, *changes: Json) -> Json:
    """The margin of the first bill."""
    return dict(ask(catalog(*changes), request)["bills"][0]["margin"])


def tightest(request: Json, *changes: Json) -> Json:
    return {name: value for name, value in margin(request, *changes)["tightest"].items() if name != "text"}


def of_pressure(spot: str | None, part: str, left: float, relative: float) -> Json:
    return {"what": "pressure", "spot": spot, "part": part, "left": left, "unit": "kPa", "relative": relative}


@pytest.mark.parametrize(
    ("request_", "changes", "expected"),
    [
        pytest.param(
            HOSE | {"clearances": [room("centre", 28.0)]},
            {},
            {"what": "clearance", "spot": "centre", "part": None, "left": 2.0, "unit": "mm", "relative": 0.071429},
            id="along the axis",
        ),
        pytest.param(
            HOSE | {"clearances": [room("left", across_mm=25.0)]},
            {},
            {"what": "across", "spot": "left", "part": None, "left": 1.0, "unit": "mm", "relative": 0.04},
            id="across",
        ),
        pytest.param(
            HOSE | {"boost_kpa": 100},
            {"items/PLUG-T/max_kpa": 420.0},
            of_pressure("top", "PLUG-T", 20.0, 0.047619),
            id="pressure of a plug that comes with the rail",
        ),
        pytest.param(
            HOSE | {"boost_kpa": 100},
            {"items/RAIL-S/max_kpa": 410.0},
            of_pressure(None, "RAIL-S", 10.0, 0.02439),
            id="pressure of the rail",
        ),
        pytest.param(
            RETURN,
            {"items/PLUG-T/max_kpa": 305.0, "items/RAIL-S/supplied/0/sku": "PLUG-T"},
            of_pressure("right", "PLUG-T", 5.0, 0.016393),
            id="pressure of a side plug",
        ),
        pytest.param(
            HOSE | {"own_rail": {"centre": {"standard": "boss-8", "end": "female"}}},
            OPEN | {"items/ADAPT-B8-F6/max_kpa": 400.0, "items/RAIL-S/max_kpa": 301.0},
            {
                "what": "pressure",
                "spot": "centre",
                "part": "ADAPT-B8-F6",
                "left": 100.0,
                "unit": "kPa",
                "relative": 0.25,
            },
            id="not of a rail by somebody else",
        ),
    ],
)
def test_tightest(request_: Json, changes: Json, expected: Json) -> None:
    assert tightest(request_, changes) == expected


def test_drop_and_velocity() -> None:
    """Of the path's drop in percent, as its limit leaves it; the velocity where that is tighter."""
    path = ask(catalog(), HOSE)["bills"][0]["flow"]["paths"][0]
    limit_kpa = round(path["drop_kpa"] * 1.25, 3)
    found = tightest(HOSE, {"policies/max_feed_drop_kpa": limit_kpa})
    assert (found["what"], found["spot"], found["unit"]) == ("drop", "centre", "%")
    assert found["left"] == pytest.approx(20.0, abs=0.6)
    assert found["relative"] == pytest.approx(found["left"] / 100)
    found = tightest(HOSE, {"policies/max_velocity_m_s": path["peak_m_s"] * 1.1})
    assert (found["what"], found["spot"], found["unit"]) == ("velocity", "centre", "m/s")
    assert found["relative"] == pytest.approx(1 / 11, abs=1e-6)


def test_the_least_of_each_kind() -> None:
    """Along and across together; nothing limited has none."""
    rooms = [room("centre", 30.0), room("left", across_mm=27.0)]
    assert margin(HOSE | {"clearances": rooms})["clearance_mm"] == 3.0
    assert margin(HOSE, {"items/RAIL-S/max_kpa": 350.0})["pressure_kpa"] == 50.0
    open_ended = [{f"items/{sku}/max_kpa": None for sku in ("RAIL-S", "PLUG-B8", "PLUG-T", "ADAPT-B8-F6")}]
    without = margin(HOSE, *open_ended, {"chassis/brook/clearances": []})
    assert (without["clearance_mm"], without["pressure_kpa"]) == (None, None)
    assert without["drop_percent"] > 99


def test_a_link_is_held_to_the_room_at_both_ends() -> None:
    """The far end counts its own part of the chain."""
    found = tightest(LINKED | {"clearances": [room("2.right", 26.5)]})
    assert (found["what"], found["spot"], found["left"]) == ("clearance", "2.right", 0.5)
    found = tightest(LINKED | {"clearances": [room("1.right", 26.5)]})
    assert (found["what"], found["spot"], found["left"]) == ("clearance", "1.right", 0.5)


def test_nothing_limited_has_no_tightest() -> None:
    """An own rail that nothing flows through, closed by what nothing limits."""
    still = layout({}, layout_id="still")
    changes = {"layouts/-": still, "items/PLUG-B8/max_kpa": None}
    request = {"chassis": "brook", "layout": "still", "own_rail": {"left": {"standard": "boss-8", "end": "female"}}}
    assert margin(request, changes)["tightest"] is None


def test_the_order_goes_by_the_request_at_hand() -> None:
    """What one request worked out does not order another one's bills: the room across decides, or what stands most."""
    narrow = twin("ADAPT-B8-F6", "ADAPT-N", across_mm=20.0, max_kpa=600.0)
    ready = edition(catalog({"items/-": narrow}))
    wide, strong = {"clearances": [room("centre", across_mm=26.0)]}, {"clearances": [], "boost_kpa": 250}
    for _ in range(2):
        for wishes, first in ((wide, "ADAPT-N"), (strong, "ADAPT-B8-F6")):
            bills = answer_from(ready, HOSE | wishes | {"order_by": "margin"})["bills"]
            assert bills[0]["chains"]["centre"] == [first]
