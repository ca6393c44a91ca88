"""Which flow each path carries, and what the path counts."""

from math import pi
from typing import Any

import pytest

from service.hydraulics import Fluid, Passage, drop_pa
from tests.support.builders import (
    FACTORY,
    GONE,
    HOSE,
    LINKED,
    RETURN,
    Json,
    catalog,
    layout,
    own_hose,
    passage,
    twin,
)
from tests.support.figures import SIX_DIGITS
from tests.support.reading import ask

FEED: Json = {"duty": "feed", "hookup": own_hose()}
BACK: Json = {"duty": "return", "hookup": own_hose(), "via": ["regulator"]}
LINK: Json = {
    "1.right": {"duty": "link", "to_spot": "2.right"},
    "2.right": {"duty": "link", "to_spot": "1.right"},
}
PETROL = Fluid(745.0, 0.55e-3)
ADAPTER = Passage(7.5e-3, 40e-3, 0.4, 2e-6)
RAIL = Passage(16e-3, 380e-3, 0.5, 2e-6)
HOSE_BEHIND = Passage(8.7e-3, 1.5, 1.0, 2e-6)
LINE = Passage(8.7e-3, 0.4, 0.9, 2e-6)
REGULATOR = Passage(7e-3, 60e-3, 2.0, 2e-6)

BROOK = 90 * 300 / 745  # L/h
HERON = 170 * 300 / 745


def paths_of(document: Json, request: Json) -> list[Json]:
    """The paths of the first bill."""
    return list(ask(document, request)["bills"][0]["flow"]["paths"])


def flows(document: Json, request: Json) -> dict[str, float]:
    """The flow of each path, L/h, by its duty and first spot."""
    return {f"{path['duty']} {path['spots'][0]}": path["flow_l_h"] for path in paths_of(document, request)}


@pytest.mark.parametrize(
    ("request_", "demand", "paths"),
    [
        pytest.param(HOSE, BROOK, {"feed centre": 1.25 * BROOK}, id="no return: demand with margin"),
        pytest.param(HOSE | {"pump_l_h": 200.0}, BROOK, {"feed centre": 1.25 * BROOK}, id="no return: pump is nothing"),
        pytest.param(HOSE | {"power_kw": 45.0}, BROOK / 2, {"feed centre": 0.625 * BROOK}, id="half the power"),
        pytest.param(
            HOSE | {"boost_kpa": 0.1}, 1.2 * BROOK, {"feed centre": 1.5 * BROOK}, id="boosted by the request: more"
        ),
        pytest.param(
            HOSE | {"addons": ["blower"]}, 1.2 * BROOK, {"feed centre": 1.5 * BROOK}, id="boosted by an add-on"
        ),
        pytest.param(HOSE | {"fuel": "e85"}, 90 * 430 / 782, {"feed centre": 1.25 * 90 * 430 / 782}, id="another fuel"),
        pytest.param(
            RETURN, BROOK, {"feed left": 2 * BROOK, "return right": 2 * BROOK}, id="return: recirculation times demand"
        ),
        pytest.param(
            RETURN | {"pump_l_h": 100.0}, BROOK, {"feed left": 100.0, "return right": 100.0}, id="return: what pumps"
        ),
        pytest.param(
            RETURN | {"pump_l_h": 45.0},
            BROOK,
            {"feed left": 1.25 * BROOK, "return right": 1.25 * BROOK},
            id="return: pump below demand with margin",
        ),
        pytest.param(
            LINKED,
            HERON,
            {"feed 1.left": 1.25 * HERON, "link 1.right": 0.625 * HERON},
            id="link: half of what is burnt",
        ),
    ],
)
def test_flow(request_: Json, demand: float, paths: dict[str, float]) -> None:
    """The feed carries demand with margin, or what is pumped round; a link carries half of it."""
    assert flows(catalog(), request_) == pytest.approx(paths, rel=SIX_DIGITS)
    found = ask(catalog(), request_)
    assert found["bills"][0]["flow"]["demand_l_h"] == pytest.approx(demand, rel=SIX_DIGITS)


