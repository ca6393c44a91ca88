"""An order check the slow way: every bill of every layout beside the order, and the nearest of each layout.

How the page is read. Compared are units of rails, fittings, plugs, gauges, lines and regulators that are sold: those
that the bill takes from `buy`, with those ordered. A superseded SKU counts as its last successor, even where the old
item is still active, and at the successor's list price. An unknown SKU is left aside. Nearest is what takes the fewest
changes, then what comes first by price, pieces, drop, chains and rail; where all that is equal, too, the layout that
comes first in the catalog.
"""

from collections import Counter
from dataclasses import dataclass
from typing import Any

from tests.support.brute_force import all_bills
from tests.support.slow_bills import OracleBill
from tests.support.slow_questions import Json

COMPARED = {"rail", "fitting", "plug", "gauge", "line", "regulator"}
NOT_ASKED = ("lines", "layout", "sets")
"""What an order has that a request for bills has not, or has for another reason."""


@dataclass(frozen=True)
class Nearest:
    """The bill of a layout that is nearest to the order, and what makes the order into it (swaps as add and remove)."""

    layout: str
    bill: OracleBill
    add: Counter[str]
    remove: Counter[str]
    price_change: int
    rank: tuple[Any, ...]

    @property
    def changes(self) -> int:
        return self.add.total() + self.remove.total()

    @property
    def verdict(self) -> str:
        verdicts = {(False, False): "complete", (True, False): "short", (False, True): "surplus", (True, True): "wrong"}
        return verdicts[bool(self.add), bool(self.remove)]


@dataclass(frozen=True)
class OracleCheck:
    """`nearest`: of the layout asked for, else of all; None where there is no bill. `possible`: of each layout."""

    nearest: Nearest | None
    possible: dict[str, Nearest]

    @property
    def verdict(self) -> str:
        return self.nearest.verdict if self.nearest is not None else "impossible"


def check(catalog: Json, order: Json) -> OracleCheck:
    """The bill nearest to an order. `possible` has every layout with a bill, in the catalog's order."""
    asked = {name: value for name, value in order.items() if name not in NOT_ASKED}
    ordered = ordered_units(catalog, order)
    if order.get("gauge") is None and orders_a_gauge(catalog, order):
        asked["gauge"] = "any"
    nearest = [
        _nearest_of(catalog, asked | {"layout": layout["id"]}, ordered, order.get("sets") or 1)
        for layout in catalog["layouts"]
    ]
    possible = {found.layout: found for found in nearest if found is not None}
    wanted = [found for found in possible.values() if order.get("layout") in (None, found.layout)]
    return OracleCheck(min(wanted, key=lambda found: found.rank, default=None), possible)


def ordered_units(catalog: Json, order: Json) -> Counter[str]:
    """How many units of each compared SKU are ordered, under the SKU that it goes by today."""
    record = {item["sku"]: item for item in catalog["items"]}
    ordered: Counter[str] = Counter()
    for line in order["lines"]:
        if line["sku"] in record:
            ordered[today(catalog, line["sku"])] += line["qty"]
    return Counter({sku: qty for sku, qty in ordered.items() if _is_compared(record[sku])})


def _is_compared(item: Json) -> bool:
    return item["kind"] in COMPARED and item["sold"]


def orders_a_gauge(catalog: Json, order: Json) -> bool:
    """Whether a gauge is ordered, sold or not: it tells that one is wanted."""
    kinds = {item["sku"]: item["kind"] for item in catalog["items"]}
    return any(kinds[today(catalog, line["sku"])] == "gauge" for line in order["lines"] if line["sku"] in kinds)


def today(catalog: Json, sku: str) -> str:
    """The last successor of a known SKU."""
    successors = {item["sku"]: item.get("superseded_by") for item in catalog["items"]}
    while (successor := successors[sku]) is not None:
        sku = successor
    return sku


def ships(catalog: Json, order: Json, bill: OracleBill) -> tuple[int, int]:
    """For how many sets all that is sold is there, by trying each number; and the days until the last rest comes."""
    record = {item["sku"]: item for item in catalog["items"]}
    have = Counter[str]()
    for part in order.get("have", ()):
        have[part["sku"]] += part["qty"]
    needed = Counter[str]()
    for sku, qty, source in bill.lines:
        if source in ("buy", "have") and sku in record and record[sku]["sold"]:
            needed[sku] += qty

    def short(sets: int) -> set[str]:
        return {sku for sku, qty in needed.items() if sets * qty - have[sku] > record[sku]["stock"]}

    every = order.get("sets") or 1
    now = max(sets for sets in range(every + 1) if not short(sets))
    return now, max((record[sku]["lead_days"] for sku in short(every)), default=0)


def _nearest_of(catalog: Json, request: Json, ordered: Counter[str], sets: int) -> Nearest | None:
    """Nearest of one layout. Of layouts whose ranks are equal, `min` keeps the first."""
    record = {item["sku"]: item for item in catalog["items"]}
    list_price = sum(qty * record[sku]["price"] for sku, qty in ordered.items())
    found = []
    for bill in all_bills(catalog, request):
        got = Counter[str]()
        for sku, qty, source in bill.lines:
            if source == "buy":
                got[sku] += qty * sets
        add, remove = got - ordered, ordered - got
        price_change = sets * bill.price - list_price
        changes = add.total() + remove.total()
        rank = (changes, *bill.tie_break)
        found.append(Nearest(request["layout"], bill, add, remove, price_change, rank))
    return min(found, key=lambda one: one.rank, default=None)
