"""Order checks worked out by hand: verdicts, changes and swaps, the nearest layout, the bill and its key."""

from typing import Any

import pytest

from service.documents.order import OrderRequest
from service.usecases.bill_keys import decode_key
from service.usecases.check_order import MOST_OTHERS, MOST_TIES, check_order
from service.usecases.errors import NotFoundError, RequestFaultsError
from service.usecases.library import Edition
from service.usecases.resolve_request import resolve_request
from tests.support.builders import FACTORY, HOSE, LINKED, RETURN, Json, catalog, part, twin
from tests.support.engine import answer, answer_from, edition
from tests.support.order_checks import RIGHT, checked, checked_in, lines, swaps, units

BROOK: Json = {"chassis": "brook"}


@pytest.mark.parametrize(
    ("ordered", "verdict", "add", "remove", "price_change"),
    [
        (RIGHT, "complete", {}, {}, 0),
        (RIGHT | {"PLUG-B8": 1}, "short", {"PLUG-B8": 1}, {}, 900),
        (RIGHT | {"PLUG-B8": 4, "LINE-F6": 1}, "surplus", {}, {"PLUG-B8": 2, "LINE-F6": 1}, -2 * 900 - 4600),
        (
            {"RAIL-S": 1, "ADAPT-B8-F6": 1, "PLUG-B8": 1, "LINE-F6": 1},
            "wrong",
            {"PLUG-B8": 1},
            {"LINE-F6": 1},
            900 - 4600,
        ),
        ({"NOWHERE": 1}, "short", RIGHT, {}, 18900 + 1500 + 2 * 900),
    ],
)
def test_verdicts(ordered: Json, verdict: str, add: Json, remove: Json, price_change: int) -> None:
    """Each verdict with what is added and removed, and what that does to the price."""
    document = checked(ordered)
    assert (document["verdict"], document["layout"]) == (verdict, "hose-centre")
    assert (units(document["add"]), units(document["remove"]), document["swap"]) == (add, remove, [])
    assert document["price_change"] == price_change
    assert document["bill"]["chains"]["centre"] == ["ADAPT-B8-F6"]


def test_what_a_bill_takes_is_complete() -> None:
    """A bill's own lines, bought and from elsewhere, are a complete order."""
    document = catalog({"items/LINE-F6/sold": False})
    for asked in (HOSE, FACTORY, RETURN, LINKED, HOSE | {"gauge": "top"}):
        [bill] = answer(document, asked | {"limit": 1})["bills"]
        got = {line["sku"]: line["qty"] for line in bill["lines"] if line["source"] in ("buy", "elsewhere")}
        found = check_order(edition(document), OrderRequest.model_validate(asked | {"lines": lines(got)}))
        assert (found["verdict"], found["price_change"]) == ("complete", 0)
        assert found["bill"] is not None
        assert found["bill"]["chains"] == bill["chains"]


# --- swaps -------------------------------------------------------------------------------------------------------

_FAMILY: Json = {"items/ADAPT-B8-F6/family": "adapter", "items/ADAPT-B8-F6/finish": "slate"}
_BLACK = twin("ADAPT-B8-F6", "ADAPT-N", family="adapter", finish="black", price=1600)


@pytest.mark.parametrize(
    ("ordered", "asked", "changes", "expected"),
    [
        pytest.param(
            {"RAIL-S": 1, "SPIGOT-B8-Q": 1, "PLUG-B8": 2},
            HOSE,
            [],
            [("SPIGOT-B8-Q", "ADAPT-B8-F6", 1, "centre")],
            id="screwed into the same spot",
        ),
        pytest.param(
            {"RAIL-S": 1, "ADAPT-N": 1, "PLUG-B8": 2},
            HOSE | {"exclude": ["ADAPT-N"]},
            [_FAMILY, {"items/-": _BLACK}],
            [("ADAPT-N", "ADAPT-B8-F6", 1, "centre")],
            id="another variant",
        ),
        pytest.param(
            {"RAIL-X": 1, "ADAPT-B8-F6": 1, "PLUG-B8": 2},
            HOSE,
            [{"items/-": twin("RAIL-S", "RAIL-X", patterns=["other"])}],
            [("RAIL-X", "RAIL-S", 1, None)],
            id="a rail for another engine",
        ),
        pytest.param(
            {"RAIL-S": 1, "ADAPT-B8-F6": 1, "PLUG-T": 2},
            HOSE,
            [],
            [("PLUG-T", "PLUG-B8", 1, "left"), ("PLUG-T", "PLUG-B8", 1, "right")],
            id="plugs of another thread, spot by spot",
        ),
        pytest.param(
            {"RAIL-S": 1, "ADAPT-B8-F6": 1, "PLUG-B8": 1, "PLUG-T": 2},
            HOSE,
            [],
            [("PLUG-T", "PLUG-B8", 1, "right")],
            id="what is ordered goes to the first spots",
        ),
    ],
)
def test_swaps(ordered: Json, asked: Json, changes: list[Json], expected: list[Any]) -> None:
    """A swap stands in `swap` alone, with the spot where the new part goes."""
    document = checked(ordered, asked, *changes)
    assert document["verdict"] == "wrong"
    assert swaps(document) == expected
    assert document["add"] == []
    assert sum(units(document["remove"]).values()) == sum(ordered.values()) - 4


