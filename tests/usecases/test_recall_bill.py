"""A bill given again by its key is the bill that the answer had."""

from collections.abc import Iterator
from copy import deepcopy
from typing import Any

import pytest

from service.documents.answer import Answer
from service.documents.catalog import Catalog
from service.documents.request import BillRequest
from service.solver.engine import BillName
from service.usecases.bill_keys import KeyMaker, decode_key
from service.usecases.errors import NotFoundError
from service.usecases.find_bills import find_bills
from service.usecases.library import Library
from service.usecases.recall_bill import recall_bill
from tests.support.catalogs import changed, small_catalog
from tests.usecases.counting_store import CountingStore, sqlite_store

BROOK = {"chassis": "brook", "layout": "through-return"}
HERON = {"chassis": "heron", "layout": "linked-banks"}


def varied_catalog() -> dict[str, Any]:
    """The small catalog with a second rail, plug and adapter of the same families in another finish."""
    catalog = small_catalog()
    for position, family, sku, price in (
        (0, "rail", "RAIL-M", 17900),
        (1, "plug", "PLUG-B8-M", 850),
        (3, "adapter", "ADAPT-B8-F6-M", 1600),
    ):
        item = catalog["items"][position]
        item |= {"family": family, "finish": "slate"}
        catalog["items"].append(deepcopy(item) | {"sku": sku, "finish": "moss", "price": price, "stock": 1})
    return changed(catalog, {"/items/6/sold": False})  # the line is bought elsewhere


@pytest.fixture(scope="module")
def varied(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Library]:
    """A library with the varied catalog as revision 1."""
    with sqlite_store(tmp_path_factory.mktemp("varied")) as store:
        library = Library(store)
        library.publish(Catalog.model_validate(varied_catalog()))
        yield library


def found(library: Library, asked: dict[str, Any]) -> Answer:
    return find_bills(library, BillRequest.model_validate(asked))


WISHES: dict[str, dict[str, Any]] = {
    "grouped": BROOK,
    "ungrouped": BROOK | {"group_variants": False},
    "another order, a longer list": BROOK | {"order_by": "drop", "limit": 100, "group_variants": False},
    "in stock only": BROOK | {"in_stock_only": True},
    "in stock only, ungrouped": HERON | {"in_stock_only": True, "group_variants": False},
    "price limit": BROOK | {"max_price": 32100, "group_variants": False},
    "price limit, grouped": BROOK | {"max_price": 31950},
    "gauge anywhere": BROOK | {"gauge": "any"},
    "gauge at a spot": BROOK | {"gauge": "top"},
    "gauge anywhere on two banks": HERON | {"gauge": "any"},
    "two banks": HERON,
    "two banks, ungrouped": HERON | {"group_variants": False, "limit": 100},
    "finish": BROOK | {"finish": "moss"},
    "excluded": BROOK | {"exclude": ["RAIL-M", "PLUG-B8"]},
    "flow": BROOK | {"power_kw": 70, "pump_l_h": 150, "feed_hose_m": 2, "return_hose_m": 0.5, "boost_kpa": 12.5},
    "fuel and room": BROOK | {"fuel": "e85", "clearances": [{"spot": "right", "axial_mm": 90}]},
    "add-on": {"chassis": "brook", "layout": "factory", "addons": ["blower"]},
    "placements": {"chassis": "brook", "layout": "factory", "gauge": "any", "group_variants": False},
}


@pytest.mark.parametrize("asked", WISHES.values(), ids=WISHES.keys())
def test_recalled_as_answered(varied: Library, asked: dict[str, Any]) -> None:
    """Every bill of an answer comes back by its key, word for word, with the safety texts."""
    answer = found(varied, asked)
    assert answer["bills"]
    for bill in answer["bills"]:
        recalled = recall_bill(varied, bill["key"])
        assert recalled["bill"] == bill
        assert recalled["safety"] == answer["safety"]
        assert (recalled["revision"], recalled["currency"]) == (1, "OVC")


def test_the_wishes_above_show_what_they_are_for(varied: Library) -> None:
    """Groups have choices, ungrouped lists are longer, and stock and price limits leave bills out."""
    total = {name: found(varied, asked)["total_valid"] for name, asked in WISHES.items()}
    assert total["grouped"] < total["ungrouped"]
    assert total["price limit"] < total["ungrouped"]
    assert total["in stock only, ungrouped"] < total["two banks, ungrouped"]
    assert any(line["choices"] for line in found(varied, BROOK)["bills"][0]["lines"])


def test_keys_of_one_answer_differ(varied: Library) -> None:
    """No two bills of an answer share a key."""
    keys = [bill["key"] for bill in found(varied, WISHES["two banks, ungrouped"])["bills"]]
    assert len(set(keys)) == len(keys) > 1


