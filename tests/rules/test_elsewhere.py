"""`elsewhere`: an unsold part stands only where no chain of sold or supplied parts serves its spot."""

import pytest

from tests.rules.cases import Case, assert_ruled_out
from tests.support.builders import GONE, HOSE, Json, catalog, fitting, passage, room, twin
from tests.support.reading import ask, cautions, chains_at, line_of, said

UNSOLD = {"sold": False}
SECOND_PLUG = {"items/-": twin("PLUG-B8", "PLUG-N", standout_mm=7.0)}
FIT_Q = fitting("FIT-Q", ("quick-3/8", "female"), ("flare-6", "male"))
ESTIMATE = "Buy a part of this specification elsewhere; its price is an estimate and not in the total."


@pytest.mark.parametrize(
    "case",
    [
        pytest.param(
            Case(
                HOSE,
                "PLUG-N",
                "left",
                "Would have to be bought elsewhere, while Plug for a size-8 boss serves the left spot.",
                given=SECOND_PLUG,
                changes={"items/PLUG-N/sold": False},
            ),
            id="one part",
        ),
        pytest.param(
            Case(
                HOSE,
                "SPIGOT-B8-Q",
                "centre",
                "Would have to be bought elsewhere, while Adapter, size-8 boss to size-6 flare serves the centre spot.",
                given={"items/-": FIT_Q},
                changes={"items/FIT-Q/sold": False},
            ),
            id="a sold part before an unsold one",
        ),
    ],
)
def test_ruled_out(case: Case) -> None:
    """A chain with an unsold part is ruled out where a chain without serves."""
    assert_ruled_out("elsewhere", case)


@pytest.mark.parametrize(
    ("changes", "wishes", "plugs"),
    [
        pytest.param({}, {}, {"PLUG-B8"}, id="sold one serves"),
        pytest.param({}, {"clearances": [room("left", axial_mm=8.0)]}, {"PLUG-B8"}, id="just fits"),
        pytest.param({}, {"clearances": [room("left", axial_mm=7.5)]}, {"PLUG-N"}, id="sold one stands too far"),
        pytest.param({"items/PLUG-B8/max_kpa": 299.0}, {}, {"PLUG-N"}, id="sold one breaks pressure"),
        pytest.param({"items/PLUG-B8/status": "retired"}, {}, {"PLUG-N"}, id="sold one is retired"),
        pytest.param({}, {"exclude": ["PLUG-B8"]}, {"PLUG-N"}, id="sold one is excluded"),
        pytest.param({"items/PLUG-B8/sold": False}, {}, {"PLUG-B8", "PLUG-N"}, id="none is sold"),
        pytest.param({"items/PLUG-B8/stock": 0}, {"in_stock_only": True}, set(), id="stock does not count"),
        pytest.param({}, {"max_price": 20000}, set(), id="budget does not count"),
    ],
)
def test_which_plug(changes: Json, wishes: Json, plugs: set[str]) -> None:
    """An unsold plug serves just where no sold one does under the rules that look at one spot alone."""
    found = ask(catalog(SECOND_PLUG, {"items/PLUG-N/sold": False}, changes), HOSE | wishes)
    assert chains_at(found, "left") == plugs


def test_flow_does_not_count() -> None:
    """Where the sold chain serves the spot but flows too little, the unsold one does not take its place."""
    unsold = twin("ADAPT-B8-F6", "ADAPT-N", **UNSOLD)
    document = catalog({"items/-": unsold, "items/ADAPT-B8-F6/flow": passage(1.0)})
    assert ask(document, HOSE)["total_valid"] == 0
    assert ask(document, HOSE | {"exclude": ["ADAPT-B8-F6"]})["total_valid"] == 1


@pytest.mark.parametrize(
    ("unsold", "chains"),
    [
        pytest.param([], {"ADAPT-B8-F6", "SPIGOT-B8-Q,FIT-Q"}, id="all sold"),
        pytest.param(["FIT-Q"], {"ADAPT-B8-F6"}, id="one of the longer chain"),
        pytest.param(["ADAPT-B8-F6"], {"SPIGOT-B8-Q,FIT-Q"}, id="the shorter chain"),
        pytest.param(["ADAPT-B8-F6", "FIT-Q"], {"ADAPT-B8-F6", "SPIGOT-B8-Q,FIT-Q"}, id="one of each"),
        pytest.param(
            ["ADAPT-B8-F6", "FIT-Q", "SPIGOT-B8-Q"], {"ADAPT-B8-F6", "SPIGOT-B8-Q,FIT-Q"}, id="more of the longer"
        ),
    ],
)
def test_whole_chains(unsold: list[str], chains: set[str]) -> None:
    """Whole chains are compared: one unsold part is as bad as three."""
    document = catalog({"items/-": FIT_Q}, {f"items/{sku}/sold": False for sku in unsold})
    assert chains_at(ask(document, HOSE), "centre") == chains


def test_side_plugs_count() -> None:
    """An unsold side plug makes its chain an unsold one."""
    side = fitting("FIT-S", ("boss-8", "male"), ("flare-6", "male"), ("taper-1/8", "female"))
    document = catalog({"items/-": side}, {"items/PLUG-T/sold": False})
    assert chains_at(ask(document, HOSE), "centre") == {"ADAPT-B8-F6"}


def test_supplied_counts_as_sold() -> None:
    """A supplied plug that is not sold is not bought elsewhere."""
    document = catalog({"items/PLUG-T/sold": False, "items/-": twin("PLUG-T", "PLUG-U")})
    found = ask(document, HOSE)
    assert chains_at(found, "top") == {"PLUG-T"}
    assert said(found, "PLUG-T", "elsewhere") == set()
    assert cautions(found, "elsewhere") == []
    assert line_of(found["bills"][0], "PLUG-T")["source"] == "supplied"


def test_kept() -> None:
    """An unsold part is a piece without a price, with a reason for each spot and a caution."""
    found = ask(catalog({"items/PLUG-B8/sold": False}), HOSE)
    (bill,) = found["bills"]
    line = line_of(bill, "PLUG-B8")
    assert (line["source"], line["qty"], line["price"]) == ("elsewhere", 2, 0)
    assert (bill["price"], bill["pieces"]) == (22200 - 2 * 900, 4)
    assert said(found, "PLUG-B8", "elsewhere") == {
        f"Nothing that we sell serves the {spot} spot here. {ESTIMATE}" for spot in ("left", "right")
    }
    assert cautions(found, "elsewhere") == [f"Plug for a size-8 boss: {ESTIMATE}"]


@pytest.mark.parametrize(("lead_days", "expected"), [(3, 10), (40, 10)])
def test_lead_time(lead_days: int, expected: int) -> None:
    """What is bought elsewhere has no lead time."""
    document = catalog({"items/PLUG-B8/sold": False, "items/PLUG-B8/lead_days": lead_days})
    assert ask(document, HOSE)["bills"][0]["lead_days"] == expected


def test_unsold_rail() -> None:
    """The rule is for chains: an unsold rail stands beside a sold one, without a price."""
    document = catalog({"items/-": twin("RAIL-S", "RAIL-N", **UNSOLD), "items/RAIL-S/supplied/rail-screw": GONE})
    found = ask(document, HOSE)
    assert {bill["lines"][0]["sku"]: bill["price"] for bill in found["bills"]} == {"RAIL-S": 22200, "RAIL-N": 3300}
    assert said(found, "RAIL-N", "elsewhere") == {ESTIMATE}
