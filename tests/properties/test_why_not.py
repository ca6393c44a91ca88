"""Laws of the advice on requests without a bill; trying every subset of their wishes finds the same."""

from collections.abc import Iterator
from itertools import combinations as subsets
from random import Random
from typing import Any

import pytest

from tests.support import brute_wishes
from tests.support.brute_force import any_bill
from tests.support.brute_wishes import MEASURES, wishes_of, with_wishes
from tests.support.comparison import why_differences
from tests.support.engine import answer
from tests.support.random_questions import catalog_with_bills, with_scarcity
from tests.support.random_requests import TOO_MUCH, known_spots, random_facts, random_request
from tests.support.strategies import MOST_COMBINATIONS, combinations

Json = dict[str, Any]
MOST_WISHES = 6


def hopeless(seeds: range, *, facts: bool) -> Iterator[tuple[Json, Json]]:
    """Catalogs and requests without a bill; `facts`: with parts at hand or a rail of one's own, and short stock."""
    for seed in seeds:
        rng = Random(seed)
        catalog = catalog_with_bills(rng)
        request = random_request(rng, catalog, 20, TOO_MUCH)
        if facts:
            catalog = with_scarcity(rng, catalog)
            chassis = next(car for car in catalog["chassis"] if car["id"] == request["chassis"])
            request |= random_facts(rng, catalog, chassis)
        small = combinations(catalog, with_wishes(request, {})) <= MOST_COMBINATIONS
        if small and len(wishes_of(catalog, request)) <= MOST_WISHES and not any_bill(catalog, request):
            yield catalog, request


@pytest.mark.parametrize("facts", [False, True], ids=["wishes alone", "with parts at hand"])
def test_same_conflicts_and_repairs_as_trying_all_subsets(facts: bool) -> None:
    asked = list(hopeless(range(5000, 5040), facts=facts))
    assert len(asked) > 15
    for catalog, request in asked:
        assert not why_differences(brute_wishes.why(catalog, request), answer(catalog, request))


def test_each_conflict_conflicts_and_no_proper_subset_does() -> None:
    told = 0
    for catalog, request in hopeless(range(6000, 6050), facts=False):
        wishes = wishes_of(catalog, request)
        for conflict in answer(catalog, request)["conflicts"]:
            for size in range(len(conflict) + 1):
                for names in subsets(conflict, size):
                    asked = with_wishes(request, {name: wishes[name] for name in names})
                    assert (answer(catalog, asked)["total_valid"] == 0) == (size == len(conflict))
            told += bool(conflict)
    assert told > 20


def test_each_repair_works_and_a_tenth_less_does_not() -> None:
    """Applied as it says; of a number that moved, the value a tenth nearer to the given one has no bill."""
    numbers = 0
    for catalog, request in hopeless(range(7000, 7080), facts=False):
        wishes = wishes_of(catalog, request)
        for repair in answer(catalog, request)["repairs"]:
            assert (
                answer(catalog, changed(request, wishes, repair["change"]))["total_valid"] == repair["total_valid"] > 0
            )
            (name, value), *others = repair["change"].items()
            if others or not isinstance(value, (int, float)) or isinstance(value, bool):
                continue
            numbers += 1
            step = 1 if name == "max_price" else 0.1
            nearer = value + step if value < wishes[name] else value - step
            if (
                abs(nearer - wishes[name]) < abs(value - wishes[name])
                and (nearer - wishes[name]) * (value - wishes[name]) > 0
            ):
                rounded = nearer if name == "max_price" else round(nearer, 1)
                assert answer(catalog, changed(request, wishes, {name: rounded}))["total_valid"] == 0
    assert numbers > 10


def changed(request: Json, wishes: Json, change: Json) -> Json:
    """The request with the new values; what is dropped to no value is not asked for."""
    return with_wishes(request, {name: value for name, value in (wishes | change).items() if value is not None})


def test_more_wishes_than_can_all_be_tried_still_get_true_conflicts_and_repairs() -> None:
    """With dozens of exclusions only some conflicts are told, and that there may be more; what is told holds."""
    told = 0
    for seed in range(8000, 8026):
        rng = Random(seed)
        catalog = catalog_with_bills(rng)
        request = random_request(rng, catalog, 0)
        chassis = next(car for car in catalog["chassis"] if car["id"] == request["chassis"])
        request |= {
            "exclude": [item["sku"] for item in catalog["items"] if item["kind"] != "rail"],
            "clearances": [{"spot": spot, MEASURES[0]: 1} for spot in known_spots(catalog, chassis)],
        }
        found = answer(catalog, request)
        if found["total_valid"] or not any_bill(catalog, with_wishes(request, {})):
            continue
        told += 1
        wishes = wishes_of(catalog, request)
        for conflict in found["conflicts"]:
            assert not any_bill(catalog, with_wishes(request, {name: wishes[name] for name in conflict}))
        for repair in found["repairs"]:
            assert any_bill(catalog, changed(request, wishes, repair["change"]))
        assert found["conflicts"]
        assert found["repairs"]
    assert told > 5
