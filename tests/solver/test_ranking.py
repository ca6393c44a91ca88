"""The order of the answer: what was asked for, then price, pieces, drop, chains, rail."""

import pytest

from service.usecases.library import Edition
from tests.solver.medium import REQUESTS, medium_catalog, medium_request
from tests.support.builders import HOSE, Json, catalog, fitting, passage, twin
from tests.support.engine import answer_from, edition
from tests.support.reading import ask

ORDERS = ("price", "pieces", "drop", "lead", "margin")


def rank(bill: Json, order_by: str) -> tuple[object, ...]:
    """What a listed bill is sorted by, read off the document."""
    drop = round(max(path["drop_kpa"] for path in bill["flow"]["paths"]), 3)
    firsts = {"price": bill["price"], "pieces": bill["pieces"], "drop": drop, "lead": bill["lead_days"]}
    first = (firsts | {"margin": -bill["margin"]["tightest"]["relative"]})[order_by]
    chains = sorted(f"{spot}:{','.join(skus)}" for spot, skus in bill["chains"].items())
    return (first, bill["price"], bill["pieces"], drop, chains, bill["lines"][0]["sku"])


@pytest.fixture(scope="module")
def medium() -> Edition:
    return edition(medium_catalog())


@pytest.mark.parametrize("order_by", ORDERS)
@pytest.mark.parametrize("name", REQUESTS)
def test_sorted(medium: Edition, name: str, order_by: str) -> None:
    """Bills are listed in order, and a short list is the start of the long one."""
    for grouped in (False, True):
        request = medium_request(name, order_by=order_by, group_variants=grouped, limit=100)
        bills = answer_from(medium, request)["bills"]
        assert [rank(bill, order_by) for bill in bills] == sorted(rank(bill, order_by) for bill in bills)
        assert answer_from(medium, request | {"limit": 3})["bills"] == bills[:3]


CHEAP_AND_SLOW = twin("ADAPT-B8-F6", "ADAPT-C", price=500, lead_days=30, across_mm=40.0, flow=passage(5.0, 40.0, 0.4))
WIDE_AND_DEAR = twin("ADAPT-B8-F6", "ADAPT-W", price=5_000, across_mm=20.0, flow=passage(9.0, 40.0, 0.4))
QUICK_RAIL = {"items/RAIL-S/lead_days": 1}
LONGER = fitting("FIT-Q", ("quick-3/8", "female"), ("flare-6", "male"), price=0, flow=passage(4.0, 40.0))


@pytest.mark.parametrize(
    ("order_by", "chains"),
    [
        pytest.param("price", ["CHEAP", "ADAPT", "SPIGOT,FIT", "WIDE"], id="price"),
        pytest.param("pieces", ["CHEAP", "ADAPT", "WIDE", "SPIGOT,FIT"], id="pieces, then price"),
        pytest.param("drop", ["WIDE", "ADAPT", "CHEAP", "SPIGOT,FIT"], id="drop"),
        pytest.param("lead", ["ADAPT", "SPIGOT,FIT", "WIDE", "CHEAP"], id="lead, then price"),
        pytest.param("margin", ["WIDE", "ADAPT", "SPIGOT,FIT", "CHEAP"], id="margin, then price"),
    ],
)
def test_each_order(order_by: str, chains: list[str]) -> None:
    """Four ways to feed the rail, each order with its own winner."""
    document = catalog(QUICK_RAIL)
    document["items"] += [CHEAP_AND_SLOW, WIDE_AND_DEAR, LONGER]
    names = {"CHEAP": "ADAPT-C", "ADAPT": "ADAPT-B8-F6", "WIDE": "ADAPT-W", "SPIGOT,FIT": "SPIGOT-B8-Q,FIT-Q"}
    found = ask(document, HOSE | {"order_by": order_by})
    assert [",".join(bill["chains"]["centre"]) for bill in found["bills"]] == [names[chain] for chain in chains]


@pytest.mark.parametrize(
    ("second", "winner"),
    [
        pytest.param({"price": 1_499}, "ADAPT-Z", id="price"),
        pytest.param({"price": 1_501}, "ADAPT-B8-F6", id="price above"),
        pytest.param({"flow": passage(7.6, 40.0, 0.4)}, "ADAPT-Z", id="drop"),
        pytest.param({"flow": passage(7.4, 40.0, 0.4)}, "ADAPT-B8-F6", id="drop above"),
        pytest.param({"flow": passage(7.5, 40.0, 0.4000001)}, "ADAPT-B8-F6", id="drop the same to 0.001 kPa"),
        pytest.param(
            {"new_sku": "ADAPT-A", "flow": passage(7.5, 40.0, 0.4000001)}, "ADAPT-A", id="then the chain's text"
        ),
        pytest.param({}, "ADAPT-B8-F6", id="alike"),
    ],
)
def test_tie_breaks(second: Json, winner: str) -> None:
    """Of two bills with one price, the one that loses less comes first, then the one that sorts first."""
    flow = {"flow": passage(7.5, 40.0, 0.4)}
    document = catalog({"items/ADAPT-B8-F6/flow": flow["flow"]})
    document["items"].append(twin("ADAPT-B8-F6", **({"new_sku": "ADAPT-Z"} | flow | second)))
    bills = ask(document, HOSE)["bills"]
    assert len(bills) == 2
    assert bills[0]["chains"]["centre"] == [winner]


def test_pieces_break_a_tie_in_price() -> None:
    """Of two bills with one price, the one with fewer pieces comes first, though it loses more."""
    document = catalog({"items/ADAPT-B8-F6/price": 2_100, "items/ADAPT-B8-F6/flow": passage(4.0, 40.0, 4.0)})
    document["items"].append(LONGER | {"flow": passage(9.0, 1.0)})
    found = ask(document, HOSE)
    assert [bill["chains"]["centre"] for bill in found["bills"]] == [["ADAPT-B8-F6"], ["SPIGOT-B8-Q", "FIT-Q"]]
    assert [bill["price"] for bill in found["bills"]] == [22_800, 22_800]


@pytest.mark.parametrize("order_by", ORDERS)
def test_rail_breaks_the_last_tie(order_by: str) -> None:
    """Bills alike in all else come in the order of their rails' SKUs, after all of a rail's own ties."""
    document = catalog({"items/-": twin("RAIL-S", "RAIL-A", family="other")})
    document["items"].append(twin("PLUG-B8", "PLUG-C8"))
    found = ask(document, HOSE | {"order_by": order_by})
    seen = [(bill["chains"]["left"][0], bill["chains"]["right"][0], bill["lines"][0]["sku"]) for bill in found["bills"]]
    pairs = [("PLUG-B8", "PLUG-B8"), ("PLUG-B8", "PLUG-C8"), ("PLUG-C8", "PLUG-B8"), ("PLUG-C8", "PLUG-C8")]
    assert seen == [(*pair, rail) for pair in pairs for rail in ("RAIL-A", "RAIL-S")]


def test_lead_days_whatever_the_stock() -> None:
    """The lead time is the largest among what is bought, in stock or not; what is not bought has none."""
    changes: Json = {"items/PLUG-B8/lead_days": 20, "items/PLUG-T/lead_days": 90, "items/SCREW-6/lead_days": 90}
    assert ask(catalog(changes), HOSE)["bills"][0]["lead_days"] == 20
    assert ask(catalog(changes, {"items/PLUG-B8/sold": False}), HOSE)["bills"][0]["lead_days"] == 10
    assert ask(catalog({"items/RAIL-S/sold": False}), HOSE)["bills"][0]["lead_days"] == 3
