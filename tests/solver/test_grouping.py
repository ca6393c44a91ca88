"""Variants grouped: bills are one where families stand for SKUs, shown by their first with what else would do."""

import pytest

from tests.support.builders import GONE, HOSE, LINKED, Json, catalog, passage, twin
from tests.support.engine import answer
from tests.support.reading import ask, line_of

BLACK_PLUG = twin("PLUG-B8", "PLUG-N", family="boss-plug", finish="black", price=1_000)
TWO_PLUGS = {"items/-": BLACK_PLUG, "items/PLUG-B8/family": "boss-plug", "items/PLUG-B8/finish": "slate"}
BLACK_RAIL = {"items/-": twin("RAIL-S", "RAIL-B", finish="black", price=19_400)}


def grouped(document: Json, request: Json) -> Json:
    return answer(document, request | {"limit": 100, "group_variants": True})


@pytest.mark.parametrize(
    ("changes", "groups"),
    [
        pytest.param({}, 1, id="one family"),
        pytest.param({"items/PLUG-N/family": "other-plug"}, 4, id="two families"),
        pytest.param({"items/PLUG-N/family": GONE}, 4, id="family and none"),
        pytest.param({"items/PLUG-N/family": GONE, "items/PLUG-B8/family": GONE}, 4, id="no family"),
        pytest.param({"items/PLUG-N/family": "adapter", "items/PLUG-B8/family": "adapter"}, 1, id="other family name"),
    ],
)
def test_count(changes: Json, groups: int) -> None:
    """Two plugs at two spots are four bills, and one group where they are one family."""
    document = catalog(TWO_PLUGS, changes)
    assert ask(document, HOSE)["total_valid"] == 4
    found = grouped(document, HOSE)
    assert (found["total_valid"], len(found["bills"])) == (groups, groups)


@pytest.mark.parametrize(
    ("order_by", "wishes", "shown", "price", "choices"),
    [
        pytest.param("price", {}, "PLUG-B8", 22_200, ["PLUG-N"], id="cheapest"),
        pytest.param("lead", {}, "PLUG-B8", 22_200, ["PLUG-N"], id="lead, tie"),
        pytest.param("price", {"exclude": ["PLUG-B8"]}, "PLUG-N", 22_400, [], id="excluded"),
        pytest.param("price", {"finish": "slate"}, "PLUG-B8", 22_200, [], id="finish"),
        pytest.param("price", {"max_price": 22_299}, "PLUG-B8", 22_200, [], id="none within the price"),
        pytest.param("price", {"max_price": 22_300}, "PLUG-B8", 22_200, ["PLUG-N"], id="one of two within the price"),
    ],
)
def test_first_and_choices(order_by: str, wishes: Json, shown: str, price: int, choices: list[str]) -> None:
    """A group is shown by its first bill, with the SKUs that stand there in any valid bill of the group."""
    (bill,) = grouped(catalog(TWO_PLUGS), HOSE | {"order_by": order_by} | wishes)["bills"]
    assert (bill["chains"]["left"], bill["price"]) == ([shown], price)
    assert line_of(bill, shown)["choices"] == choices


@pytest.mark.parametrize(
    ("stock", "second_stock", "chains", "choices"),
    [
        pytest.param(2, 0, ("PLUG-B8", "PLUG-B8"), {"PLUG-B8": []}, id="second out of stock"),
        pytest.param(2, 1, ("PLUG-B8", "PLUG-B8"), {"PLUG-B8": ["PLUG-N"]}, id="one of the second"),
        pytest.param(1, 1, ("PLUG-B8", "PLUG-N"), {"PLUG-B8": ["PLUG-N"], "PLUG-N": ["PLUG-B8"]}, id="one of each"),
        pytest.param(
            1, 9, ("PLUG-B8", "PLUG-N"), {"PLUG-B8": ["PLUG-N"], "PLUG-N": ["PLUG-B8"]}, id="one of the first"
        ),
    ],
)
def test_stock(stock: int, second_stock: int, chains: tuple[str, str], choices: dict[str, list[str]]) -> None:
    """A group's first bill and its choices are in stock."""
    changes: Json = {"items/PLUG-B8/stock": stock, "items/PLUG-N/stock": second_stock}
    (bill,) = grouped(catalog(TWO_PLUGS, changes), HOSE | {"in_stock_only": True})["bills"]
    assert (bill["chains"]["left"][0], bill["chains"]["right"][0]) == chains
    assert {sku: line_of(bill, sku)["choices"] for sku in choices} == choices


