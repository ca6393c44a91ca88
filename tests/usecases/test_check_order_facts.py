"""How an order is read: superseded and unknown SKUs, a gauge that tells, sets, parts at hand, things not compared."""

import pytest

from tests.support.builders import HOSE, LINKED, Json, catalog, twin
from tests.support.engine import edition
from tests.support.order_checks import RIGHT, checked, checked_in, notes, swaps, units

BROOK: Json = {"chassis": "brook"}
HISTORY: list[Json] = [
    {"items/-": twin("PLUG-B8", "PLUG-1", status="retired", superseded_by="PLUG-2", price=1)},
    {"items/-": twin("PLUG-B8", "PLUG-2", status="retired", superseded_by="PLUG-B8", price=2)},
]


def test_the_same_sku_adds_up() -> None:
    """Two lines of one plug are as good as one of two."""
    ordered = [*RIGHT, "PLUG-B8"]
    asked = HOSE | {"lines": [{"sku": sku, "qty": 1} for sku in ordered]}
    assert checked_in(edition(catalog()), asked)["verdict"] == "complete"


def test_a_superseded_part_counts_as_its_last_successor() -> None:
    """At the successor's list price, with a note."""
    document = checked({"RAIL-S": 1, "ADAPT-B8-F6": 1, "PLUG-1": 1, "PLUG-B8": 1}, HOSE, *HISTORY)
    assert (document["verdict"], document["price_change"]) == ("complete", 0)
    assert notes(document) == {"PLUG-1": "PLUG-B8 takes its place by now, and it counts as that."}


def test_what_is_too_many_goes_by_the_name_it_is_ordered_under() -> None:
    """The superseded ones first."""
    document = checked({"RAIL-S": 1, "ADAPT-B8-F6": 1, "PLUG-B8": 2, "PLUG-1": 1}, HOSE, *HISTORY)
    assert units(document["remove"]) == {"PLUG-1": 1}


@pytest.mark.parametrize("room_mm", [20.0, 9.0])
def test_a_superseded_part_still_in_the_range_may_count_as_itself(room_mm: float) -> None:
    """Where it takes fewer changes so: its longer successor does not fit below 10 mm."""
    changes: list[Json] = [
        {"items/-": twin("PLUG-B8", "PLUG-L", standout_mm=10.0)},
        {"items/PLUG-B8/superseded_by": "PLUG-L"},
    ]
    rooms = [{"spot": spot, "axial_mm": room_mm} for spot in ("left", "right")]
    document = checked(RIGHT, HOSE | {"clearances": rooms}, *changes)
    assert document["verdict"] == "complete"
    used = document["bill"]["chains"]["left"]
    assert used == (["PLUG-L"] if room_mm > 10 else ["PLUG-B8"])
    assert ("counts as that" if room_mm > 10 else "counts as what it is") in notes(document)["PLUG-B8"]


def test_a_retired_part_without_successor_is_too_many() -> None:
    """It is compared, so that it has to go; a note tells."""
    document = checked(RIGHT | {"PLUG-OLD": 1}, HOSE, {"items/-": twin("PLUG-B8", "PLUG-OLD", status="retired")})
    assert (document["verdict"], units(document["remove"])) == ("surplus", {"PLUG-OLD": 1})
    assert document["remove"][0]["why"] == "No longer made."
    assert notes(document) == {"PLUG-OLD": "No longer made, and nothing takes its place."}


def test_an_unknown_sku_is_noted_with_the_nearest() -> None:
    """It is not compared."""
    document = checked(RIGHT | {"PLUG-B9": 1, "ZZZ": 3})
    assert document["verdict"] == "complete"
    assert notes(document) == {
        "PLUG-B9": "No item of this catalog has that SKU; nearest: PLUG-B8, PLUG-T. It is not compared.",
        "ZZZ": "No item of this catalog has that SKU. It is not compared.",
    }