def test_a_fitting_that_fits_nowhere_is_no_swap() -> None:
    """Fittings are too many different things: one of another thread is removed, the missing one is added."""
    other = part("ELBOW-T", "fitting", ("taper-1/8", "male"), ("flare-6", "male"))
    document = checked({"RAIL-S": 1, "ELBOW-T": 1, "PLUG-B8": 2}, HOSE, {"items/-": other})
    assert (units(document["add"]), units(document["remove"])) == ({"ADAPT-B8-F6": 1}, {"ELBOW-T": 1})
    assert document["swap"] == []


def test_both_ends_of_a_link_are_swapped() -> None:
    """What screws into the far bank's spot takes a place as well as what screws into the near one's."""
    other = part("ELBOW-B", "fitting", ("boss-8", "male"), ("taper-1/8", "female"))
    ordered = {"RAIL-S": 2, "SPIGOT-B8-Q": 1, "LINE-F6": 1, "PLUG-B8": 3, "ELBOW-B": 2}
    document = checked(ordered, LINKED, {"items/-": other})
    assert swaps(document) == [("ELBOW-B", "ADAPT-B8-F6", 1, "1.right")] * 2
    assert (document["add"], document["remove"], document["edits"]) == ([], [], 2)


def test_a_variant_goes_before_what_merely_fits() -> None:
    """Of two parts that are too many, the one of the family is swapped."""
    changes: list[Json] = [_FAMILY, {"items/-": _BLACK}]
    ordered = {"RAIL-S": 1, "SPIGOT-B8-Q": 1, "ADAPT-N": 1, "PLUG-B8": 2}
    document = checked(ordered, HOSE | {"exclude": ["ADAPT-N"]}, *changes)
    assert swaps(document) == [("ADAPT-N", "ADAPT-B8-F6", 1, "centre")]
    assert units(document["remove"]) == {"SPIGOT-B8-Q": 1}


# --- which bill is nearest ---------------------------------------------------------------------------------------


def test_of_as_many_changes_the_cheapest_bill() -> None:
    """With a line of 904 to go, a plug of 900 goes before one of 905, which would change the price less."""
    changes: list[Json] = [{"items/-": twin("PLUG-B8", "PLUG-X", price=905)}, {"items/LINE-F6/price": 904}]
    document = checked({"RAIL-S": 1, "ADAPT-B8-F6": 1, "PLUG-B8": 1, "LINE-F6": 1}, HOSE, *changes)
    assert (units(document["add"]), units(document["remove"])) == ({"PLUG-B8": 1}, {"LINE-F6": 1})
    assert document["price_change"] == -4


def test_a_price_to_keep_may_take_more_changes() -> None:
    """The plug that is ordered is too dear together with the rest: another one is swapped for it."""
    changes: Json = {"items/-": twin("PLUG-B8", "PLUG-X", price=2900)}
    ordered = {"RAIL-S": 1, "ADAPT-B8-F6": 1, "PLUG-X": 2}
    assert checked(ordered, HOSE, changes)["verdict"] == "complete"
    dear = checked(ordered, HOSE | {"max_price": 24_200}, changes)
    assert (swaps(dear), dear["price_change"]) == ([("PLUG-X", "PLUG-B8", 1, "left")], -2000)
    assert checked(ordered, HOSE | {"max_price": 22_000}, changes)["verdict"] == "impossible"


# --- layouts -----------------------------------------------------------------------------------------------------


