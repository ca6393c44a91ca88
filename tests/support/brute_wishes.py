"""Why a request has no bill, by trying every subset of its wishes: conflicts, and repairs with their least changes.

Adding a wish may make a request valid again, so nothing is concluded from one subset about another.
"""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from functools import cache
from itertools import combinations
from typing import Any

from tests.support.brute_force import all_bills, any_bill, count
from tests.support.least_change import NUMBERS, nearest_that_works
from tests.support.slow_questions import Json

MOST_LISTED = 20

PLAIN = (
    *("fuel", "power_kw", "pump_l_h", "feed_hose_m", "return_hose_m", "boost_kpa"),
    *("gauge", "finish", "in_stock_only", "allow_unsold", "max_price"),
)
MEASURES = ("axial_mm", "across_mm")

Change = dict[str, Any]
"""The new value of each wish that is changed, None for one that is dropped to no value."""


@dataclass(frozen=True)
class Repair:
    """Wishes to change. `choices`: (change, total_valid); several only where a number may go up or down as far."""

    wishes: tuple[str, ...]
    choices: tuple[tuple[Change, int], ...]


@dataclass(frozen=True)
class Why:
    """All minimal conflicts and repairs, in the order of the answer; lists there stop at `MOST_LISTED`."""

    conflicts: list[list[str]]
    repairs: list[Repair]

    @property
    def more(self) -> dict[str, bool]:
        return {"conflicts": len(self.conflicts) > MOST_LISTED, "repairs": len(self.repairs) > MOST_LISTED}


def why(catalog: Json, request: Json) -> Why:
    """Both lists, with the numbers of the repairs that are listed; empty where the request has a bill."""
    wishes = wishes_of(catalog, request)

    @cache
    def has_bill(kept: frozenset[str]) -> bool:
        return any_bill(catalog, with_wishes(request, {name: wishes[name] for name in kept}))

    names = frozenset(wishes)
    if has_bill(names):
        return Why([], [])
    found = [list(wanted) for wanted in _minimal(wishes, lambda kept: not has_bill(kept))]
    dropped = list(_minimal(wishes, lambda gone: has_bill(names - gone)))
    return Why(found, [_repair(catalog, request, gone, listed=n < MOST_LISTED) for n, gone in enumerate(dropped)])


def conflicts(catalog: Json, request: Json) -> list[list[str]]:
    """Every minimal set of wishes that has no bill by itself, shortest first, then by names; `[[]]`: nothing helps."""
    return why(catalog, request).conflicts


def repairs(catalog: Json, request: Json) -> list[Repair]:
    """Every minimal set of wishes without which there is a bill, shortest first, then by names."""
    return why(catalog, request).repairs


def _minimal(names: Iterable[str], holds: Callable[[frozenset[str]], bool]) -> Iterator[tuple[str, ...]]:
    """Every subset for which it holds and for no proper subset of it, shortest first, then by names."""
    names = sorted(names)
    found: list[frozenset[str]] = []
    for size in range(len(names) + 1):
        for chosen in combinations(names, size):
            subset = frozenset(chosen)
            if not any(smaller < subset for smaller in found) and holds(subset):
                found.append(subset)
                yield chosen


# --- the wishes of a request --------------------------------------------------------------------------------


def wishes_of(catalog: Json, request: Json) -> dict[str, Any]:
    """Every wish that counts, by its name, with its value: given, and not what holds without it."""
    wishes = {name: request[name] for name in PLAIN if request.get(name) is not None}
    wishes |= {f"addons/{addon}": True for addon in request.get("addons") or []}
    wishes |= {f"exclude/{sku}": True for sku in request.get("exclude") or []}
    for entry in request.get("clearances") or []:
        for measure in MEASURES:
            if entry.get(measure) is not None:
                name = f"clearances/{entry['spot']}/{measure}"
                wishes[name] = min(entry[measure], wishes.get(name, entry[measure]))
    return {name: value for name, value in wishes.items() if value != default(catalog, name)}


def default(catalog: Json, name: str) -> Any:
    """What holds when a wish is dropped: None where that is no value."""
    values = {
        "fuel": catalog["fuels"][0]["id"],
        "boost_kpa": 0,
        "gauge": "none",
        "in_stock_only": False,
        "allow_unsold": True,
    }
    return values.get(name)


def with_wishes(request: Json, wishes: dict[str, Any]) -> Json:
    """The request with these wishes alone; all that is no wish stays, and add-ons stay in their order."""
    asked = {name: value for name, value in request.items() if name not in (*PLAIN, "addons", "clearances", "exclude")}
    asked |= {name: value for name, value in wishes.items() if name in PLAIN}
    for kind in ("addons", "exclude"):
        asked[kind] = [one for one in dict.fromkeys(request.get(kind) or []) if f"{kind}/{one}" in wishes]
    rooms = [(name.split("/"), value) for name, value in wishes.items() if name.startswith("clearances/")]
    asked["clearances"] = [{"spot": spot, measure: value} for (_, spot, measure), value in rooms]
    return asked


# --- what to change -----------------------------------------------------------------------------------------


def _repair(catalog: Json, request: Json, gone: tuple[str, ...], *, listed: bool) -> Repair:
    if not listed:
        return Repair(gone, ())
    wishes = wishes_of(catalog, request)
    dropped = {name: default(catalog, name) for name in gone}
    changes = [dropped]
    if len(gone) == 1 and _is_number(gone[0]):
        (name,) = gone

        def changed(value: float) -> Json:
            return with_wishes(request, wishes | {name: value})

        without = with_wishes(request, {other: value for other, value in wishes.items() if other != name})
        values = nearest_that_works(catalog, name, wishes[name], without, changed)
        changes = [{name: value} for value in values] or [dropped]
    return Repair(gone, tuple((change, _total(catalog, request, wishes, change)) for change in changes))


def _is_number(name: str) -> bool:
    return name in NUMBERS or name.startswith("clearances/")


def _total(catalog: Json, request: Json, wishes: dict[str, Any], change: Change) -> int:
    repaired = {name: value for name, value in (wishes | change).items() if value is not None}
    repaired = {name: value for name, value in repaired.items() if value != default(catalog, name)}
    asked = with_wishes(request, repaired)
    return count(all_bills(catalog, asked), asked)