# --- the gauge ---------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("asked", "verdict", "told"),
    [
        (HOSE, "complete", True),
        (HOSE | {"gauge": "none"}, "surplus", False),
        (HOSE | {"gauge": "top"}, "complete", False),
        (HOSE | {"have": [{"sku": "GAUGE-T", "qty": 1}]}, "surplus", True),
    ],
)
def test_an_ordered_gauge_tells_that_one_is_wanted(asked: Json, verdict: str, told: bool) -> None:
    """Unless the request says what is wanted; one that is had already goes first, and tells nothing."""
    document = checked(RIGHT | {"GAUGE-T": 1}, asked)
    assert document["verdict"] == verdict
    assert any(reason["text"].startswith("A gauge is ordered") for reason in document["reasons"]) is told
    assert checked(RIGHT, HOSE | {"have": [{"sku": "GAUGE-T", "qty": 1}]})["verdict"] == "complete"


# --- sets, parts at hand, an own rail ----------------------------------------------------------------------------


def test_several_sets() -> None:
    """Changes and prices are of all sets, the bill is that of one."""
    document = checked({"RAIL-S": 2, "ADAPT-B8-F6": 3, "PLUG-B8": 3}, HOSE | {"sets": 2})
    assert (document["sets"], document["verdict"]) == (2, "wrong")
    assert (units(document["add"]), units(document["remove"])) == ({"PLUG-B8": 1}, {"ADAPT-B8-F6": 1})
    assert document["price_change"] == 900 - 1500
    assert document["bill"]["price"] == 18900 + 1500 + 2 * 900


def test_what_is_had_goes_first_and_once_to_all_sets() -> None:
    """Two sets take four plugs; three are had, one has to be ordered."""
    asked = HOSE | {"sets": 2, "have": [{"sku": "PLUG-B8", "qty": 1}, {"sku": "PLUG-B8", "qty": 2}]}
    ordered = {"RAIL-S": 2, "ADAPT-B8-F6": 2, "PLUG-B8": 1}
    assert checked(ordered, asked)["verdict"] == "complete"
    document = checked(ordered | {"PLUG-B8": 3}, asked)
    assert units(document["remove"]) == {"PLUG-B8": 2}
    assert document["remove"][0]["why"] == "Only 1 is needed for 2 sets besides what you have, and 3 are ordered."


def test_all_is_had() -> None:
    """Ordered plugs are too many where two are had."""
    document = checked(RIGHT, HOSE | {"have": [{"sku": "PLUG-B8", "qty": 2}]})
    assert (units(document["remove"]), document["price_change"]) == ({"PLUG-B8": 2}, -2 * 900)
    assert document["remove"][0]["why"] == "You have as many as are needed."


@pytest.mark.parametrize(("sets", "verdict"), [(2, "complete"), (3, "impossible")])
def test_there_must_be_enough_for_all_sets(sets: int, verdict: str) -> None:
    """Of retired plugs four are had: enough for two sets, for three there is no bill though one could be made."""
    asked = HOSE | {"sets": sets, "have": [{"sku": "PLUG-B8", "qty": 4}]}
    document = checked({"RAIL-S": sets, "ADAPT-B8-F6": sets}, asked, {"items/PLUG-B8/status": "retired"})
    assert document["verdict"] == verdict
    if verdict == "impossible":
        [reason] = document["reasons"]
        assert (reason["rule"], "not enough for 3" in reason["text"]) == ("supply", True)


@pytest.mark.parametrize(("sku", "stock"), [("PLUG-B8", 5), ("RAIL-S", 2)])
def test_stock_is_for_all_sets(sku: str, stock: int) -> None:
    """Three sets need more than there is; two do not."""
    for sets, verdict in ((2, "complete"), (3, "impossible")):
        ordered = {name: qty * sets for name, qty in RIGHT.items()}
        asked = HOSE | {"sets": sets, "in_stock_only": True}
        assert checked(ordered, asked, {f"items/{sku}/stock": stock})["verdict"] == verdict


def test_rails_that_are_had_for_some_sets_only() -> None:
    """A retired rail that is had once makes one set, not two."""
    changes: Json = {"items/RAIL-S/status": "retired"}
    asked = HOSE | {"have": [{"sku": "RAIL-S", "qty": 1}]}
    assert checked({"ADAPT-B8-F6": 1, "PLUG-B8": 2}, asked, changes)["verdict"] == "complete"
    two = checked({"ADAPT-B8-F6": 2, "PLUG-B8": 4}, asked | {"sets": 2}, changes)
    assert two["verdict"] == "impossible"


