"""Which part next, reckoned the slow way: every candidate is put into the catalog and every question asked of it.

Catalogs are plain JSON; of the service only the answers to requests are used.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations_with_replacement
from typing import Any

from service.usecases.errors import RequestFaultsError
from tests.support.engine import answer_from, edition

Json = dict[str, Any]
Port = tuple[str, str]
_SKU = "brand-new"


@dataclass(frozen=True)
class SlowPart:
    """A candidate with the places of the requests that it unlocks, and the pieces of their first bills with it;
    `asked`: how often these were asked."""

    ports: tuple[Port, ...]
    unlocked: dict[int, int]
    asked: int

    @property
    def rank(self) -> tuple[Any, ...]:
        return (-len(self.unlocked), -self.asked, sum(self.unlocked.values()), len(self.ports), self.ports)


def slow_next_parts(catalog: Json, requests: Sequence[Json], times: Sequence[int]) -> list[SlowPart]:
    """The candidates that unlock some of these requests, in order; `times`: how often each was asked."""
    plain = edition(catalog)
    dead = [place for place, request in enumerate(requests) if _first(plain, request) is None]
    found = []
    for ports in _candidates(catalog):
        unlocked = _unlocked(catalog, ports, requests, dead)
        found.append(SlowPart(ports, unlocked, sum(times[place] for place in unlocked)))
    return sorted((part for part in found if part.unlocked), key=lambda part: part.rank)


def _candidates(catalog: Json) -> Iterator[tuple[Port, ...]]:
    openings = sorted((standard["id"], end) for standard in catalog["port_standards"] for end in ("male", "female"))
    yield from ((port,) for port in openings)
    yield from combinations_with_replacement(openings, 2)


def _unlocked(catalog: Json, ports: tuple[Port, ...], requests: Sequence[Json], dead: list[int]) -> dict[int, int]:
    best: dict[int, tuple[tuple[Any, ...], int]] = {}
    for standout_mm in standouts(catalog) if len(ports) == 2 else [0.0]:
        ready = edition(catalog | {"items": [*catalog["items"], part(ports, standout_mm)]})
        for place in dead:
            bill = _first(ready, requests[place])
            if bill is not None:
                ranked = (_rank(bill, requests[place]), bill["pieces"])
                best[place] = min(best.get(place, ranked), ranked)
    return {place: pieces for place, (_, pieces) in best.items()}


def part(ports: tuple[Port, ...], standout_mm: float) -> Json:
    """A candidate as an item of a catalog."""
    return {
        "sku": _SKU,
        "name": _SKU,
        "kind": "plug" if len(ports) == 1 else "fitting",
        "sold": True,
        "status": "active",
        "price": 0,
        "stock": 10**9,
        "lead_days": 0,
        "mass_g": 1.0,
        "ports": [{"id": f"p{n}", "standard": standard, "end": end} for n, (standard, end) in enumerate(ports)],
        "wetted": [],
        "standout_mm": standout_mm,
    }


def standouts(catalog: Json) -> list[float]:
    """Every standout at which some chain with the part just reaches the near edge of some window, and 0."""
    lows = {
        window["min_mm"]
        for chassis in catalog["chassis"]
        for hookup in chassis["hookups"]
        for window in (hookup.get("spots") or {}).values()
    }
    own = {item.get("standout_mm") or 0.0 for item in catalog["items"] if item["ports"]}
    sums = {0.0}
    for _ in range(catalog["policies"]["max_chain"] - 1):
        sums |= {round(one + more, 6) for one in sums for more in own if lows and one + more < max(lows)}
    found = {round((low - sum_) / times, 6) for low in lows for sum_ in sums for times in (1, 2) if sum_ < low}
    return sorted(found | {0.0})


def _first(ready: Any, request: Json) -> Json | None:
    try:
        bills = answer_from(ready, request | {"limit": 1, "group_variants": False})["bills"]
    except RequestFaultsError:
        return None
    return bills[0] if bills else None


def _rank(bill: Json, request: Json) -> tuple[Any, ...]:
    drop = round(max((path["drop_kpa"] for path in bill["flow"]["paths"]), default=0.0), 3)
    first = {"pieces": bill["pieces"], "drop": drop, "lead": bill["lead_days"]}.get(
        request.get("order_by", "price"), bill["price"]
    )
    return (first, bill["price"], bill["pieces"], drop)