@pytest.mark.parametrize(
    ("placement", "paths"),
    [
        pytest.param(
            {"1.left": FEED, "2.left": FEED},
            {"feed 1.left": 0.625, "feed 2.left": 0.625},
            id="feeds into both banks carry half each",
        ),
        pytest.param(
            {"1.left": FEED, "2.left": FEED, "1.right": BACK, "2.right": BACK},
            {"feed 1.left": 1.0, "feed 2.left": 1.0, "return 1.right": 1.0, "return 2.right": 1.0},
            id="returns from both banks carry half each",
        ),
        pytest.param(
            {"1.left": FEED, **LINK, "2.left": BACK},
            {"feed 1.left": 2.0, "link 1.right": 1.5, "return 2.left": 2.0},
            id="out by the other bank: feed less half the demand",
        ),
        pytest.param(
            {"2.left": FEED, **LINK, "1.left": BACK},
            {"feed 2.left": 2.0, "link 1.right": 1.5, "return 1.left": 2.0},
            id="the other way round",
        ),
        pytest.param(
            {"1.left": FEED, **LINK, "1.centre": BACK},
            {"feed 1.left": 2.0, "link 1.right": 0.625, "return 1.centre": 2.0},
            id="out by the same bank: half with margin",
        ),
        pytest.param(
            {"1.left": FEED, "2.left": FEED, **LINK, "2.centre": BACK},
            {"feed 1.left": 1.0, "feed 2.left": 1.0, "link 1.right": 0.625, "return 2.centre": 2.0},
            id="in by both, out by one",
        ),
        pytest.param(
            {"1.left": FEED, "1.centre": FEED, "2.left": FEED, "2.centre": FEED},
            {f"feed {bank}.{place}": 0.3125 for bank in "12" for place in ("left", "centre")},
            id="two alike into each bank",
        ),
    ],
)
def test_two_banks(placement: Json, paths: dict[str, float]) -> None:
    """Flows on two banks, as multiples of the demand."""
    document = catalog({"layouts/-": layout(placement, banks=2), "chassis/heron/clearances": []})
    found = flows(document, LINKED | {"layout": "own"})
    assert found == pytest.approx({path: share * HERON for path, share in paths.items()}, rel=SIX_DIGITS)


def losses_kpa(flow_l_h: float, *passages: Passage) -> float:
    return sum(drop_pa(way, PETROL, flow_l_h / 3.6e6) for way in passages) / 1000


@pytest.mark.parametrize(
    ("request_", "spot", "passages"),
    [
        pytest.param(HOSE, "centre", (ADAPTER, HOSE_BEHIND, RAIL), id="feed: chain, hose, rail"),
        pytest.param(RETURN, "right", (ADAPTER, REGULATOR, HOSE_BEHIND), id="return: chain and hose"),
        pytest.param(LINKED, "1.right", (ADAPTER, LINE, ADAPTER, RAIL), id="link: chain and rail"),
        pytest.param(
            HOSE | {"feed_hose_m": 4.0},
            "centre",
            (ADAPTER, Passage(8.7e-3, 4.0, 1.0, 2e-6), RAIL),
            id="length of the hose",
        ),
        pytest.param(
            HOSE | {"feed_hose_m": 0.0},
            "centre",
            (ADAPTER, Passage(8.7e-3, 0.0, 1.0, 2e-6), RAIL),
            id="no length: its K",
        ),
        pytest.param(HOSE | {"return_hose_m": 9.0}, "centre", (ADAPTER, HOSE_BEHIND, RAIL), id="other hose's length"),
        pytest.param(
            RETURN | {"return_hose_m": 4.0},
            "right",
            (ADAPTER, REGULATOR, Passage(8.7e-3, 4.0, 1.0, 2e-6)),
            id="length of the return hose",
        ),
        pytest.param(
            RETURN | {"feed_hose_m": 4.0},
            "right",
            (ADAPTER, REGULATOR, HOSE_BEHIND),
            id="return: the feed hose's length",
        ),
        pytest.param(
            FACTORY | {"feed_hose_m": 50.0},
            "left",
            (Passage(7.5e-3, 45e-3, 0.4, 2e-6), Passage(7.5e-3, 0.9, 1.0, 2e-6), RAIL),
            id="car's line keeps its length",
        ),
    ],
)
def test_what_a_path_counts(request_: Json, spot: str, passages: tuple[Passage, ...]) -> None:
    """A path's drop is that of all that it runs through, and its peak velocity that of the narrowest."""
    path = next(path for path in paths_of(catalog(), request_) if spot in path["spots"])
    assert path["drop_kpa"] == pytest.approx(losses_kpa(path["flow_l_h"], *passages), rel=SIX_DIGITS)
    narrowest_m2 = pi / 4 * min(way.bore_m for way in passages) ** 2
    assert path["peak_m_s"] == pytest.approx(path["flow_l_h"] / 3.6e6 / narrowest_m2, rel=SIX_DIGITS)
    assert path["limit_kpa"] == (30.0 if path["duty"] == "return" else 40.0)


