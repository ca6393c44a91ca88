"""The power answer on random catalogs and requests: the slow reckoning finds the same limits, verdict, order."""

from random import Random
from typing import Any

import pytest

from tests.support.brute_force import all_bills, count, ordered
from tests.support.comparison import differences, group_differences
from tests.support.effort import seeds
from tests.support.engine import answer
from tests.support.random_catalogs import random_catalog
from tests.support.random_power import random_power_facts, with_power_facts
from tests.support.random_requests import known_spots, random_facts, random_request
from tests.support.slow_power import OraclePower
from tests.support.strategies import MOST_COMBINATIONS, combinations

Json = dict[str, Any]
TOLERANCE = 1e-3
"""Of a power: the slow reckoning shares flows by another way."""


def seeded(seed: int) -> tuple[Json, Json] | None:
    """A catalog and a request with what tells their power; None where there is too much to try."""
    rng = Random(seed)
    catalog = with_power_facts(rng, random_catalog(rng))
    request = random_request(rng, catalog, wish_percent=10)
    request |= random_power_facts(rng, catalog, request)
    request |= random_facts(rng, catalog, catalog["chassis"][0]) if seed % 3 == 0 else {}
    return (catalog, request) if combinations(catalog, request) <= MOST_COMBINATIONS else None


def power_differences(found: OraclePower, told: Json) -> list[str]:
    """How the power of a bill document is not what the slow reckoning finds."""
    plain = {
        "asked_kw": found.asked_kw,
        "assumed": found.assumed,
        "verdict": found.verdict,
        "limited_by": found.limited_by,
        "not_told": found.not_told,
        "follows": found.follows,
        "reserve": found.reserve,
    }
    wrong = [f"{name} {told[name]}, not {value}" for name, value in plain.items() if told[name] != value]
    limits = {limit["what"]: limit["kw"] for limit in told["limits"]}
    if limits.keys() != found.limits.keys():
        return [*wrong, f"limits {limits}, not {found.limits}"]
    figures = [(what, limits[what], kw) for what, kw in found.limits.items()]
    figures += [("carries_kw", told["carries_kw"] or 0.0, found.carries_kw or 0.0)]
    return wrong + [
        f"{what} {kw}, not {other}" for what, kw, other in figures if kw != pytest.approx(other, TOLERANCE, abs=1e-6)
    ]


@pytest.mark.parametrize("first", [0, 40])
def test_same_power_as_by_bisection(first: int) -> None:
    """Each bill's limits, what is not told, verdict and what stops it."""
    asked = [question for seed in seeds(first, 26) if (question := seeded(seed)) is not None]
    for catalog, request in asked:
        whole = request | {"limit": 5, "group_variants": False, "order_by": "price"}
        found = ordered(all_bills(catalog, whole), whole)
        for bill, document in zip(found, answer(catalog, whole)["bills"], strict=False):
            assert power_differences(bill.power, document["power"]) == []


@pytest.mark.parametrize("first", [1000, 1040])
def test_what_carries_most_comes_first(first: int) -> None:
    """The order by power, grouped and not, with parts at hand and without."""
    asked = [question for seed in seeds(first, 10) if (question := seeded(seed)) is not None]
    for catalog, request in asked:
        whole = request | {"limit": 100, "group_variants": False, "order_by": "power"}
        bills = all_bills(catalog, whole)
        assert not differences(catalog, whole, bills, answer(catalog, whole))
        by_family = whole | {"group_variants": True}
        assert not group_differences(catalog, by_family, bills, answer(catalog, by_family))
        few = by_family | {"limit": 2}
        assert answer(catalog, few)["bills"] == answer(catalog, by_family)["bills"][:2]


# --- alternatives ---------------------------------------------------------------------------------------------

PLACES = ("left", "centre", "right", "top")


def expected_alternatives(catalog: Json, request: Json) -> list[Json]:
    """Every single change that helps, by asking the slow solver."""
    chassis = next(x for x in catalog["chassis"] if x["id"] == request["chassis"])
    best = next(iter(ordered(all_bills(catalog, request), request)), None)
    if best is not None and best.power.verdict != "over":
        return []
    places = [place for place in PLACES if place in _offered(catalog, request, chassis)]
    banks = [""] if chassis["banks"] == 1 else ["1.", "2."]
    spots = [f"{bank}{place}" for place in places for bank in banks] if request.get("gauge", "none") != "none" else []
    gauges = [{"gauge": spot} for spot in spots if spot != request["gauge"]]
    layouts = [x["id"] for x in catalog["layouts"] if x["banks"] == chassis["banks"] and x["id"] != request["layout"]]
    found = [_alternative(catalog, request, change, best is not None) for change in gauges]
    others = [_alternative(catalog, request, {"layout": layout}, best is not None) for layout in layouts]
    return [x for x in found if x] + sorted((x for x in others if x), key=lambda x: x["price"])


def _offered(catalog: Json, request: Json, chassis: Json) -> set[str]:
    if request.get("own_rail"):
        return set(request["own_rail"])
    rails = [x for x in catalog["items"] if x["kind"] == "rail" and chassis["pattern"] in x["patterns"]]
    return {port["spot"] for rail in rails for port in rail["ports"]}


def _alternative(catalog: Json, request: Json, change: Json, was_over: bool) -> Json | None:
    asked = request | change
    bills = ordered(all_bills(catalog, asked), asked)
    first = next((x for x in bills if not (was_over and x.power.verdict == "over")), None)
    if first is None:
        return None
    return {
        "change": change,
        "total_valid": count(bills, asked),
        "price": first.price,
        "carries_kw": first.power.carries_kw,
    }


@pytest.mark.parametrize("first", [3000, 3300])
def test_alternatives_are_what_asking_tells(first: int) -> None:
    """Where nothing fits, and where the best carries too little; none where neither is so."""
    told = 0
    for seed in seeds(first, 30):
        question = seeded(seed)
        if question is None:
            continue
        catalog, request = question
        spots = known_spots(catalog, catalog["chassis"][0])
        request |= {"gauge": Random(seed).choice(["any", *spots])} if spots and seed % 2 else {}
        request |= {"power_kw": 300.0} if seed % 3 == 0 else {}
        if request["chassis"] != "car" or combinations(catalog, request) > MOST_COMBINATIONS:
            continue
        found = answer(catalog, request | {"limit": 1})
        plain = [x | {"carries_kw": x["power"]["carries_kw"]} for x in found["alternatives"]]
        plain = [{name: x[name] for name in ("change", "total_valid", "price", "carries_kw")} for x in plain]
        expected = expected_alternatives(catalog, request)
        for one in (*plain, *expected):
            one["carries_kw"] = one["carries_kw"] and float(f"{one['carries_kw']:.3g}")
        assert plain == expected, (seed, request)
        told += len(plain)
    assert told > 0