def test_the_nearest_layout() -> None:
    """No layout asked: the spigot tells that the car's own line is used; the others are listed, the nearest first."""
    document = checked({"RAIL-S": 1, "SPIGOT-B8-Q": 1, "PLUG-B8": 2}, BROOK)
    assert (document["layout"], document["verdict"]) == ("factory", "complete")
    assert document["also_possible"] == [
        {
            "layout": "hose-centre",
            "changes": 2,
            "verdict": "wrong",
            "price_change": 1500 - 2100,
            "tie": False,
            "edits": 1,
        },
        {
            "layout": "through-return",
            "changes": 6,
            "verdict": "wrong",
            "price_change": 2 * 1500 + 9800 + 400 - 2100 - 900,
            "tie": False,
            "edits": 4,
        },
    ]
    assert "nearest to “Factory line”" in document["reasons"][0]["text"]


def test_a_layout_asked_for_is_judged_though_another_is_nearer() -> None:
    """The nearer one is listed."""
    document = checked(RIGHT, FACTORY)
    assert (document["layout"], document["verdict"]) == ("factory", "wrong")
    assert document["also_possible"][0] == {
        "layout": "hose-centre",
        "changes": 0,
        "verdict": "complete",
        "price_change": 0,
        "tie": False,
        "edits": 0,
    }


def test_of_layouts_alike_the_first_in_the_catalog() -> None:
    """A copy of a layout under another name comes second wherever its name sorts."""
    copy = catalog()["layouts"][1] | {"id": "a-copy"}
    document = checked(RIGHT, BROOK, {"layouts/-": copy})
    assert document["layout"] == "hose-centre"
    assert document["also_possible"][0]["layout"] == "a-copy"


def _copies(count: int) -> list[Json]:
    layout = catalog()["layouts"][1]
    return [{"layouts/-": layout | {"id": f"copy-{number}", "name": f"Copy {number}"}} for number in range(count)]


def test_a_handful_of_other_layouts() -> None:
    """At most so many are listed, those that come first in the catalog of such as are alike."""
    document = checked({"RAIL-S": 1, "SPIGOT-B8-Q": 1, "PLUG-B8": 2}, BROOK, *_copies(8))
    assert document["layout"] == "factory"
    listed = [other["layout"] for other in document["also_possible"]]
    assert listed == ["hose-centre", *(f"copy-{n}" for n in range(MOST_OTHERS - 1))]


def test_layouts_that_tie_are_asked_back() -> None:
    """Each is marked and named, in the order of the catalog; the verdict is that of the one shown."""
    document = checked(RIGHT, BROOK, *_copies(7))
    assert (document["layout"], document["verdict"]) == ("hose-centre", "complete")
    assert [(other["layout"], other["tie"]) for other in document["also_possible"]] == [
        (f"copy-{n}", True) for n in range(7)
    ]
    reason = document["reasons"][0]
    assert reason["facts"] == {"layout": "hose-centre", "ties": [f"copy-{n}" for n in range(7)]}
    assert reason["text"].startswith(
        "No layout was asked for, and this could be meant as “Own hose to the centre”, “Copy 0”, “Copy 1”,"
    )
    assert "“Copy 5” or “Copy 6”: each takes as few changes. “Own hose to the centre” is shown" in reason["text"]


def test_ties_are_told_up_to_a_bound() -> None:
    document = checked(RIGHT, BROOK, *_copies(MOST_TIES + 3))
    assert [other["tie"] for other in document["also_possible"]] == [True] * MOST_TIES


def test_where_the_layout_was_asked_for_nothing_is_asked_back() -> None:
    """Those that take as few changes are marked all the same."""
    document = checked(RIGHT, HOSE, *_copies(2))
    assert [other["tie"] for other in document["also_possible"]] == [True, True, False, False]
    assert "could be meant" not in str(document["reasons"])


def test_a_swap_is_one_edit() -> None:
    """Three parts in the place of three others: six changes, as people count them three."""
    document = checked({"RAIL-S": 1, "SPIGOT-B8-Q": 1, "PLUG-T": 2}, HOSE)
    assert (len(document["swap"]), document["edits"]) == (3, 3)
    assert document["add"] == document["remove"] == []


# --- one very bill -----------------------------------------------------------------------------------------------


def keyed(ready: Edition, key: str, ordered: Json, **more: Any) -> Json:
    return checked_in(ready, {"key": key, "lines": lines(ordered)} | more)


