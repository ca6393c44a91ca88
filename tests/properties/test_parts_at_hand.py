"""Bills with parts that the customer has, or on a rail by somebody else: the slow solver finds the same ones."""

from random import Random
from typing import Any

import pytest

from tests.support.brute_force import all_bills
from tests.support.comparison import differences, group_differences
from tests.support.engine import answer
from tests.support.random_questions import catalog_with_bills, with_scarcity
from tests.support.random_requests import random_facts, random_request
from tests.support.strategies import MOST_COMBINATIONS, combinations

Json = dict[str, Any]


def questions(seeds: range, *, scarce: bool) -> list[tuple[Json, Json]]:
    """Catalogs and requests with `have` or `own_rail`; `scarce`: with unsold, retired and short items."""
    found = []
    for seed in seeds:
        rng = Random(seed)
        catalog = catalog_with_bills(rng)
        catalog = with_scarcity(rng, catalog) if scarce else catalog
        request = random_request(rng, catalog, 8)
        chassis = next(car for car in catalog["chassis"] if car["id"] == request["chassis"])
        request |= random_facts(rng, catalog, chassis)
        if combinations(catalog, request) <= MOST_COMBINATIONS:
            found.append((catalog, request))
    return found


@pytest.mark.parametrize("scarce", [False, True], ids=["plenty", "scarce"])
@pytest.mark.parametrize("first", [100, 180])
def test_same_bills_as_trying_all(first: int, scarce: bool) -> None:
    """Same bills and groups, order, prices, lines with their sources, lead times, cautions of an own rail."""
    asked = questions(range(first, first + 32), scarce=scarce)
    answered = 0
    for catalog, request in asked:
        bills = all_bills(catalog, request)
        answered += bool(bills)
        for grouped, compare in ((False, differences), (True, group_differences)):
            whole = request | {"limit": 100, "group_variants": grouped}
            assert not compare(catalog, whole, bills, answer(catalog, whole))
    assert len(asked) > 25
    assert answered > 9