def test_an_own_rail_takes_the_place_of_an_ordered_one() -> None:
    """It is had, and not compared."""
    own = HOSE | {"own_rail": {"centre": {"standard": "boss-8", "end": "female"}}}
    assert checked({"ADAPT-B8-F6": 1}, own)["verdict"] == "complete"
    document = checked({"ADAPT-B8-F6": 1, "RAIL-S": 1}, own)
    assert (units(document["remove"]), document["price_change"]) == ({"RAIL-S": 1}, -18900)
    assert document["remove"][0]["why"] == "Your own rail takes its place: none has to be bought."


def test_what_comes_from_elsewhere_is_no_change() -> None:
    """A line that we do not sell is said aloud, ordered or not; its estimate is in neither price."""
    unsold: Json = {"items/LINE-F6/sold": False}
    whole = {"RAIL-S": 2, "SPIGOT-B8-Q": 1, "ADAPT-B8-F6": 2, "PLUG-B8": 3, "LINE-F6": 1}
    document = checked(whole, LINKED, unsold)
    assert (document["verdict"], document["price_change"]) == ("complete", 0)
    assert notes(document) == {"LINE-F6": "We do not sell it: it tells what to buy elsewhere."}
    assert [(x["sku"], x["goes"]) for x in document["extras"]] == [("LINE-F6", True)]
    without = checked({sku: qty for sku, qty in whole.items() if sku != "LINE-F6"}, LINKED, unsold)
    assert (without["verdict"], without["add"], without["price_change"]) == ("complete", [], 0)
    for told in (document, without):
        assert [(x["sku"], x["qty"]) for x in told["elsewhere"]] == [("LINE-F6", 1)]
        assert told["elsewhere"][0]["text"].endswith("is not sold by us: buy 1 of it elsewhere.")


# --- things that are not compared --------------------------------------------------------------------------------


def test_extras() -> None:
    """Seals and sealant for the joints, screws in the box and on the car go with the bill; another screw does not."""
    small = {"SEAL-B8": 6, "SEALANT": 1, "SCREW-6": 2, "SPACER-5": 2, "SCREW-6-LONG": 2}
    document = checked(RIGHT | small)
    assert document["verdict"] == "complete"
    assert {x["sku"]: (x["qty"], x["goes"], x["text"]) for x in document["extras"]} == {
        "SEAL-B8": (6, True, "Goes with this bill: its joints take 3; 6 are ordered, twice as many."),
        "SEALANT": (1, True, "Goes with this bill, as many as its joints take (1)."),
        "SCREW-6": (2, True, "Comes with parts of this bill already (2 in their boxes): none has to be ordered."),
        "SPACER-5": (2, True, "On the car already (2 of it): order it only to replace what is worn."),
        "SCREW-6-LONG": (2, False, "Nothing in this bill takes it."),
    }


@pytest.mark.parametrize(
    ("qty", "text"),
    [
        (4, "Goes with this bill: its joints take 6, only 4 ordered."),
        (6, "Goes with this bill, as many as its joints take (6)."),
        (7, "Goes with this bill: its joints take 6; 7 are ordered, 1 more than that."),
        (12, "Goes with this bill: its joints take 6; 12 are ordered, twice as many."),
    ],
)
def test_seals_for_two_sets(qty: int, text: str) -> None:
    """The joints of all sets count."""
    document = checked({sku: 2 * n for sku, n in RIGHT.items()} | {"SEAL-B8": qty}, HOSE | {"sets": 2})
    assert [extra["text"] for extra in document["extras"]] == [text]


def test_an_add_on_brings_its_screws() -> None:
    """They need not be ordered."""
    document = checked(RIGHT | {"SCREW-6-LONG": 2}, HOSE | {"addons": ["blower"]})
    assert document["extras"][0]["text"] == "Comes with the add-on already (2 of it): none has to be ordered."


def test_a_superseded_extra_counts_as_its_successor() -> None:
    """A seal of old, under the name that it is ordered by."""
    document = checked(
        RIGHT | {"SEAL-1": 3}, HOSE, {"items/-": twin("SEAL-B8", "SEAL-1", status="retired", superseded_by="SEAL-B8")}
    )
    assert [(extra["sku"], extra["goes"]) for extra in document["extras"]] == [("SEAL-1", True)]


