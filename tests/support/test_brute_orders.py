"""Order checks of the slow solver: worked out by hand."""

from typing import Any

import pytest

from tests.support.brute_orders import OracleCheck, check
from tests.support.builders import FACTORY, HOSE, catalog, twin

Json = dict[str, Any]

RIGHT: Json = {"RAIL-S": 1, "ADAPT-B8-F6": 1, "PLUG-B8": 2}
BROOK: Json = {"chassis": "brook"}


def checked(lines: Json, asked: Json = HOSE, *changes: Json) -> OracleCheck:
    """The check of an order on the small catalog with changes."""
    return check(catalog(*changes), asked | {"lines": [{"sku": sku, "qty": qty} for sku, qty in lines.items()]})


def changes_of(found: OracleCheck) -> tuple[Json, Json, int]:
    """What to add and to remove, and the change of price."""
    assert found.nearest is not None
    return dict(found.nearest.add), dict(found.nearest.remove), found.nearest.price_change


@pytest.mark.parametrize(
    ("lines", "verdict", "add", "remove", "price_change"),
    [
        (RIGHT, "complete", {}, {}, 0),
        (RIGHT | {"PLUG-B8": 1}, "short", {"PLUG-B8": 1}, {}, 900),
        (RIGHT | {"PLUG-B8": 4, "LINE-F6": 1}, "surplus", {}, {"PLUG-B8": 2, "LINE-F6": 1}, -2 * 900 - 4600),
        (
            {"RAIL-S": 1, "SPIGOT-B8-Q": 1, "PLUG-B8": 2},
            "wrong",
            {"ADAPT-B8-F6": 1},
            {"SPIGOT-B8-Q": 1},
            1500 - 2100,
        ),
        (RIGHT | {"SEAL-B8": 9, "SCREW-6": 4, "NOWHERE": 7}, "complete", {}, {}, 0),
        ({"NOWHERE": 1}, "short", RIGHT, {}, 18900 + 1500 + 2 * 900),
        (RIGHT | {"PLUG-T": 1}, "surplus", {}, {"PLUG-T": 1}, -400),
    ],
)
def test_verdicts(lines: Json, verdict: str, add: Json, remove: Json, price_change: int) -> None:
    """Small parts and what is unknown are not compared; a part that the rail brings along is one too many."""
    found = checked(lines)
    assert (found.verdict, *changes_of(found)) == (verdict, add, remove, price_change)


def test_impossible() -> None:
    """No layout has a bill."""
    found = checked(RIGHT, BROOK, {"items/PLUG-B8/status": "retired"})
    assert (found.verdict, found.nearest, found.possible) == ("impossible", None, {})


def test_a_superseded_part_counts_as_its_last_successor() -> None:
    """Through one that is superseded itself, at the price of today."""
    history = [
        {"items/-": twin("PLUG-B8", "PLUG-1", status="retired", superseded_by="PLUG-2", price=1)},
        {"items/-": twin("PLUG-B8", "PLUG-2", status="retired", superseded_by="PLUG-B8", price=2)},
    ]
    found = checked({"RAIL-S": 1, "ADAPT-B8-F6": 1, "PLUG-1": 1, "PLUG-B8": 1}, HOSE, *history)
    assert (found.verdict, *changes_of(found)) == ("complete", {}, {}, 0)


def test_of_as_many_changes_the_cheapest_bill() -> None:
    """With a line of 904 to go, the plug of 900 goes before one of 905, which would change the price less."""
    offers: list[Json] = [{"items/-": twin("PLUG-B8", "PLUG-X", price=905)}, {"items/LINE-F6/price": 904}]
    lines = {"RAIL-S": 1, "ADAPT-B8-F6": 1, "PLUG-B8": 1, "LINE-F6": 1}
    assert changes_of(checked(lines, HOSE, *offers)) == ({"PLUG-B8": 1}, {"LINE-F6": 1}, -4)


