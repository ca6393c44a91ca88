"""`pressure`: rail and parts stand base pressure and boost."""

import pytest

from tests.rules.cases import Case, assert_ruled_out
from tests.support.builders import GONE, HOSE, RETURN, Json, catalog, twin
from tests.support.reading import ask, chains_at, said, stands

SECOND_PLUG = {"items/-": twin("PLUG-B8", "PLUG-N", max_kpa=300.0)}
SECOND_RAIL = {"items/-": twin("RAIL-S", "RAIL-N", max_kpa=300.0)}


@pytest.mark.parametrize(
    "case",
    [
        pytest.param(
            Case(
                HOSE,
                "PLUG-N",
                "left",
                "Stands only 299.99 kPa (43.5 psi); base and boost come to 300 kPa (43.5 psi).",
                given=SECOND_PLUG,
                changes={"items/PLUG-N/max_kpa": 299.99},
            ),
            id="part",
        ),
        pytest.param(
            Case(
                HOSE,
                "RAIL-N",
                None,
                "Stands only 299.9 kPa (43.5 psi); base and boost come to 300 kPa (43.5 psi).",
                given=SECOND_RAIL,
                changes={"items/RAIL-N/max_kpa": 299.9},
            ),
            id="rail",
        ),
        pytest.param(
            Case(
                HOSE,
                "PLUG-N",
                "left",
                "Stands only 300 kPa (43.5 psi); base and boost come to 300.5 kPa (43.6 psi).",
                given=SECOND_PLUG,
                wishes={"boost_kpa": 0.5},
            ),
            id="boost of the request",
        ),
        pytest.param(
            Case(
                HOSE,
                "PLUG-N",
                "left",
                "Stands only 300 kPa (43.5 psi); base and boost come to 360 kPa (52.2 psi).",
                given=SECOND_PLUG,
                wishes={"addons": ["blower"]},
            ),
            id="boost of an add-on",
        ),
        pytest.param(
            Case(
                HOSE,
                "PLUG-N",
                "left",
                "Stands only 300 kPa (43.5 psi); base and boost come to 301 kPa (43.7 psi).",
                given=SECOND_PLUG,
                changes={"chassis/brook/base_kpa": 301.0},
            ),
            id="base",
        ),
    ],
)
def test_ruled_out(case: Case) -> None:
    """A part that does not stand base and boost is ruled out; one that just stands them is not."""
    assert_ruled_out("pressure", case)


@pytest.mark.parametrize(("max_kpa", "expected"), [(429.9, False), (430.0, True), (430.1, True), (None, True)], ids=str)
def test_all_boost_counts(max_kpa: float | None, expected: bool) -> None:
    """The boost of all add-ons and of the request is added to the base; what states no pressure is not limited."""
    second = {"id": "blower-2", "name": "Second blower", "chassis": ["brook"], "boost_kpa": 40.0}
    document = catalog(
        SECOND_PLUG,
        {"items/PLUG-N/max_kpa": GONE if max_kpa is None else max_kpa},
        {"addons/-": second | {"clearances": [], "mounting": []}},
    )
    asked = HOSE | {"addons": ["blower", "blower-2"], "boost_kpa": 30.0}
    assert stands(ask(document, asked), "PLUG-N", "left") is expected


def test_equal_in_decimals() -> None:
    """A part rated for exactly what base and boost come to stands them."""
    document = catalog({"items/PLUG-B8/max_kpa": 300.2, "chassis/brook/base_kpa": 300.1})
    assert ask(document, HOSE | {"boost_kpa": 0.1})["total_valid"] == 1


@pytest.mark.parametrize(
    ("max_kpa", "chains"),
    [(300.0, {"ADAPT-B8-F6,REG-F6,PLUG-T", "ADAPT-B8-F6,REG-F6,PLUG-U"}), (299.0, {"ADAPT-B8-F6,REG-F6,PLUG-T"})],
)
def test_side_plug(max_kpa: float, chains: set[str]) -> None:
    """A side plug is judged as any part of its chain."""
    found = ask(catalog({"items/-": twin("PLUG-T", "PLUG-U", max_kpa=max_kpa)}), RETURN)
    assert chains_at(found, "right") == chains


@pytest.mark.parametrize(
    ("changes", "texts"),
    [
        pytest.param(
            {"items/PLUG-B8/max_kpa": 300.0},
            {"Stands 300 kPa (43.5 psi); base and boost come to 300 kPa (43.5 psi)."},
            id="just",
        ),
        pytest.param({"items/PLUG-B8/max_kpa": GONE}, set(), id="not limited"),
    ],
)
def test_kept(changes: Json, texts: set[str]) -> None:
    """A part tells what it stands and what is needed."""
    assert said(ask(catalog(changes), HOSE), "PLUG-B8", "pressure") == texts
