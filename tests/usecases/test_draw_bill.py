"""The pressure along the paths of a bill: the bill's own drops, station by station."""

from typing import Any

import pytest

from service.documents.drawing import PathProfile, PathStation
from tests.explain.sheets import seed
from tests.support.builders import RETURN, catalog
from tests.support.catalogs import GONE
from tests.support.drawings import Drawn, drawn_in, seed_drawings
from tests.support.engine import edition
from tests.support.figures import SIX_DIGITS


@pytest.fixture(scope="module", params=sorted(seed_drawings()), name="drawn")
def _drawn(request: pytest.FixtureRequest) -> Drawn:
    return seed_drawings()[request.param]


def test_all_layouts_are_drawn() -> None:
    """Of one bank and of two, with return and without, on both fuels."""
    assert {name.split()[1] for name in seed_drawings()} == {*seed().revision.layouts}
    assert {name.split()[2] for name in seed_drawings()} == {"petrol", "e85"}


def test_stations_add_up_to_the_drop_of_the_bill(drawn: Drawn) -> None:
    """Each path is that of the bill, in its order; what its stations lose is what it loses."""
    paths = drawn.bill["flow"]["paths"]
    assert len(paths) == len(drawn.drawing["paths"]) > 0
    for path, profile in zip(paths, drawn.drawing["paths"], strict=True):
        for name in ("duty", "spots", "flow_l_h", "drop_kpa", "limit_kpa"):
            assert profile[name] == path[name]  # type: ignore[literal-required]
        lost = sum(station["drop_kpa"] or 0 for station in profile["stations"])
        assert lost == pytest.approx(path["drop_kpa"], rel=SIX_DIGITS, abs=1e-5)
        assert profile["stations"][-1]["lost_kpa"] == pytest.approx(lost, rel=SIX_DIGITS, abs=1e-5)
        assert profile["left_kpa"] == pytest.approx(path["limit_kpa"] - path["drop_kpa"], rel=SIX_DIGITS)


def test_what_is_not_rated_is_null(drawn: Drawn) -> None:
    """Just the parts that the bill calls so, and the hose."""
    for path, profile in zip(drawn.bill["flow"]["paths"], drawn.drawing["paths"], strict=True):
        null = [station for station in profile["stations"] if station["drop_kpa"] is None]
        assert {station["sku"] for station in null if station["sku"]} == set(path["unrated"])
        assert any(station["kind"] == "hookup" for station in null) == (path["hose_rated"] is False)


def test_stations_are_met_in_order(drawn: Drawn) -> None:
    """From the hookup to the rail, from the rail to the hookup; all of the chain, and the rail once."""
    for profile in drawn.drawing["paths"]:
        kinds = [station["kind"] for station in profile["stations"]]
        chain = [s["sku"] for s in profile["stations"] if s["kind"] in ("part", "side-plug")]
        told = next(skus for spot, skus in drawn.bill["chains"].items() if spot in profile["spots"])
        assert sorted(map(str, chain)) == sorted(told)
        if profile["duty"] == "feed":
            assert chain == told[::-1]
            assert (kinds[0], kinds[-1], kinds.count("rail")) == ("hookup", "rail", 1)
        elif profile["duty"] == "return":
            assert chain == told
            assert (kinds[-1], kinds.count("rail")) == ("hookup", 0)
        else:
            assert (kinds[-1], kinds.count("rail"), kinds.count("hookup")) == ("rail", 1, 0)


def _falls(before: float | None, station: PathStation) -> bool:
    lost = 0.0 if station["kind"] == "side-plug" else station["drop_kpa"]
    if before is None or station["kpa"] is None or lost is None:
        return True
    if station["regulates"]:
        return station["kpa"] <= before
    return station["kpa"] == pytest.approx(before - lost, rel=SIX_DIGITS, abs=2e-3)


