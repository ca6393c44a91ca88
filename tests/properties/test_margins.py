"""What bills have left of their limits, and their order by it, beside the slow solver's on random catalogs."""

from dataclasses import asdict
from random import Random
from typing import Any

import pytest

from tests.support.brute_force import all_bills
from tests.support.comparison import named, rail_of
from tests.support.engine import answer_from, edition
from tests.support.random_catalogs import random_catalog
from tests.support.random_requests import random_facts, random_request
from tests.support.slow_bills import OracleBill
from tests.support.slow_margins import OracleMargins, margins, ordered_by_margin
from tests.support.slow_questions import OWN_RAIL, Question
from tests.support.strategies import MOST_COMBINATIONS, combinations

Json = dict[str, Any]


def asked(first: int, count: int) -> list[tuple[Json, Json]]:
    """Catalogs with a request each, every third one of a customer who has something already."""
    found = []
    for seed in range(first, first + count):
        rng = Random(seed)
        catalog = random_catalog(rng)
        request = random_request(rng, catalog, 12)
        if seed % 3 == 0:
            chassis = next(x for x in catalog["chassis"] if x["id"] == request["chassis"])
            request |= random_facts(rng, catalog, chassis)
        if combinations(catalog, request) <= MOST_COMBINATIONS:
            found.append((catalog, request | {"order_by": "margin", "limit": 100}))
    return found


def told(catalog: Json, document: Json) -> Json:
    """What tells a listed bill from the others."""
    rails = {OWN_RAIL} | {item["sku"] for item in catalog["items"] if item["kind"] == "rail"}
    return {"rail": rail_of(document, rails), "duties": document["duties"], "chains": document["chains"]}


def left(document: Json) -> OracleMargins:
    """The margins of a listed bill."""
    margin = document["margin"]
    tightest = margin["tightest"]
    relative = 1.0 if tightest is None else tightest["relative"]
    return OracleMargins(margin["clearance_mm"], margin["pressure_kpa"], margin["drop_percent"], relative)


def firsts(bills: list[OracleBill]) -> list[OracleBill]:
    """The first bill of each family."""
    found: dict[Any, OracleBill] = {}
    for bill in bills:
        found.setdefault(bill.family, bill)
    return list(found.values())


@pytest.mark.parametrize("first", range(5_000, 5_200, 100))
def test_margins_and_their_order(first: int) -> None:
    """Every bill, grouped and not, has the slow solver's margins, and they come in its order."""
    shown = 0
    for catalog, request in asked(first, 100):
        question = Question(catalog, request)
        bills = ordered_by_margin(question, all_bills(catalog, request))
        ready = edition(catalog)
        for grouped, expected in ((False, bills), (True, firsts(bills))):
            listed = answer_from(ready, request | {"group_variants": grouped})["bills"]
            assert [told(catalog, one) for one in listed] == [named(bill) for bill in expected[:100]]
            for one, bill in zip(listed, expected, strict=False):
                assert asdict(left(one)) == pytest.approx(asdict(margins(question, bill)), abs=2e-3)
            shown += len({left(one).relative for one in listed}) > 1
    assert shown > 10


@pytest.mark.parametrize("order_by", ["price", "margin"])
def test_a_short_list_begins_the_long_one(order_by: str) -> None:
    """Asked for three bills, the first three come, whatever is ordered by."""
    for catalog, request in asked(5_400, 40):
        ready = edition(catalog)
        whole = answer_from(ready, request | {"order_by": order_by})["bills"]
        assert answer_from(ready, request | {"order_by": order_by, "limit": 3})["bills"] == whole[:3]


def test_every_kind_of_limit_is_the_tightest_somewhere() -> None:
    """The catalogs do reach what they are meant to test."""
    kinds = set()
    for catalog, request in asked(5_000, 60):
        for bill in answer_from(edition(catalog), request)["bills"]:
            if bill["margin"]["tightest"] is not None:
                kinds.add(bill["margin"]["tightest"]["what"])
    assert kinds == {"clearance", "across", "pressure", "drop", "velocity"}
