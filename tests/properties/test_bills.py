"""Laws of the answer on random small catalogs: the slow solver and OR-Tools CP-SAT find the same bills."""

from collections import Counter
from copy import deepcopy
from functools import cache
from random import Random
from typing import Any

import pytest
from hypothesis import HealthCheck, Phase, given
from hypothesis import settings as effort
from hypothesis import strategies as st

from tests.support import asp, cp_sat, csp
from tests.support.boards import Found, puzzle
from tests.support.brute_force import all_bills
from tests.support.comparison import differences, group_differences
from tests.support.effort import examples, seeds
from tests.support.engine import answer
from tests.support.random_catalogs import random_catalog
from tests.support.random_requests import ORDERS, WISHES, random_request
from tests.support.strategies import MOST_COMBINATIONS, combinations, questions

Json = dict[str, Any]

UNGROUPED: Json = {"limit": 100, "group_variants": False}
GROUPED: Json = {"limit": 100, "group_variants": True}
NARROWING = ("clearances", "finish", "exclude", "in_stock_only", "allow_unsold", "max_price")

usual = effort(  # shrinking a whole catalog takes minutes; the strategy prints what failed instead
    deadline=None,
    derandomize=True,
    suppress_health_check=[*HealthCheck],
    phases=[Phase.explicit, Phase.generate],
)
few = examples(usual, 40)
many = examples(usual, 80)


def seeded(seed: int, wish_percent: int = 10) -> tuple[Json, Json] | None:
    """The catalog and request of a seed, or None where there is too much to try."""
    rng = Random(seed)
    catalog = random_catalog(rng)
    request = random_request(rng, catalog, wish_percent)
    return (catalog, request) if combinations(catalog, request) <= MOST_COMBINATIONS else None


def assert_same_bills(catalog: Json, request: Json) -> None:
    """Assert that the answer, grouped and not, is what the slow solver finds."""
    bills = all_bills(catalog, request)
    ungrouped, by_family = request | UNGROUPED, request | GROUPED
    assert not differences(catalog, ungrouped, bills, answer(catalog, ungrouped))
    assert not group_differences(catalog, by_family, bills, answer(catalog, by_family))


@pytest.mark.parametrize("first", [0, 1800])
def test_same_bills_as_trying_all(first: int) -> None:
    """A fixed set of catalogs: same bills and groups, order, prices, lines, lead times; drops within 0.5 %."""
    asked = [question for seed in seeds(first, 60) if (question := seeded(seed)) is not None]
    assert len(asked) > 48
    for question in asked:
        assert_same_bills(*question)


@many
@given(questions())
def test_same_bills_on_any_catalog(question: tuple[Json, Json]) -> None:
    """The same on catalogs that Hypothesis looks for."""
    assert_same_bills(*question)


@many
@given(questions(wish_percent=0), st.sampled_from(ORDERS))
def test_each_order(question: tuple[Json, Json], order_by: str) -> None:
    """Bills come in the order asked for, ties broken in the same way, and a short list is the start of the long one."""
    catalog, request = question
    request = request | {"order_by": order_by}
    assert_same_bills(catalog, request)
    whole, start = answer(catalog, request | GROUPED), answer(catalog, request | {"limit": 3})
    assert start["bills"] == whole["bills"][:3]
    assert start["total_valid"] == whole["total_valid"]


@few
@given(questions(), st.randoms(use_true_random=False))
def test_order_in_the_catalog_does_not_matter(question: tuple[Json, Json], rng: Random) -> None:
    """The same request gets the same answer again, and from a catalog with its items in another order."""
    catalog, request = question
    shuffled = deepcopy(catalog)
    rng.shuffle(shuffled["items"])
    expected = answer(catalog, request)
    assert answer(catalog, request) == expected
    assert answer(shuffled, request) == expected


@few
@given(questions(), st.sampled_from(["fitting", "plug", "gauge", "line", "regulator"]))
def test_a_stranger_changes_nothing(question: tuple[Json, Json], kind: str) -> None:
    """An item that mates with nothing leaves the bills as they are."""
    catalog, request = question
    stranger = deepcopy(next(item for item in catalog["items"] if item["kind"] == "fitting"))
    stranger |= {"sku": "STRANGER", "kind": kind}
    stranger["ports"] = [{"id": f"port-{end}", "standard": "strange", "end": end} for end in ("male", "female")]
    stranger.pop("family", None)
    more = deepcopy(catalog)
    more["port_standards"].append(more["port_standards"][0] | {"id": "strange"})
    more["items"].append(stranger)
    before, after = answer(catalog, request), answer(more, request)
    assert (after["total_valid"], after["bills"]) == (before["total_valid"], before["bills"])


@many
@given(questions(), st.sampled_from(NARROWING), st.randoms(use_true_random=False))
def test_dropping_a_narrowing_wish_leaves_bills(question: tuple[Json, Json], wish: str, rng: Random) -> None:
    """Where a request has bills, the same request with one narrowing wish less has some too."""
    catalog, request = question
    chassis = next(chassis for chassis in catalog["chassis"] if chassis["id"] == request["chassis"])
    narrower = request | {wish: WISHES[wish](rng, catalog, chassis)}
    fewer = {name: value for name, value in request.items() if name != wish}
    if narrower[wish] is not None and answer(catalog, narrower)["total_valid"] > 0:
        assert answer(catalog, fewer)["total_valid"] > 0


@pytest.mark.parametrize("first", [0])
def test_other_solvers_agree(first: int) -> None:
    """CP-SAT, clingo and python-constraint2 count the same bills and find the same cheapest price."""
    for question in filter(None, map(seeded, seeds(first, 60))):
        catalog, request = question
        found = answer(catalog, request | UNGROUPED | {"order_by": "price"})
        expected = Found(found["total_valid"], found["bills"][0]["price"] if found["bills"] else None)
        choices = puzzle(catalog, request)
        assert [cp_sat.solve(choices), asp.solve(choices), csp.solve(choices)] == [expected] * 3


@cache
def traits_shown() -> Counter[str]:
    """In how many of the fixed catalogs there is what they are meant to have."""
    shown: Counter[str] = Counter()
    for question in filter(None, map(seeded, range(150))):
        bills = all_bills(*question)
        kinds = {item["sku"]: item["kind"] for item in question[0]["items"]}
        traits = {
            "bills": bool(bills),
            "groups": len({bill.family for bill in bills}) < len(bills),
            "two banks": any("1." in spot for bill in bills for spot in bill.duties),
            "shared feeds": any([path.duty for path in bill.paths].count("feed") > 1 for bill in bills),
            "side plugs": any(
                len(skus) > 1 and kinds[skus[-1]] == "plug" for bill in bills for skus in bill.chains.values()
            ),
            "supplied": any(
                kinds[sku] == "plug" and source == "supplied" for bill in bills for sku, _, source in bill.lines
            ),
            "elsewhere": any(source == "elsewhere" for bill in bills for *_, source in bill.lines),
        }
        shown.update(trait for trait, is_there in traits.items() if is_there)
    return shown


@pytest.mark.parametrize(
    "trait", ["bills", "groups", "two banks", "shared feeds", "side plugs", "supplied", "elsewhere"]
)
def test_random_catalogs_are_rich(trait: str) -> None:
    """The fixed catalogs do reach what they are meant to test."""
    assert traits_shown()[trait] >= 3