def test_pressures_fall_by_what_is_lost(drawn: Drawn) -> None:
    """From the start on; the feeds end and the others begin with what is in the rail."""
    for profile in drawn.drawing["paths"]:
        before = profile["start_kpa"]
        for station in profile["stations"]:
            assert _falls(before, station), station
            before = station["kpa"]
        at_rail = before if profile["duty"] == "feed" else profile["start_kpa"]
        assert at_rail == drawn.drawing["rail_kpa"]


def test_the_regulator_holds_the_pressure(drawn: Drawn) -> None:
    """On the rail: what is held is in the rail, and at the tank is none. Behind the return: it is held there. At the
    tank: it is held before the feed."""
    drawing = drawn.drawing
    [place] = {limit["facts"]["held_at"] for limit in drawn.bill["power"]["limits"] if "held_at" in limit["facts"]}
    returns = [profile for profile in drawing["paths"] if profile["duty"] == "return"]
    if place == "rail":
        assert drawing["rail_kpa"] == drawing["held_kpa"]
        assert all(profile["stations"][-1]["kpa"] in (0.0, None) for profile in returns)
    elif place == "after":
        least = min(profile["stations"][-1]["kpa"] or 0.0 for profile in returns)
        assert least == pytest.approx(drawing["held_kpa"], rel=1e-9)
    else:
        most = max(profile["start_kpa"] or 0.0 for profile in drawing["paths"] if profile["duty"] == "feed")
        assert most == pytest.approx(drawing["held_kpa"], rel=1e-9)


@pytest.mark.parametrize(
    ("boost_kpa", "follows", "hangs"), [(40, {}, True), (40, {"follows": "manifold"}, False), (0, {}, False)]
)
def test_pressures_that_hang_on_the_regulator_say_so(boost_kpa: float, follows: dict[str, str], hangs: bool) -> None:
    """Not told and boosted: they are those of one that follows the manifold."""
    asked = RETURN | {"limit": 1, "boost_kpa": boost_kpa, "regulator": follows}
    [found] = drawn_in(edition(catalog()), asked)
    assert ("as if it followed the manifold" in found.drawing["text"]) == hangs
    assert found.drawing["held_kpa"] == 300 + boost_kpa


def test_the_drawing_is_the_sheet_s(drawn: Drawn) -> None:
    """Spots and duties of the rails as in the bill."""
    told = {spot["spot"]: spot["duty"] for rail in drawn.drawing["rails"] for spot in rail["spots"]}
    assert told == drawn.bill["duties"]


def _profile(found: Drawn, duty: str) -> PathProfile:
    return next(profile for profile in found.drawing["paths"] if profile["duty"] == duty)


def _unrated(*changes: dict[str, Any]) -> Drawn:
    document = catalog(*changes)
    for item in document["items"]:
        item.pop("flow", None)
    [found] = drawn_in(edition(document), RETURN | {"limit": 1})
    return found


def test_pressure_behind_what_is_not_rated_is_not_guessed() -> None:
    """Of a feed all before it; behind a regulator it is known again from the tank on."""
    found = _unrated()
    feed, back = _profile(found, "feed"), _profile(found, "return")
    assert feed["start_kpa"] is None
    assert [station["kpa"] for station in feed["stations"]] == [None, None, 300.0]
    hose_kpa = back["stations"][-1]["drop_kpa"]
    assert [(station["kind"], station["kpa"]) for station in back["stations"]] == [
        ("part", None),
        ("part", hose_kpa),
        ("side-plug", hose_kpa),
        ("hookup", 0.0),
    ]
    assert "loses more than is shown" in feed["text"]


def test_without_a_rated_return_nothing_is_known_of_the_rail() -> None:
    """Where its regulator stands behind the return."""
    found = _unrated({"layouts/through-return/placements/0/right/via": GONE})
    stations = [station for profile in found.drawing["paths"] for station in profile["stations"]]
    assert {profile["start_kpa"] for profile in found.drawing["paths"]} == {None}
    assert {station["kpa"] for station in stations} == {None}
    assert found.drawing["rail_kpa"] is None
