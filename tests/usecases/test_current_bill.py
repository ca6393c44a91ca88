"""A kept bill beside the newest catalog: valid or not, at which price, by which key; compared with asking anew."""

from random import Random
from typing import Any

import pytest

from service.documents.answer import CurrentBill
from service.usecases.bill_keys import decode_key
from service.usecases.current_bill import current_bill
from service.usecases.errors import RequestFaultsError
from service.usecases.library import Edition
from service.usecases.recall_bill import recall_in
from tests.support.builders import HOSE, catalog, twin
from tests.support.engine import answer_from, edition
from tests.support.random_catalogs import random_catalog
from tests.support.random_edits import edited
from tests.support.random_requests import random_request

Json = dict[str, Any]
UNGROUPED = {"group_variants": False, "limit": 100}


def current(then: Edition, now: Edition, key: str) -> CurrentBill:
    held = decode_key(key)
    return current_bill(then, held, recall_in(then, held, key).bill, now)


def body(bill: Any, succeeds: dict[str, str]) -> tuple[Any, ...]:
    """Rail, duties and chains, each retired part by its successor."""
    rail = decode_key(bill["key"]).bill.rail
    chains = {spot: [succeeds.get(sku, sku) for sku in skus] for spot, skus in bill["chains"].items()}
    return succeeds.get(rail, rail), bill["duties"], chains


SUCCEEDED = [twin("PLUG-B8", "PLUG-B8-II", price=950)]
CASES: dict[str, tuple[Json, bool, set[tuple[str, str]]]] = {
    "as it was": ({}, True, set()),
    "dearer": ({"items/PLUG-B8/price": 1200}, True, {("PLUG-B8", "price")}),
    "gone": ({"items/PLUG-B8/status": "retired"}, False, {("PLUG-B8", "retired")}),
    "succeeded": (
        {"items/PLUG-B8/status": "retired", "items/PLUG-B8/superseded_by": "PLUG-B8-II", "items/-": SUCCEEDED[0]},
        True,
        {("PLUG-B8", "replaced")},
    ),
    "succeeded by what does not fit": (
        {"items/PLUG-B8/status": "retired", "items/PLUG-B8/superseded_by": "PLUG-T"},
        False,
        {("PLUG-B8", "replaced")},
    ),
    "no car": ({"chassis/brook/hookups": [], "layouts/hose-centre/placements": []}, False, set()),
}


ASKED_CHANGED: dict[str, tuple[Json, str]] = {
    "the layout": ({"layouts/hose-centre/placements": []}, " Own hose to the centre has changed."),
    "the car, too": (
        {"layouts/hose-centre/placements": [], "chassis/brook/hookups": []},
        " Brook hatchback has changed. Own hose to the centre has changed.",
    ),
    "a name alone": ({"chassis/brook/name": "Brooklet", "items/PLUG-B8/status": "retired"}, ""),
}


@pytest.mark.parametrize(("changes", "told"), ASKED_CHANGED.values(), ids=list(ASKED_CHANGED))
def test_what_was_asked_for_and_has_changed_is_told(changes: Json, told: str) -> None:
    then, now = edition(catalog()), Edition(2, edition(catalog(changes)).catalog)
    bill = answer_from(then, HOSE | {"limit": 1})["bills"][0]
    assert current(then, now, bill["key"])["text"] == f"In catalog revision 2 this is not a valid bill any more.{told}"


@pytest.mark.parametrize(("changes", "valid", "changed"), CASES.values(), ids=list(CASES))
def test_what_becomes_of_a_bill(changes: Json, valid: bool, changed: set[tuple[str, str]]) -> None:
    then, now = edition(catalog()), Edition(2, edition(catalog(changes)).catalog)
    bill = answer_from(then, HOSE | {"limit": 1})["bills"][0]
    told = current(then, now, bill["key"])
    assert (told["revision"], told["valid"], told["price"] is None, told["key"] is None) == (
        2,
        valid,
        not valid,
        not valid,
    )
    assert {(one["sku"], one["what"]) for one in told["changed"]} == changed


def test_what_has_changed_is_told_in_words() -> None:
    """A field that is asked about in words, beside one that only fitters look at, and such a one alone."""
    changes = {"items/PLUG-B8/max_kpa": 9000, "items/PLUG-B8/hex_mm": 30, "items/ADAPT-B8-F6/hex_mm": 30}
    then, now = edition(catalog()), Edition(2, edition(catalog(changes)).catalog)
    told = current(then, now, answer_from(then, HOSE | {"limit": 1})["bills"][0]["key"])
    assert {one["sku"]: one["text"].partition(" has changed: ")[2] for one in told["changed"]} == {
        "PLUG-B8": "the pressure that it stands.",
        "ADAPT-B8-F6": "figures for fitting it.",
    }


def compare(seed: int, publishes: int = 5) -> int:
    """How many bills were compared: each of a random catalog, after random edits, with asking anew."""
    rng = Random(seed)
    first = random_catalog(rng)
    then = edition(first)
    last = first
    for _ in range(publishes):
        last = edited(rng, last, most=2)
    for item in last["items"]:
        if item["status"] == "retired" and rng.randrange(2):
            kin = [x["sku"] for x in last["items"] if x["kind"] == item["kind"] and x["status"] == "active"]
            item |= {"superseded_by": rng.choice(kin)} if kin else {}
    now = Edition(1 + publishes, edition(last).catalog)
    succeeds = {x["sku"]: x["superseded_by"] for x in last["items"] if x.get("superseded_by")}
    compared = 0
    for _ in range(4):
        request = random_request(rng, first, wish_percent=10) | UNGROUPED
        for bill in answer_from(then, request)["bills"]:
            told = current(then, now, bill["key"])
            try:
                anew = answer_from(now, request)
            except RequestFaultsError:
                assert not told["valid"]
                continue
            if anew["total_valid"] > len(anew["bills"]):
                continue
            same = [x for x in anew["bills"] if body(x, {}) == body(bill, {})]
            same = same or [x for x in anew["bills"] if body(x, {}) == body(bill, succeeds)]
            assert told["valid"] is bool(same), (request, bill["chains"])
            if same:
                assert (told["price"], told["key"]) == (same[0]["price"], same[0]["key"])
            compared += 1
    return compared


def test_the_newest_catalog_is_asked_anew() -> None:
    assert sum(map(compare, range(6))) > 0


def test_excluded_parts_that_are_gone_do_no_harm() -> None:
    """What is not in the catalog any more is in no bill of it."""
    then = edition(catalog({"items/-": twin("PLUG-B8", "PLUG-OLD", price=1)}))
    now = Edition(2, edition(catalog()).catalog)
    bill = answer_from(then, HOSE | {"limit": 1, "exclude": ["PLUG-OLD"]})["bills"][0]
    told = current(then, now, bill["key"])
    assert told["valid"]
    assert told["key"] is not None
    assert decode_key(told["key"]).request.exclude == []
