"""Laws of explanations on random catalogs: the slow solver finds the part in the same bills, and after each change."""

from collections.abc import Iterator, Sequence
from functools import cache
from random import Random
from typing import Any

import pytest

from service.documents.explain import ExplainRequest
from service.usecases.explain_part import explain_in
from service.usecases.library import Edition
from tests.support.brute_force import all_bills
from tests.support.brute_wishes import default, wishes_of, with_wishes
from tests.support.engine import edition
from tests.support.least_change import NUMBERS
from tests.support.random_catalogs import random_catalog
from tests.support.random_questions import with_scarcity
from tests.support.random_requests import TOO_MUCH, random_facts, random_request
from tests.support.slow_bills import OracleBill
from tests.support.strategies import MOST_COMBINATIONS, combinations

Json = dict[str, Any]
ROLES = ("rail", "mounting", "box", "extra")


def asked(seeds: range) -> Iterator[tuple[Json, Json]]:
    """Catalogs with a request each: every other one asks too much, every third one is of who has something already."""
    for seed in seeds:
        rng = Random(seed)
        catalog = random_catalog(rng)
        catalog = with_scarcity(rng, catalog) if seed % 3 == 0 else catalog
        request = random_request(rng, catalog, 15, TOO_MUCH if seed % 2 else None)
        if seed % 3 == 0:
            chassis = next(car for car in catalog["chassis"] if car["id"] == request["chassis"])
            request |= random_facts(rng, catalog, chassis)
        if combinations(catalog, request) <= MOST_COMBINATIONS:
            yield catalog, request


def explained(ready: Edition, request: Json, sku: str, spot: str | None = None) -> Json:
    question = {"request": request, "sku": sku, "spot": spot}
    return dict(explain_in(ready, ExplainRequest.model_validate(question)))


def stands(bills: Sequence[OracleBill], sku: str, verdict: Json) -> bool:
    """Whether the part is where a verdict is about: at its spot (a link stands at both of its own), or as said."""
    if verdict["duty"] == "rail":
        return any(bill.rail == sku for bill in bills)
    if verdict["spot"] is None:
        return any(sku in {line for line, _, _ in bill.lines} for bill in bills)
    return any(sku in chain for bill in bills for chain in _chains_at(bill, verdict["spot"]))


def _chains_at(bill: OracleBill, spot: str) -> list[tuple[str, ...]]:
    linked = [bill.chains[path.spots[0]] for path in bill.paths if spot in path.spots]
    return linked or [bill.chains.get(spot, ())]


@pytest.mark.parametrize("first", range(7_000, 7_080, 40))
def test_a_part_is_where_some_bill_has_it(first: int) -> None:
    """`in_bills`, `where` and every verdict are those of all bills that there are."""
    standing = 0
    for catalog, request in asked(range(first, first + 40)):
        bills, ready = all_bills(catalog, request), edition(catalog)
        for item in catalog["items"]:
            sku = item["sku"]
            told = explained(ready, request, sku)
            assert told["in_bills"] == any(sku in {line for line, _, _ in bill.lines} for bill in bills)
            spots = {spot for bill in bills for spot, chain in bill.chains.items() if sku in chain}
            assert [place for place in told["where"] if place not in ROLES] == sorted(spots)
            assert ("rail" in told["where"]) == any(bill.rail == sku for bill in bills)
            for verdict in told["verdicts"]:
                assert verdict["stands"] == stands(bills, sku, verdict)
                assert verdict["stands"] or verdict["rules"]
            standing += told["in_bills"]
    assert standing > 15


@pytest.mark.parametrize("first", range(7_200, 7_280, 40))
def test_each_change_lets_the_part_in(first: int) -> None:
    """With the change the part is there, and there are so many bills; where none is told, dropping no wish helps."""
    changed = 0
    for catalog, request in asked(range(first, first + 40)):
        ready, wishes = edition(catalog), wishes_of(catalog, request)

        @cache
        def bills_with(name: str, value: Any) -> list[OracleBill] | None:
            known = {other: kept for other, kept in wishes.items() if other != name}  # noqa: B023 - called at once
            known |= {} if value is None or value == default(catalog, name) else {name: value}  # noqa: B023
            tried = with_wishes(request, known)  # noqa: B023
            return all_bills(catalog, tried) if combinations(catalog, tried) <= 2 * MOST_COMBINATIONS else None  # noqa: B023

        for item in catalog["items"]:
            for verdict in explained(ready, request, item["sku"])["verdicts"]:
                if verdict["change"] is not None:
                    ((name, value),) = verdict["change"]["change"].items()
                    bills = bills_with(name, value)
                    if bills is not None:
                        assert stands(bills, item["sku"], verdict)
                        assert verdict["change"]["total_valid"] == len({bill.family for bill in bills})
                        changed += 1
                elif not verdict["stands"]:
                    others = [bills_with(name, None) for name in wishes]
                    assert not any(stands(bills, item["sku"], verdict) for bills in others if bills is not None)
    assert changed > 15


def test_a_number_changes_by_no_more_than_it_must() -> None:
    """The value a tenth (money: one unit) nearer to the given one does not let the part in."""
    measured: set[str] = set()
    for catalog, request in asked(range(7_301, 7_461, 2)):
        ready, wishes = edition(catalog), wishes_of(catalog, request)
        for item in catalog["items"]:
            for verdict in explained(ready, request, item["sku"])["verdicts"]:
                change = verdict["change"]
                ((name, value),) = change["change"].items() if change else (("", None),)
                if value is None or not (name in NUMBERS or name.startswith("clearances/")):
                    continue
                step = 1 if name == "max_price" else 0.1
                nearer = round(value + (step if value < wishes[name] else -step), 1)
                if (value < wishes[name]) == (nearer < wishes[name]):
                    again = explained(
                        ready, with_wishes(request, wishes | {name: nearer}), item["sku"], verdict["spot"]
                    )
                    where = [told for told in again["verdicts"] if told["spot"] == verdict["spot"]]
                    assert not any(told["stands"] for told in where), (name, value, nearer)
                    measured.add(name.rpartition("/")[2])
    assert {"max_price", "axial_mm"} <= measured