@pytest.mark.parametrize(
    ("changes", "request_", "expected"),
    [
        pytest.param({}, HOSE, {"centre": ([], True)}, id="all rated"),
        pytest.param({"items/RAIL-S/flow": GONE}, HOSE, {"centre": (["RAIL-S"], True)}, id="rail on a feed"),
        pytest.param(
            {"items/RAIL-S/flow": GONE},
            RETURN,
            {"left": (["RAIL-S"], True), "right": (["PLUG-T"], True)},
            id="rail not on a return",
        ),
        pytest.param(
            {"items/RAIL-S/flow": GONE, "items/ADAPT-B8-F6/flow": GONE},
            LINKED,
            {"1.left": (["RAIL-S"], False), "1.right": (["ADAPT-B8-F6", "RAIL-S"], None)},
            id="part twice in a link told once, rail last, no hose",
        ),
        pytest.param(
            {"layouts/hose-centre/placements/0/centre/hookup/flow": GONE},
            HOSE | {"feed_hose_m": 4.0},
            {"centre": ([], False)},
            id="hose without a bore",
        ),
        pytest.param({"chassis/brook/hookups/0/flow": GONE}, FACTORY, {"left": ([], False)}, id="car's line"),
    ],
)
def test_unrated(changes: Json, request_: Json, expected: dict[str, tuple[list[str], bool | None]]) -> None:
    """What has no flow data is named: parts, then the rail; the hose apart."""
    found = {path["spots"][0]: (path["unrated"], path["hose_rated"]) for path in paths_of(catalog(changes), request_)}
    assert found == expected


def shared(left: Json | None, right: Json | None) -> list[Json]:
    """The paths of two feeds into one rail without a bore, with these hoses behind adapters without flow data."""
    hoses: list[Any] = [own_hose() if flow is None else own_hose(flow=flow) for flow in (left, right)]
    placement = {spot: FEED | {"hookup": hose} for spot, hose in zip(("left", "right"), hoses, strict=True)}
    document = catalog(
        {"items/RAIL-S/flow": GONE, "items/ADAPT-B8-F6/flow": GONE, "layouts/-": layout(placement)},
        {"policies/max_feed_drop_kpa": 400.0},
    )
    return paths_of(document, HOSE | {"layout": "own"})


@pytest.mark.parametrize(
    ("left", "right", "shares"),
    [
        pytest.param(passage(8.0, loss_k=1.0), passage(8.0, loss_k=1.0), (1 / 2, 1 / 2), id="alike"),
        pytest.param(passage(8.0, loss_k=1.0), passage(8.0, loss_k=4.0), (2 / 3, 1 / 3), id="four times the loss"),
        pytest.param(passage(4.0, loss_k=1.0), passage(8.0, loss_k=1.0), (1 / 5, 4 / 5), id="half the bore"),
        pytest.param(None, None, (1 / 2, 1 / 2), id="none rated"),
        pytest.param(None, passage(8.0, loss_k=1.0), (1.0, 0.0), id="one not rated"),
    ],
)
def test_shared_feeds(left: Json | None, right: Json | None, shares: tuple[float, float]) -> None:
    """Feeds into one rail share the flow so that their drops agree; feeds without any drop share equally."""
    one, other = shared(left, right)
    assert (one["flow_l_h"], other["flow_l_h"]) == pytest.approx(
        [share * 1.25 * BROOK for share in shares], rel=SIX_DIGITS
    )
    assert one["drop_kpa"] == pytest.approx(other["drop_kpa"], rel=SIX_DIGITS)


def test_shared_feeds_count_the_rail() -> None:
    """The rail's own drop counts at each feed's own flow."""
    unlike = FEED | {"hookup": own_hose(flow=passage(5.0, 3000.0))}
    document = catalog({"items/RAIL-S/flow": passage(3.0, 380.0), "layouts/-": layout({"left": FEED, "right": unlike})})
    one, other = paths_of(document, HOSE | {"layout": "own"})
    assert one["flow_l_h"] + other["flow_l_h"] == pytest.approx(1.25 * BROOK, rel=SIX_DIGITS)
    rail, hose = Passage(3e-3, 0.38, 0.0, 0.0), Passage(5e-3, 3.0, 0.0, 0.0)
    assert one["drop_kpa"] == pytest.approx(losses_kpa(one["flow_l_h"], ADAPTER, rail), rel=SIX_DIGITS)
    assert other["drop_kpa"] == pytest.approx(losses_kpa(other["flow_l_h"], ADAPTER, hose, rail), rel=SIX_DIGITS)
    assert one["drop_kpa"] == pytest.approx(other["drop_kpa"], rel=1e-3)


def test_shared_feeds_are_judged_together() -> None:
    """A pair of chains is out where either of its paths is; each alone may stand in another pair."""
    narrow = twin("ADAPT-B8-F6", "ADAPT-N", flow=passage(2.0, loss_k=5.0))
    document = catalog(
        {
            "items/-": narrow,
            "items/RAIL-S/flow": GONE,
            "layouts/-": layout({"left": FEED, "right": FEED}),
            "policies/max_feed_drop_kpa": 5.0,
        }
    )
    found = ask(document, HOSE | {"layout": "own"})
    pairs = {(bill["chains"]["left"][0], bill["chains"]["right"][0]) for bill in found["bills"]}
    assert pairs == {("ADAPT-B8-F6", "ADAPT-B8-F6"), ("ADAPT-B8-F6", "ADAPT-N"), ("ADAPT-N", "ADAPT-B8-F6")}