def test_an_order_is_held_against_the_bill_of_a_key() -> None:
    """Though another bill is nearer: the second best is what was agreed on."""
    ready = edition(catalog({"items/-": twin("PLUG-B8", "PLUG-X", price=905)}))
    bill = answer_from(ready, HOSE | {"limit": 2, "group_variants": False})["bills"][1]
    units_of = {line["sku"]: line["qty"] for line in bill["lines"] if line["source"] == "buy"}
    assert units_of == {"RAIL-S": 1, "ADAPT-B8-F6": 1, "PLUG-B8": 1, "PLUG-X": 1}
    same = keyed(ready, bill["key"], units_of)
    assert (same["verdict"], same["bill"], same["layout"], same["also_possible"]) == (
        "complete",
        bill,
        "hose-centre",
        [],
    )
    other = keyed(ready, bill["key"], RIGHT)
    assert (other["verdict"], other["edits"], other["price_change"]) == ("wrong", 1, 5)
    assert [(swap["out"], swap["in"]) for swap in other["swap"]] == [("PLUG-B8", "PLUG-X")]
    assert "the very bill of its key" in other["reasons"][0]["text"]
    three = keyed(ready, bill["key"], {sku: 3 * qty for sku, qty in units_of.items()}, sets=3)
    assert (three["verdict"], three["sets"]) == ("complete", 3)


def test_what_the_key_holds_counts() -> None:
    """Its gauge, what is had, and a superseded SKU as in any order."""
    ready = edition(catalog({"items/-": twin("PLUG-B8", "PLUG-1", status="retired", superseded_by="PLUG-B8")}))
    asked = HOSE | {"gauge": "top", "have": [{"sku": "GAUGE-T", "qty": 1}]}
    [bill] = answer_from(ready, asked | {"limit": 1})["bills"]
    found = keyed(ready, bill["key"], {"rail-s": 1, "ADAPT-B8-F6": 1, "PLUG-1": 2, "NOWHERE": 1})
    assert (found["verdict"], found["add"], found["remove"]) == ("complete", [], [])
    assert [note["sku"] for note in found["notes"]] == ["PLUG-1", "NOWHERE"]
    assert keyed(ready, bill["key"], RIGHT | {"GAUGE-T": 1})["verdict"] == "surplus"


@pytest.mark.parametrize("key", ["1", "nonsense", "1abc"])
def test_what_is_no_key_is_no_bill(key: str) -> None:
    with pytest.raises(NotFoundError) as refused:
        keyed(edition(catalog()), key, RIGHT)
    assert (refused.value.kind, refused.value.value) == ("bill", key)


# --- stock -------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("sets", "have", "now", "rest_days", "short"),
    [
        (1, 0, 1, 0, {}),
        (3, 0, 3, 0, {}),
        (5, 0, 3, 21, {"RAIL-S": 1, "PLUG-B8": 3}),
        (5, 3, 4, 21, {"RAIL-S": 1}),
        (4, 0, 3, 5, {"PLUG-B8": 1}),
        (4, 1, 4, 0, {}),
        (1000, 0, 3, 30, {"RAIL-S": 996, "ADAPT-B8-F6": 901, "PLUG-B8": 1993}),
    ],
)
def test_stock_by_sets(sets: int, have: int, now: int, rest_days: int, short: Json) -> None:
    """4 rails (21 days), 99 adapters (30 days) and 7 plugs, two a set (5 days); a plug that is had is not needed."""
    stock = {"RAIL-S": (4, 21), "ADAPT-B8-F6": (99, 30), "PLUG-B8": (7, 5)}
    changes = [{f"items/{sku}/stock": n, f"items/{sku}/lead_days": days} for sku, (n, days) in stock.items()]
    asked = HOSE | {"sets": sets} | ({"have": [{"sku": "PLUG-B8", "qty": have}]} if have else {})
    document = checked({"RAIL-S": sets}, asked, *changes)
    assert document["ships"] == {"now": now, "rest_days": rest_days}
    needed = {"RAIL-S": sets, "ADAPT-B8-F6": sets, "PLUG-B8": 2 * sets - have}
    assert {line["sku"]: line["need"] for line in document["stock"]} == needed
    assert {line["sku"]: line["short"] for line in document["stock"] if line["short"]} == short
    for line in document["stock"]:
        in_stock, days = stock[line["sku"]]
        assert (line["in_stock"], line["rest_days"]) == (in_stock, days if line["short"] else 0)
    told = {line["sku"]: line["need"] for line in document["bill"]["lines"] if line["source"] == "buy"}
    assert told.items() <= needed.items()