def test_order_and_limit_leave_the_key(varied: Library) -> None:
    """The best bill by price has the same key in a longer list, wherever another order puts it."""
    (best, *_) = found(varied, BROOK | {"group_variants": False, "limit": 1})["bills"]
    other = found(varied, BROOK | {"group_variants": False, "limit": 100, "order_by": "drop"})["bills"]
    assert best["key"] in [bill["key"] for bill in other]


def test_recalled_in_its_own_revision(library: Library, store: CountingStore) -> None:
    """A later catalog with other prices does not change what a key gives, nor does another library on the store."""
    (bill, *_) = found(library, BROOK)["bills"]
    library.publish(Catalog.model_validate(changed(small_catalog(), {"/items/0/price": 1})))
    assert found(library, BROOK)["bills"][0]["price"] != bill["price"]
    for one in (library, Library(store)):
        recalled = recall_bill(one, bill["key"])
        assert (recalled["revision"], recalled["bill"]) == (1, bill)


def good_key(library: Library) -> str:
    return found(library, BROOK | {"gauge": "top"})["bills"][0]["key"]


def changed_key(library: Library, **changes: Any) -> str:
    """The key of the best bill with other parts of its name, well packed."""
    held = decode_key(good_key(library))
    name = BillName(
        rail=changes.get("rail", held.bill.rail),
        placement=changes.get("placement", held.bill.placement),
        gauge=changes.get("gauge", held.bill.gauge),
        chains={**held.bill.chains, **changes.get("chains", {})},
    )
    request = held.request.model_copy(update=changes.get("request", {}))
    return KeyMaker(changes.get("revision", held.revision), request).key_of(name)


MOSS = "ADAPT-B8-F6-M"
NO_BILL: dict[str, dict[str, Any]] = {
    "revision not there": {"revision": 2},
    "rail not there": {"rail": "RAIL-X"},
    "an item as rail": {"rail": "PLUG-B8"},
    "placement not there": {"placement": 1},
    "placement beyond all": {"placement": 10**9},
    "gauge elsewhere": {"gauge": "centre"},
    "no gauge": {"gauge": None},
    "chain that does not mate": {"chains": {"left": ("PLUG-T",)}},
    "chain left empty": {"chains": {"left": ()}},
    "part not there": {"chains": {"centre": ("PLUG-X",)}},
    "chassis not there": {"request": {"chassis": "book"}},
    "layout not there": {"request": {"layout": "factory2"}},
    "layout of another car": {"request": {"layout": "linked-banks"}},
    "fuel not there": {"request": {"fuel": "x"}},
    "gauge spot not there": {"request": {"gauge": "1.top"}},
    "all too dear": {"request": {"max_price": 1}},
    "this one too dear": {"rail": "RAIL-S", "request": {"max_price": 36000}},
    "more than is in stock": {
        "chains": {"left": (MOSS,), "right": (MOSS, "REG-F6", "PLUG-T")},
        "request": {"in_stock_only": True},
    },
    "rail excluded": {"request": {"exclude": ["RAIL-M"]}},
}


@pytest.mark.parametrize("changes", NO_BILL.values(), ids=NO_BILL.keys())
def test_key_of_no_valid_bill(varied: Library, changes: dict[str, Any]) -> None:
    """A well-packed key that names no valid bill finds no bill, and the error says the key."""
    key = changed_key(varied, **changes)
    with pytest.raises(NotFoundError) as refused:
        recall_bill(varied, key)
    assert (refused.value.kind, refused.value.value) == ("bill", key)


def test_the_unchanged_name_is_a_bill(varied: Library) -> None:
    """The bill that the changes above start from is valid, on the cheaper rail."""
    assert recall_bill(varied, changed_key(varied))["bill"]["lines"][0]["sku"] == "RAIL-M"


@pytest.mark.parametrize(
    "changes",
    [
        {"rail": "RAIL-S", "request": {"max_price": 36900}},
        {"chains": {"left": (MOSS,)}, "request": {"in_stock_only": True}},
        {"chains": NO_BILL["more than is in stock"]["chains"]},
    ],
    ids=["price", "stock", "stock not asked"],
)
def test_the_limits_above_are_near(varied: Library, changes: dict[str, Any]) -> None:
    """A little more money, one unit less, or no word of stock: there is the bill."""
    key = changed_key(varied, **changes)
    assert recall_bill(varied, key)["bill"]["key"] == key


@pytest.mark.parametrize("key", ["", "x", "1", "1AAAA", "1\ud800", "1" + "A" * 9_000])
def test_garbage_is_no_bill(varied: Library, key: str) -> None:
    """Text that is no key finds no bill."""
    with pytest.raises(NotFoundError, match="no bill"):
        recall_bill(varied, key)


def test_no_catalog_at_all(empty_library: Library) -> None:
    """A key asked for before any catalog is there finds no bill."""
    key = KeyMaker(1, BillRequest.model_validate(BROOK)).key_of(BillName("RAIL-S", 0, None, {}))
    with pytest.raises(NotFoundError, match="no bill"):
        recall_bill(empty_library, key)