def test_a_finish_that_differs_from_the_rail_is_noted() -> None:
    """Where the family offers the rail's finish in a part with the same ends; it is no fault of the order."""
    changes: list[Json] = [
        {"items/PLUG-B8/family": "plug", "items/PLUG-B8/finish": "slate"},
        {"items/-": twin("PLUG-B8", "PLUG-N", family="plug", finish="black")},
    ]
    document = checked({"RAIL-S": 1, "ADAPT-B8-F6": 1, "PLUG-N": 2}, HOSE, *changes)
    assert document["verdict"] == "complete"
    text = "Its finish is black, the rail's is slate: “Plug for a size-8 boss” (PLUG-B8) is the same part in that."
    assert notes(document) == {"PLUG-N": text}
    assert notes(checked(RIGHT, HOSE, *changes)) == {}


# --- why ---------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("ordered", "sku", "why"),
    [
        (RIGHT | {"PLUG-B8": 3}, "PLUG-B8", "Only 2 are needed, and 3 are ordered."),
        (RIGHT | {"PLUG-T": 1}, "PLUG-T", "It comes with the rail for the top spot: none has to be ordered."),
        (RIGHT | {"LINE-F6": 1}, "LINE-F6", "No port of this bill is left for it."),
        (RIGHT | {"RAIL-2": 1}, "RAIL-2", "The bill has its rail already."),
        (RIGHT | {"RAIL-X": 1}, "RAIL-X", "Made for rail pattern other; this engine has straight-four."),
    ],
)
def test_why_it_is_too_many(ordered: Json, sku: str, why: str) -> None:
    """What speaks against each part, and the same in the reasons behind its name."""
    changes: list[Json] = [
        {"items/-": twin("RAIL-S", "RAIL-X", patterns=["other"])},
        {"items/-": twin("RAIL-S", "RAIL-2", price=99_000)},
    ]
    document = checked(ordered, HOSE, *changes)
    assert [(x["sku"], x["why"]) for x in document["remove"]] == [(sku, why)]
    assert document["reasons"][-1]["text"].endswith(f"”. {why}")


def test_why_it_is_missing() -> None:
    """What each part is for, on a car with two banks and in a layout with a regulator."""
    found = checked({"SPIGOT-B8-Q": 1}, LINKED)
    assert {x["sku"]: x["why"] for x in found["add"]} == {
        "RAIL-S": "Each bank needs a rail.",
        "ADAPT-B8-F6": "The link between the 1.right spot and the 2.right spot leads through it.",
        "LINE-F6": "The link between the 1.right spot and the 2.right spot leads through it.",
        "PLUG-B8": "The 1.centre, 2.centre and 2.left spots would stay open: each needs a plug.",
    }
    back = checked({"PLUG-B8": 1}, BROOK | {"layout": "through-return", "gauge": "top"})
    assert {x["sku"]: x["why"] for x in back["add"]} == {
        "RAIL-S": "All else is screwed into the rail: one is needed.",
        "ADAPT-B8-F6": (
            "The feed between the left spot and your own hose leads through it. "
            "The return between the right spot and your own hose leads through it."
        ),
        "REG-F6": "The layout has a regulator in the return at the right spot.",
        "PLUG-T": (
            "A side port of “Pressure regulator with a gauge port” at the right spot would stay open: it needs a plug."
        ),
        "GAUGE-T": "A gauge is wanted at the top spot.",
    }


def test_why_it_is_swapped() -> None:
    """What speaks against the one, and what the other does."""
    document = checked({"RAIL-S": 1, "SPIGOT-B8-Q": 1, "PLUG-B8": 2})
    assert swaps(document) == [("SPIGOT-B8-Q", "ADAPT-B8-F6", 1, "centre")]
    assert document["swap"][0]["why"] == (
        "No catalog part leads on from its other port to the female 37-degree flare, size 6 end of this path. "
        "“Adapter, size-8 boss to size-6 flare” carries the feed between the centre spot and your own hose."
    )