def test_ungrouped_has_no_choices() -> None:
    """A bill of its own offers nothing else."""
    found = ask(catalog(TWO_PLUGS), HOSE)
    assert all(line["choices"] == [] for bill in found["bills"] for line in bill["lines"])


@pytest.mark.parametrize(
    "changes",
    [
        pytest.param({}, id="one shape"),
        pytest.param({"items/RAIL-B/flow": passage(14.0, 380.0)}, id="other bore"),
        pytest.param({"items/RAIL-B/flow": GONE}, id="not rated"),
        pytest.param({"items/RAIL-B/supplied": []}, id="no plug supplied"),
    ],
)
def test_one_family_of_rails(changes: Json) -> None:
    """Rails of one family are one group, though they differ in bore or in what they supply."""
    document = catalog(BLACK_RAIL, changes)
    assert ask(document, HOSE)["total_valid"] == 2
    found = grouped(document, HOSE)
    (bill,) = found["bills"]
    assert found["total_valid"] == 1
    assert (line_of(bill, "RAIL-S")["choices"], bill["price"]) == (["RAIL-B"], 22_200)


@pytest.mark.parametrize(
    ("changes", "bills", "groups"),
    [
        pytest.param({"items/RAIL-B/ports/t": GONE, "items/RAIL-B/supplied": []}, 2, 2, id="a spot less"),
        pytest.param({"items/RAIL-B/family": "rail-wide"}, 2, 2, id="other family"),
    ],
)
def test_rails_apart(changes: Json, bills: int, groups: int) -> None:
    """Rails with other spots or of other families are groups apart."""
    document = catalog(BLACK_RAIL, changes)
    assert ask(document, HOSE)["total_valid"] == bills
    assert grouped(document, HOSE)["total_valid"] == groups


@pytest.mark.parametrize("order_by", ["price", "drop"])
def test_group_over_two_shapes(order_by: str) -> None:
    """A group with rails of two shapes counts once for all its chains, and its first bill is the best of both."""
    document = catalog(TWO_PLUGS, BLACK_RAIL, {"items/RAIL-B/flow": passage(30.0, 10.0)})
    assert ask(document, HOSE)["total_valid"] == 8
    found = grouped(document, HOSE | {"order_by": order_by})
    first = ask(document, HOSE | {"order_by": order_by})["bills"][0]
    (bill,) = found["bills"]
    assert found["total_valid"] == 1
    rail, other = ("RAIL-B", "RAIL-S") if order_by == "drop" else ("RAIL-S", "RAIL-B")
    assert (bill["lines"][0]["sku"], bill["price"], bill["chains"]) == (rail, first["price"], first["chains"])
    assert bill["lines"][0]["choices"] == [other]
    assert line_of(bill, "PLUG-B8")["choices"] == ["PLUG-N"]


def test_what_only_one_shape_allows() -> None:
    """Where one rail of a family flows too little for a chain, the other's bill of the group stands alone."""
    narrow = passage(1.5, 380.0)
    document = catalog(BLACK_RAIL, {"items/RAIL-B/flow": narrow})
    assert ask(document, HOSE)["total_valid"] == 1
    (bill,) = grouped(document, HOSE)["bills"]
    assert line_of(bill, "RAIL-S")["choices"] == []


def test_links() -> None:
    """The two ends of a link are places of their own: four bills, one group, both choices on one line."""
    document = catalog(
        {"items/-": twin("ADAPT-B8-F6", "ADAPT-N", family="adapter"), "items/ADAPT-B8-F6/family": "adapter"}
    )
    assert ask(document, LINKED)["total_valid"] == 4
    (bill,) = grouped(document, LINKED)["bills"]
    assert bill["chains"]["1.right"] == ["ADAPT-B8-F6", "LINE-F6", "ADAPT-B8-F6"]
    assert line_of(bill, "ADAPT-B8-F6")["choices"] == ["ADAPT-N"]
