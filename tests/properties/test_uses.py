"""Uses of parts on random catalogs: the slow solver finds each part in the same cars, layouts and places."""

from collections import Counter
from itertools import product
from random import Random
from typing import Any

import pytest

from service.domain.work import Meter, metered
from service.usecases.browse import ItemFilter, list_items
from service.usecases.library import Edition
from service.usecases.part_uses import uses_of
from tests.support.brute_force import all_bills
from tests.support.catalogs import small_catalog
from tests.support.engine import edition
from tests.support.random_catalogs import random_catalog
from tests.support.slow_bills import OracleBill
from tests.support.strategies import MOST_COMBINATIONS, combinations

Json = dict[str, Any]
_MOST = MOST_COMBINATIONS // 3


def _catalogs(seeds: range) -> list[Json]:
    """The small catalog, which has cars of one bank and of two, and random ones that can be tried whole."""
    every = [small_catalog(), *(random_catalog(Random(seed)) for seed in seeds)]
    return [catalog for catalog in every if _size(catalog) <= _MOST]


def _size(catalog: Json) -> int:
    return max(combinations(catalog, asked) for asked in _plain_questions(catalog, "any"))


def _plain_questions(catalog: Json, gauge: str) -> list[Json]:
    pairs = product(catalog["chassis"], catalog["layouts"])
    return [{"chassis": car["id"], "layout": layout["id"], "gauge": gauge} for car, layout in pairs]


def _places(catalog: Json, bills: list[OracleBill]) -> dict[str, set[str]]:
    """By SKU the spots of the chains that it stands in, `rail`, and `besides` where a bill has more of it than that."""
    banks = {item["sku"]: 0 for item in catalog["items"]}
    found: dict[str, set[str]] = {}
    for bill in bills:
        standing = Counter(sku for chain in bill.chains.values() for sku in chain)
        for spot, chain in bill.chains.items():
            for sku in chain:
                found.setdefault(sku, set()).add(spot)
        found.setdefault(bill.rail, set()).add("rail")
        rails = 2 if any(spot[0].isdecimal() for spot in bill.duties) else 1
        units = Counter[str]()
        for sku, qty, _ in bill.lines:
            units[sku] += qty
        for sku, qty in units.items():
            if qty > standing[sku] + rails * (sku == bill.rail):
                found.setdefault(sku, set()).add("besides")
    return {sku: places for sku, places in found.items() if sku in banks}


def _told(use: Json) -> set[str]:
    roles = {"besides" if role in ("mounting", "box") else role for role in use["roles"]}
    return {*use["spots"], *roles}


@pytest.mark.parametrize("first", [20_000, 20_030])
def test_same_uses_as_trying_every_car_and_layout(first: int) -> None:
    """Every use, where it stands, and whether that takes a gauge; by pages of any size."""
    used = 0
    for catalog in _catalogs(range(first, first + 20)):
        ready = edition(catalog)
        without = [_places(catalog, all_bills(catalog, asked)) for asked in _plain_questions(catalog, "none")]
        gauged = [_places(catalog, all_bills(catalog, asked)) for asked in _plain_questions(catalog, "any")]
        pairs = [(asked["chassis"], asked["layout"]) for asked in _plain_questions(catalog, "none")]
        for sku in (item["sku"] for item in catalog["items"]):
            expected = [
                (*pair, plain.get(sku, set()) | other.get(sku, set()), sku not in plain)
                for pair, plain, other in zip(pairs, without, gauged, strict=True)
                if sku in plain or sku in other
            ]
            whole = uses_of(ready, sku, 0, 200)
            told = [(use["chassis"], use["layout"], _told(dict(use)), use["needs_gauge"]) for use in whole.uses]
            assert told == expected, sku
            assert whole.next is None
            used += len(told)
            start: int | None = 0
            paged = []
            while start is not None:
                page = uses_of(ready, sku, start, 1)
                assert len(page.uses) == 1 or not whole.uses
                paged += page.uses
                start = page.next
            assert paged == whole.uses
        for car in catalog["chassis"]:
            standing = {
                sku
                for (id_, _), *found in zip(pairs, without, gauged, strict=True)
                if id_ == car["id"]
                for one in found
                for sku in one
            }
            assert {item.sku for item in list_items(ready, ItemFilter(fits=car["id"]))} == standing
    assert used > 60


def test_a_page_ends_where_the_work_of_a_question_does() -> None:
    """Whatever the budget, the pages together are the whole list; what is too much for one question says so."""
    ready = edition(small_catalog())
    whole = uses_of(ready, "PLUG-B8", 0, 200).uses
    with metered(Meter()) as meter:
        uses_of(ready, "PLUG-B8", 0, 200)
    for parts in (1, 2, 3, 5):
        found, pages = _paged(ready, "PLUG-B8", meter.spent // parts)
        unknown = {(use["chassis"], use["layout"]) for use in found if "too_costly" in use}
        known = [use for use in found if "too_costly" not in use]
        assert known == [use for use in whole if (use["chassis"], use["layout"]) not in unknown]
        assert (pages > 1) == (parts > 1)
    with metered(Meter(1)):
        page = uses_of(ready, "PLUG-B8", 0, 200)
    assert ("too_costly" in page.uses[0], page.next) == (True, 1)


def _paged(ready: Edition, sku: str, steps: int) -> tuple[list[Any], int]:
    """All uses, each page on a meter of its own; and the number of pages."""
    found, pages = [], 0
    start: int | None = 0
    while start is not None:
        with metered(Meter(steps)):
            page = uses_of(ready, sku, start, 200)
        assert page.next is None or page.next > start
        found, start, pages = found + page.uses, page.next, pages + 1
    return found, pages