def test_what_a_bill_buys_is_told_against_stock() -> None:
    """On the lines of any bill, for one set; other lines have none of it."""
    [bill] = answer(catalog({"items/PLUG-B8/stock": 1, "items/PLUG-B8/lead_days": 9}), HOSE | {"limit": 1})["bills"]
    plug = next(line for line in bill["lines"] if line["sku"] == "PLUG-B8")
    assert [plug[name] for name in ("need", "in_stock", "short", "rest_days")] == [2, 1, 1, 9]
    assert {line["source"] for line in bill["lines"] if "need" in line} == {"buy"}


def test_the_customers_own_parts_alone_ship_at_once() -> None:
    """Nothing is bought: every set is there."""
    have = [{"sku": sku, "qty": 9} for sku in RIGHT]
    document = checked({"RAIL-S": 1}, HOSE | {"sets": 4, "have": have})
    assert (document["stock"], document["ships"]) == ([], {"now": 4, "rest_days": 0})


# --- no bill -----------------------------------------------------------------------------------------------------


def test_impossible_in_every_layout() -> None:
    """No bill, no changes, and for each layout of the car what stands in the way."""
    document = checked(RIGHT, BROOK, {"items/PLUG-B8/status": "retired"})
    assert (document["verdict"], document["layout"], document["bill"]) == ("impossible", None, None)
    assert (document["add"], document["remove"], document["swap"], document["price_change"]) == ([], [], [], None)
    assert [reason["facts"]["layout"] for reason in document["reasons"]] == ["factory", "hose-centre", "through-return"]
    assert {reason["rule"] for reason in document["reasons"]} == {"supply"}
    assert document["reasons"][0]["text"] == (
        "“Factory line” cannot be built here. “Plug for a size-8 boss”: No longer made."
    )


def test_impossible_in_the_layout_asked_for() -> None:
    """Its own obstacle, and the layouts that would do."""
    document = checked(RIGHT, {"chassis": "heron", "layout": "factory"})
    assert (document["verdict"], document["layout"]) == ("impossible", "factory")
    [reason] = document["reasons"]
    assert (reason["rule"], reason["facts"]["layout"]) == ("layout", "factory")
    assert [other["layout"] for other in document["also_possible"]] == ["linked-banks"]


def test_no_layout_for_the_car_at_all() -> None:
    """Then every layout tells that it is for another number of banks."""
    layouts = [layout for layout in catalog()["layouts"] if layout["banks"] == 1]
    document = checked(RIGHT, {"chassis": "heron"}, {"layouts": layouts})
    assert (document["verdict"], document["also_possible"]) == ("impossible", [])
    assert {reason["rule"] for reason in document["reasons"]} == {"layout"}
    assert len(document["reasons"]) == len(layouts)


def test_faults_are_those_of_a_request() -> None:
    """Unknown names are told with their pointers; an unknown SKU in a line is not one of them."""
    asked = OrderRequest.model_validate(
        {"chassis": "brok", "layout": "factry", "exclude": ["PLUG"], "lines": lines({"NOWHERE": 1})}
    )
    with pytest.raises(RequestFaultsError) as caught:
        check_order(edition(catalog()), asked)
    assert [fault.pointer for fault in caught.value.faults] == ["/chassis", "/layout", "/exclude/0"]


# --- the bill ----------------------------------------------------------------------------------------------------


def test_the_key_recalls_the_bill() -> None:
    """With its own layout, the gauge that is told by the order, and what is had."""
    ready = edition(catalog({"items/-": twin("PLUG-B8", "PLUG-X", price=905)}))
    asked = BROOK | {"have": [{"sku": "PLUG-X", "qty": 1}], "fuel": "e85"}
    ordered = {"RAIL-S": 1, "SPIGOT-B8-Q": 1, "PLUG-X": 1, "GAUGE-T": 1}
    found = check_order(ready, OrderRequest.model_validate(asked | {"lines": lines(ordered)}))
    assert found["bill"] is not None
    held = decode_key(found["bill"]["key"])
    assert (held.request.layout, held.request.gauge, held.request.group_variants) == ("factory", "any", False)
    bill = ready.engine.recall(resolve_request(held.request, ready.revision), held.bill)
    assert bill is not None
    assert {placed.spot: [*placed.chain.skus] for placed in bill.chains} == found["bill"]["chains"]
