"""A bill from the chains of its spots: its units by source, its price, what stands where.

What a bill needs is had first, then bought, or found elsewhere where it is not sold.
"""

from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from functools import cached_property, partial
from typing import Any

from tests.support.slow_chains import Chain
from tests.support.slow_flows import Flows, OraclePath, Setting
from tests.support.slow_power import OraclePower, power_of
from tests.support.slow_questions import OWN_RAIL, Json, Question


@dataclass(frozen=True)
class OracleBill:
    """One valid bill, ungrouped. `family` is its rail, duties and chains with families in place of SKUs."""

    rail: str
    duties: dict[str, str]
    chains: dict[str, tuple[str, ...]]
    price: int
    pieces: int
    lead_days: int
    lines: frozenset[tuple[str, int, str]]  # (sku, quantity, source)
    stands: dict[tuple[str, str], tuple[str, ...]]  # spots of each (sku, source) that stands in chains, sorted
    demand_l_h: float
    paths: tuple[OraclePath, ...]
    family: tuple[Any, ...] = field(repr=False)
    find_power: Callable[[], OraclePower] = field(repr=False, compare=False)

    @cached_property
    def power(self) -> OraclePower:
        return self.find_power()

    @property
    def identity(self) -> tuple[Any, ...]:
        return (self.rail, tuple(sorted(self.duties.items())), tuple(sorted(self.chains.items())))

    @property
    def drop_kpa(self) -> float:
        return max((path.drop_kpa for path in self.paths), default=0.0)

    @property
    def tie_break(self) -> tuple[Any, ...]:
        """What tells apart bills that are alike in what was asked for."""
        chains = sorted(f"{spot}:{','.join(skus)}" for spot, skus in self.chains.items())
        return (self.price, self.pieces, round(self.drop_kpa, 3), chains, self.rail)


def needed_units(question: Question, rail: Json, chains: list[Chain]) -> Counter[str]:
    """What rails and chains need of each SKU beyond what is supplied; the customer's own rail is told apart."""
    needed = Counter(item["sku"] for chain in chains for item in chain.needed)
    if rail["sku"] != OWN_RAIL:
        needed[rail["sku"]] = question.chassis["banks"]
    return needed


def beyond_had(question: Question, needed: Counter[str], *, sold: bool) -> Counter[str]:
    """What is left to get, of sold or of unsold items."""
    return Counter({sku: qty for sku, qty in (needed - question.have).items() if question.record[sku]["sold"] is sold})


def bill_of(
    question: Question, flows: Flows, setting: Setting, chains: dict[str, Chain], paths: tuple[OraclePath, ...]
) -> OracleBill:
    needed = needed_units(question, setting.rail, list(chains.values()))
    buy = beyond_had(question, needed, sold=True)
    elsewhere = beyond_had(question, needed, sold=False)

    def familiar(sku: str) -> str:
        return question.record.get(sku, {}).get("family") or sku

    return OracleBill(
        rail=setting.rail["sku"],
        duties=setting.duties,
        chains={spot: chain.skus for spot, chain in chains.items()},
        price=sum(qty * question.record[sku]["price"] for sku, qty in buy.items()),
        pieces=buy.total() + elsewhere.total(),
        lead_days=max((question.record[sku]["lead_days"] for sku in buy), default=0),
        lines=_lines(question, setting, chains, needed),
        stands=_stands(question, chains),
        demand_l_h=flows.demand_l_h,
        paths=paths,
        family=(
            familiar(setting.rail["sku"]),
            tuple(sorted(setting.duties.items())),
            tuple(sorted((spot, tuple(map(familiar, chain.skus))) for spot, chain in chains.items())),
        ),
        find_power=partial(power_of, question, setting, {x: chains[x] for x in chains if setting.has_fuel(x)}),
    )


def _lines(
    question: Question, setting: Setting, chains: dict[str, Chain], needed: Counter[str]
) -> frozenset[tuple[str, int, str]]:
    """What is had or got, the rail's plugs that are used, what comes in the boxes, the mounting parts."""
    quantities: Counter[tuple[str, str]] = Counter()
    for source, units in (
        ("have", needed & question.have),
        ("buy", beyond_had(question, needed, sold=True)),
        ("elsewhere", beyond_had(question, needed, sold=False)),
    ):
        quantities.update({(sku, source): qty for sku, qty in units.items()})
    for sku, qty in needed.items():
        for entry in question.record[sku].get("supplied") or []:
            if entry.get("spot") is None and entry.get("role") is None:
                quantities[entry["sku"], "supplied"] += qty * entry["qty"]
    for chain in chains.values():
        if chain.supplied:
            quantities[chain.items[0]["sku"], "supplied"] += 1
    if setting.rail["sku"] == OWN_RAIL:
        quantities[OWN_RAIL, "have"] = question.chassis["banks"]
    else:
        for source, sku, qty in _mounting(question, setting.rail):
            quantities[sku, source] += qty
    return frozenset((sku, qty, source) for (sku, source), qty in quantities.items())


def _stands(question: Question, chains: dict[str, Chain]) -> dict[tuple[str, str], tuple[str, ...]]:
    """Where the units of each line stand: those that are had go to the spots that sort first."""
    left = Counter(question.have)
    places: dict[tuple[str, str], list[str]] = {}
    for spot in sorted(chains):
        chain = chains[spot]
        if chain.supplied:
            places.setdefault((chain.items[0]["sku"], "supplied"), []).append(spot)
        for item in chain.needed:
            source = "have" if left[item["sku"]] > 0 else "buy" if item["sold"] else "elsewhere"
            left[item["sku"]] -= 1
            places.setdefault((item["sku"], source), []).append(spot)
    return {line: tuple(dict.fromkeys(spots)) for line, spots in places.items()}


def _mounting(question: Question, rail: Json) -> Iterator[tuple[str, str, int]]:
    """(source, sku, quantity) of mounting: per role the first add-on's, else the rail's, else the car's."""
    rails: int = question.chassis["banks"]
    from_rail = [entry | {"qty": entry["qty"] * rails} for entry in rail.get("supplied") or [] if entry.get("role")]
    givers = [("add-on", addon["mounting"]) for addon in question.addons]
    givers += [("supplied", from_rail), ("on-car", question.chassis["mounting"])]
    for role in sorted({entry["role"] for _, entries in givers for entry in entries}):
        source, entries = next(giver for giver in givers if any(entry["role"] == role for entry in giver[1]))
        yield from ((source, entry["sku"], entry["qty"]) for entry in entries if entry["role"] == role)