def test_the_change_of_price_may_go_down() -> None:
    """50 less as well as 100 more: the cheaper bill."""
    offers: list[Json] = [{"items/-": twin("PLUG-B8", "PLUG-X", price=1050)}, {"items/SPIGOT-B8-Q/price": 950}]
    lines = {"RAIL-S": 1, "ADAPT-B8-F6": 1, "PLUG-B8": 1, "SPIGOT-B8-Q": 1}
    assert changes_of(checked(lines, HOSE, *offers)) == ({"PLUG-B8": 1}, {"SPIGOT-B8-Q": 1}, -50)


@pytest.mark.parametrize(
    ("asked", "add", "remove"),
    [
        (HOSE, {}, {}),
        (HOSE | {"gauge": "none"}, {}, {"GAUGE-T": 1}),
        (HOSE | {"gauge": "top"}, {}, {}),
    ],
)
def test_an_ordered_gauge_tells_that_one_is_wanted(asked: Json, add: Json, remove: Json) -> None:
    """Unless the request says something else."""
    assert changes_of(checked(RIGHT | {"GAUGE-T": 1}, asked))[:2] == (add, remove)


def test_had_units_go_first_and_are_not_compared() -> None:
    """Ordered plugs are too many where two are had; a gauge that is had does not tell that one is wanted."""
    had = {"have": [{"sku": "PLUG-B8", "qty": 2}, {"sku": "GAUGE-T", "qty": 1}]}
    assert changes_of(checked(RIGHT, HOSE | had)) == ({}, {"PLUG-B8": 2}, -2 * 900)
    assert checked({"RAIL-S": 1, "ADAPT-B8-F6": 1}, HOSE | had).verdict == "complete"


def test_own_rail_is_not_compared() -> None:
    """It is had: a rail that is ordered is too many."""
    own = {"own_rail": {"centre": {"standard": "boss-8", "end": "female"}}}
    assert checked({"ADAPT-B8-F6": 1}, HOSE | own).verdict == "complete"
    assert changes_of(checked({"ADAPT-B8-F6": 1, "RAIL-S": 1}, HOSE | own))[:2] == ({}, {"RAIL-S": 1})


def test_parts_from_elsewhere_are_not_compared() -> None:
    """An unsold plug is no change; its estimate is in neither price."""
    unsold = {"items/PLUG-B8/sold": False}
    assert changes_of(checked(RIGHT, HOSE, unsold)) == ({}, {}, 0)
    assert changes_of(checked({"RAIL-S": 1, "PLUG-B8": 1}, HOSE, unsold)) == (
        {"ADAPT-B8-F6": 1},
        {},
        1500,
    )


def test_several_cars() -> None:
    """Two sets take twice as much."""
    found = checked({"RAIL-S": 2, "ADAPT-B8-F6": 2, "PLUG-B8": 3}, HOSE | {"sets": 2})
    assert (found.verdict, *changes_of(found)) == ("short", {"PLUG-B8": 1}, {}, 900)


def test_the_nearest_layout() -> None:
    """Without a layout the spigot tells that the car's own line is used; every layout with a bill is listed.

    With a return: two adapters, a regulator and its side plug to add, the spigot and a plug to remove.
    """
    found = checked({"RAIL-S": 1, "SPIGOT-B8-Q": 1, "PLUG-B8": 2}, BROOK)
    assert found.nearest is not None
    assert (found.nearest.layout, found.verdict) == ("factory", "complete")
    assert {layout: nearest.changes for layout, nearest in found.possible.items()} == {
        "factory": 0,
        "hose-centre": 2,
        "through-return": 4 + 2,
    }
    assert checked({"SPIGOT-B8-Q": 1}, FACTORY).verdict == "short"


def test_of_layouts_alike_the_first_in_the_catalog() -> None:
    """A copy of a layout under another name comes second wherever its name sorts."""
    copy = catalog()["layouts"][1] | {"id": "a-copy"}
    found = checked(RIGHT, BROOK, {"layouts/-": copy})
    assert found.nearest is not None
    assert found.nearest.layout == "hose-centre"
    assert found.possible["a-copy"].changes == 0
