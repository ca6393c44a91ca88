"""Random orders on any catalog: mostly what some bill takes, with a few mistakes; sometimes noise."""

from collections.abc import Callable
from copy import deepcopy
from random import Random
from typing import Any

from tests.support.brute_force import all_bills
from tests.support.random_requests import random_facts, random_request
from tests.support.strategies import MOST_COMBINATIONS, combinations

Json = dict[str, Any]
Lines = dict[str, int]


def with_history(rng: Random, catalog: Json) -> Json:
    """The catalog with more of what an order can get wrong: one to three retired items that others supersede.

    Each is an earlier version of a part, or of such an earlier version; now and then a part on sale is superseded.
    """
    catalog = deepcopy(catalog)
    known = [item for item in catalog["items"] if item["ports"]]
    for number in range(rng.randint(1, 3)):
        item = rng.choice(known)
        old = deepcopy(item) | {"sku": f"OLD-{number}", "name": f"OLD-{number}", "superseded_by": item["sku"]}
        old |= {"price": rng.choice([0, 5, 10, 20])}
        old |= {"status": "retired"} if rng.randrange(100) < 80 else {}
        catalog["items"].append(old)
        known.append(old)
    return catalog


def random_order(rng: Random, catalog: Json, wish_percent: int = 6) -> Json:
    """A valid order. Wishes are made seldom, parts are had or the rail is the customer's own in about one of four."""
    request = random_request(rng, catalog, wish_percent)
    del request["order_by"]
    if rng.randrange(100) < 25:
        chassis = next(one for one in catalog["chassis"] if one["id"] == request["chassis"])
        request |= random_facts(rng, catalog, chassis)
    sets = rng.choice([1] * 8 + [2, 3])
    lines = _of_a_bill(rng, catalog, request, sets) if rng.randrange(100) < 88 else {}
    for _ in range(rng.choice([0, 1, 1, 2, 3]) if lines else rng.randint(1, 5)):
        rng.choice(MISTAKES if lines else [_other_added])(rng, catalog, lines)
    order = request | {"lines": [{"sku": sku, "qty": qty} for sku, qty in lines.items() if qty > 0]}
    rng.shuffle(order["lines"])
    if not order["lines"]:
        order["lines"] = [{"sku": rng.choice(catalog["items"])["sku"], "qty": 1}]
    elif rng.randrange(100) < 10:
        order["lines"].append(dict(rng.choice(order["lines"])))
    if rng.randrange(100) < 60:
        del order["layout"]
    return order | ({"sets": sets} if sets > 1 else {})


def _of_a_bill(rng: Random, catalog: Json, request: Json, sets: int) -> Lines:
    """What a bill of the request takes; it may be one with a gauge. Nothing where there is none or far too many."""
    asked = request | ({"gauge": "any"} if rng.randrange(100) < 20 else {})
    bills = all_bills(catalog, asked) if combinations(catalog, asked) <= MOST_COMBINATIONS else []
    if not bills:
        return {}
    lines = rng.choice(bills).lines
    return {sku: qty * sets for sku, qty, source in sorted(lines) if source in ("buy", "elsewhere")}


# --- mistakes -----------------------------------------------------------------------------------------------


def _dropped(rng: Random, catalog: Json, lines: Lines) -> None:
    del lines[rng.choice(list(lines))]


def _miscounted(rng: Random, catalog: Json, lines: Lines) -> None:
    lines[rng.choice(list(lines))] += rng.choice([-1, 1, 1, 2])


def _other_added(rng: Random, catalog: Json, lines: Lines) -> None:
    _add(lines, rng.choice([item for item in catalog["items"] if item["ports"]])["sku"], rng.choice([1, 1, 2]))


def _small_part_added(rng: Random, catalog: Json, lines: Lines) -> None:
    _add(lines, rng.choice([item["sku"] for item in catalog["items"] if not item["ports"]]), rng.choice([1, 4]))


def _unknown_added(rng: Random, catalog: Json, lines: Lines) -> None:
    _add(lines, rng.choice(["NOWHERE-1", "NOWHERE-2"]), 1)


def _swapped(rng: Random, catalog: Json, lines: Lines) -> None:
    """One of the same kind in its place, of the same family if there is one."""
    record = {item["sku"]: item for item in catalog["items"]}
    out = record.get(rng.choice(list(lines)))
    others = [item for item in catalog["items"] if out is not None and item["kind"] == out["kind"] and item != out]
    family = [item for item in others if out is not None and out.get("family") and item.get("family") == out["family"]]
    if out is not None and others:
        qty = rng.randint(1, max(1, lines[out["sku"]]))
        lines[out["sku"]] -= qty
        _add(lines, rng.choice(family or others)["sku"], qty)


def _outdated(rng: Random, catalog: Json, lines: Lines) -> None:
    """An earlier version in its place, where one is in the order; else one added."""
    old = [item for item in catalog["items"] if item.get("superseded_by") is not None]
    replaced = [item for item in old if lines.get(item["superseded_by"], 0) > 0]
    if replaced:
        item = rng.choice(replaced)
        _add(lines, item["sku"], lines.pop(item["superseded_by"]))
    elif old:
        _add(lines, rng.choice(old)["sku"], 1)


def _add(lines: Lines, sku: str, qty: int) -> None:
    lines[sku] = lines.get(sku, 0) + qty


MISTAKES: list[Callable[[Random, Json, Lines], None]] = [
    *(_dropped, _dropped, _miscounted, _miscounted),
    *(_swapped, _swapped, _swapped, _other_added),
    *(_small_part_added, _unknown_added, _outdated, _outdated),
]
