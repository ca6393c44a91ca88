"""`flow`: each path's drop and peak velocity are within policy."""

import math

import pytest

from tests.rules.cases import Case, assert_ruled_out
from tests.support.builders import GONE, HOSE, LINKED, RETURN, Json, catalog, change, passage, twin
from tests.support.figures import SIX_DIGITS
from tests.support.reading import ask, cautions, said, stands

# 90 kW at 300 g/kWh of 745 g/L, a quarter more: 45.302 L/h, which is 4.0056 m/s in a bore of 2 mm.
FLOW_M3_S = 90 * 300 / 745 * 1.25 / 3.6e6
SPEED_M_S = FLOW_M3_S / (math.pi * 0.001**2)
DROP_KPA = 5 * 745 * SPEED_M_S**2 / 2 / 1000
NARROW = {
    "items/-": twin("ADAPT-B8-F6", "ADAPT-N", flow=passage(2.0, loss_k=5.0)),
    "items/RAIL-S/flow": GONE,
    "layouts/hose-centre/placements/0/centre/hookup/flow": GONE,
}


@pytest.mark.parametrize(
    "case",
    [
        pytest.param(
            Case(
                HOSE,
                "ADAPT-N",
                "centre",
                "At 45.3 L/h (12 US gal/h) the feed path would lose 29.88 kPa (4.33 psi), "
                "over the limit of 29 kPa (4.21 psi).",
                given=NARROW,
                changes={"policies/max_feed_drop_kpa": 29.0},
            ),
            id="drop",
        ),
        pytest.param(
            Case(
                HOSE,
                "ADAPT-N",
                "centre",
                "At 45.3 L/h (12 US gal/h) the feed path would see the fuel move at 4.01 m/s (13.1 ft/s), "
                "over the limit of 4 m/s (13.1 ft/s).",
                given=NARROW,
                changes={"policies/max_velocity_m_s": 4.0},
            ),
            id="velocity",
        ),
        pytest.param(
            Case(
                HOSE,
                "ADAPT-N",
                "centre",
                "At 60.4 L/h (16 US gal/h) the feed path would lose 53.13 kPa (7.71 psi), "
                "over the limit of 40 kPa (5.8 psi).",
                given=NARROW,
                wishes={"power_kw": 120.0},
            ),
            id="power",
        ),
        pytest.param(
            Case(
                LINKED,
                "ADAPT-N",
                "1.right",
                "At 42.8 L/h (11.3 US gal/h) the link path would lose 27.19 kPa (3.94 psi), "
                "over the limit of 27 kPa (3.92 psi).",
                given=NARROW,
                changes={
                    "policies/max_feed_drop_kpa": 27.0,
                    "items/ADAPT-B8-F6/flow": GONE,
                    "items/LINE-F6/flow": passage(2.0, loss_k=0.1),
                },
            ),
            id="link",
        ),
        pytest.param(
            Case(
                RETURN,
                "ADAPT-N",
                "right",
                "At 72.5 L/h (19.1 US gal/h) the return path would see the fuel move at 6.41 m/s (21 ft/s), "
                "over the limit of 6.4 m/s (21 ft/s).",
                given=NARROW | {"policies/max_return_drop_kpa": 500.0, "policies/max_velocity_m_s": 6.5},
                changes={"policies/max_velocity_m_s": 6.4},
            ),
            id="return",
        ),
    ],
)
def test_ruled_out(case: Case) -> None:
    """A part that lets too little through is ruled out."""
    assert_ruled_out("flow", case)


def test_figures() -> None:
    """Drop and peak velocity are what is worked out by hand."""
    found = ask(catalog(NARROW, {"items/ADAPT-B8-F6": GONE}), HOSE)
    (path,) = found["bills"][0]["flow"]["paths"]
    assert (path["drop_kpa"], path["peak_m_s"]) == pytest.approx((DROP_KPA, SPEED_M_S), rel=SIX_DIGITS)


@pytest.mark.parametrize(
    ("policy", "figure"),
    [("max_feed_drop_kpa", DROP_KPA), ("max_velocity_m_s", SPEED_M_S)],
)
def test_limit(policy: str, figure: float) -> None:
    """Up to the limit a path is within policy, the least bit above not."""
    document = catalog(NARROW, {"items/ADAPT-B8-F6/sold": False})
    for limit, expected in ((figure * (1 + 1e-12), True), (figure * (1 - 1e-12), False)):
        change(document, f"policies/{policy}", limit)
        assert stands(ask(document, HOSE), "ADAPT-N", "centre") is expected


def test_kept() -> None:
    """The chain's first part tells what its path loses, and of how much it may."""
    found = ask(catalog(NARROW), HOSE)
    assert said(found, "ADAPT-N", "flow") == {
        (
            "At 45.3 L/h (12 US gal/h) the feed path loses 29.88 kPa (4.33 psi) of at most 40 kPa (5.8 psi); "
            "it moves at up to 4.01 m/s (13.1 ft/s)."
        )
    }
    assert said(found, "PLUG-B8", "flow") == set()


@pytest.mark.parametrize(
    ("changes", "texts"),
    [
        pytest.param({}, [], id="all rated"),
        pytest.param(
            {"items/ADAPT-B8-F6/flow": GONE},
            ["No flow is rated for ADAPT-B8-F6: the feed path loses more than is shown."],
            id="part",
        ),
        pytest.param(
            {"items/RAIL-S/flow": GONE},
            ["No flow is rated for RAIL-S: the feed path loses more than is shown."],
            id="rail",
        ),
        pytest.param(
            {"layouts/hose-centre/placements/0/centre/hookup/flow": GONE},
            ["No flow is rated for the hose behind the hookup: the feed path loses more than is shown."],
            id="hose",
        ),
        pytest.param(
            {
                "items/ADAPT-B8-F6/flow": GONE,
                "items/RAIL-S/flow": GONE,
                "layouts/hose-centre/placements/0/centre/hookup/flow": GONE,
            },
            [
                (
                    "No flow is rated for ADAPT-B8-F6, RAIL-S, the hose behind the hookup: "
                    "the feed path loses more than is shown."
                )
            ],
            id="all three",
        ),
    ],
)
def test_unrated(changes: Json, texts: list[str]) -> None:
    """What has no flow data is cautioned of by name."""
    assert cautions(ask(catalog(changes), HOSE), "flow") == texts
