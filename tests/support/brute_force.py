"""A second, slow solver: every valid bill by nested loops over rails, placements, gauge spots and chains.

It shares nothing with `service`, so that an error in either shows. Catalog and request are plain JSON.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import product
from typing import Any

from tests.support.slow_chains import (
    Chain,
    Json,
    Port,
    Question,
    closed_chains,
    feed_or_return_chains,
    gauge_chains,
    hookup_of,
    item_stands,
    link_chains,
    preferred,
)
from tests.support.slow_hydraulics import Run, drop_kpa, feed_demand_l_h, peak_m_s, shares_l_h


@dataclass(frozen=True)
class OraclePath:
    duty: str
    spots: tuple[str, ...]
    flow_l_h: float
    drop_kpa: float
    peak_m_s: float
    limit_kpa: float
    unrated: tuple[str, ...]


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
    demand_l_h: float
    paths: tuple[OraclePath, ...]
    family: tuple[Any, ...] = field(repr=False)

    @property
    def identity(self) -> tuple[Any, ...]:
        return (self.rail, tuple(sorted(self.duties.items())), tuple(sorted(self.chains.items())))

    @property
    def drop_kpa(self) -> float:
        return max((path.drop_kpa for path in self.paths), default=0.0)


@dataclass(frozen=True)
class OracleGroup:
    """Bills equal but for families. `choices`: per SKU of the first one, what else takes its place."""

    first: OracleBill
    bills: tuple[OracleBill, ...]
    choices: dict[str, set[str]]


@dataclass(frozen=True)
class Setting:
    """A rail, a placement, a duty for every spot, and the chains each may have (a link: its first spot)."""

    rail: Json
    placement: Json
    duties: dict[str, str]
    candidates: dict[str, list[Chain]]


def all_bills(catalog: Json, request: Json) -> list[OracleBill]:
    """Every valid bill, each once, in no special order."""
    question = Question(catalog, request)
    flows = Flows(question)
    bills: dict[tuple[Any, ...], OracleBill] = {}
    for setting in settings(question):
        for chosen in product(*setting.candidates.values()):
            chains = dict(zip(setting.candidates, chosen, strict=True))
            bill = _judged(question, flows, setting, chains)
            if bill is not None:
                bills.setdefault(bill.identity, bill)
    return list(bills.values())


def ordered(bills: Sequence[OracleBill], request: Json) -> list[OracleBill]:
    """Bills in the order of the answer: `order_by` first, then the tie-breaks."""
    order_by = request.get("order_by") or "price"

    def rank(bill: OracleBill) -> tuple[Any, ...]:
        drop = round(bill.drop_kpa, 3)
        first = {"price": bill.price, "pieces": bill.pieces, "drop": drop, "lead": bill.lead_days}[order_by]
        chains = sorted(f"{spot}:{','.join(skus)}" for spot, skus in bill.chains.items())
        return (first, bill.price, bill.pieces, drop, chains, bill.rail)

    return sorted(bills, key=rank)


def grouped(bills: Sequence[OracleBill], request: Json) -> list[OracleGroup]:
    """Groups in the order of their first bills."""
    members: dict[tuple[Any, ...], list[OracleBill]] = {}
    for bill in ordered(bills, request):
        members.setdefault(bill.family, []).append(bill)
    return [OracleGroup(group[0], tuple(group), _choices(group)) for group in members.values()]


def _choices(group: list[OracleBill]) -> dict[str, set[str]]:
    first = group[0]
    choices: dict[str, set[str]] = {}
    for bill in group:
        choices.setdefault(first.rail, set()).add(bill.rail)
        for spot, skus in first.chains.items():
            for sku, alternative in zip(skus, bill.chains[spot], strict=True):
                choices.setdefault(sku, set()).add(alternative)
    return {sku: alternatives - {sku} for sku, alternatives in choices.items()}


# --- what is chosen -----------------------------------------------------------------------------------------


def spots_of(question: Question, rail: Json) -> dict[str, Port]:
    """Every spot that the rails offer: on two banks the same rail twice."""
    own = {port["spot"]: (port["standard"], port["end"]) for port in rail["ports"] if port.get("spot") is not None}
    if question.chassis["banks"] == 1:
        return own
    return {f"{bank}.{place}": port for bank in (1, 2) for place, port in own.items()}


def grounds(question: Question) -> Iterator[tuple[Json, Json]]:
    """Every rail with every placement that it has the spots for."""
    if question.layout["banks"] != question.chassis["banks"]:
        return
    for rail in question.items:
        if rail["kind"] == "rail" and item_stands(question, rail, free=False):
            for placement in question.layout["placements"]:
                if set(placement) <= set(spots_of(question, rail)):
                    yield rail, placement


def settings(question: Question) -> Iterator[Setting]:
    """Every rail, placement and gauge spot, before anything that joins several spots is judged."""
    for rail, placement in grounds(question):
        at_rest = [spot for spot in spots_of(question, rail) if spot not in placement]
        for gauge in _gauge_spots(question, at_rest):
            resting = {spot: "gauge" if spot == gauge else "closed" for spot in at_rest}
            duties = {spot: entry["duty"] for spot, entry in placement.items()} | resting
            candidates = {
                spot: chains_of_spot(question, rail, placement, spot, duty)
                for spot, duty in duties.items()
                if not (duty == "link" and placement[spot]["to_spot"] < spot)
            }
            yield Setting(rail, placement, duties, candidates)


def _gauge_spots(question: Question, at_rest: list[str]) -> list[str | None]:
    if question.gauge == "none":
        return [None]
    if question.gauge == "any":
        return list(at_rest)
    return [spot for spot in at_rest if spot == question.gauge]


def chains_of_spot(question: Question, rail: Json, placement: Json, spot: str, duty: str) -> list[Chain]:
    """The chains that may serve a spot with a duty, by the rules that look at one spot alone."""
    ports = spots_of(question, rail)
    if duty == "closed":
        return preferred(question, closed_chains(question, spot, ports[spot], rail))
    if duty == "gauge":
        return preferred(question, gauge_chains(question, spot, ports[spot]))
    entry = placement[spot]
    if duty == "link":
        other = entry["to_spot"]
        via = set(entry.get("via") or []) | set(placement[other].get("via") or [])
        return preferred(question, link_chains(question, (spot, other), (ports[spot], ports[other]), via))
    return preferred(question, feed_or_return_chains(question, spot, ports[spot], entry))


# --- judging a whole choice ---------------------------------------------------------------------------------


def _judged(question: Question, flows: "Flows", setting: Setting, chains: dict[str, Chain]) -> OracleBill | None:
    """The bill of one choice, or None where stock, budget or flow rules it out."""
    banks: int = question.chassis["banks"]
    record = {item["sku"]: item for item in question.items}
    needed = Counter({setting.rail["sku"]: banks})
    needed.update(item["sku"] for chain in chains.values() for item in chain.bought)
    buy = {sku: qty for sku, qty in needed.items() if record[sku]["sold"]}
    price = sum(qty * record[sku]["price"] for sku, qty in buy.items())
    if question.wish("in_stock_only") and any(record[sku]["stock"] < qty for sku, qty in buy.items()):
        return None
    if question.wish("max_price") is not None and price > question.wish("max_price"):
        return None
    paths = flows.paths(setting, chains)
    if any(path.drop_kpa > path.limit_kpa for path in paths):
        return None
    if any(path.peak_m_s > question.policies["max_velocity_m_s"] for path in paths):
        return None

    def familiar(sku: str) -> str:
        return record[sku].get("family") or sku

    return OracleBill(
        rail=setting.rail["sku"],
        duties=setting.duties,
        chains={spot: chain.skus for spot, chain in chains.items()},
        price=price,
        pieces=sum(needed.values()),
        lead_days=max((record[sku]["lead_days"] for sku in buy), default=0),
        lines=_lines(question, setting, chains, needed),
        demand_l_h=flows.demand_l_h,
        paths=paths,
        family=(
            familiar(setting.rail["sku"]),
            tuple(sorted(setting.duties.items())),
            tuple(sorted((spot, tuple(map(familiar, chain.skus))) for spot, chain in chains.items())),
        ),
    )


def _lines(
    question: Question, setting: Setting, chains: dict[str, Chain], needed: Counter[str]
) -> frozenset[tuple[str, int, str]]:
    """What is needed, the rail's plugs that are used, what comes in the boxes, the mounting parts."""
    record = {item["sku"]: item for item in question.items}
    quantities: Counter[tuple[str, str]] = Counter()
    for sku, qty in needed.items():
        quantities[sku, "buy" if record[sku]["sold"] else "elsewhere"] += qty
        for entry in record[sku].get("supplied") or []:
            if entry.get("spot") is None and entry.get("role") is None:
                quantities[entry["sku"], "supplied"] += qty * entry["qty"]
    for chain in chains.values():
        if chain.supplied:
            quantities[chain.items[0]["sku"], "supplied"] += 1
    for source, sku, qty in _mounting(question, setting.rail):
        quantities[sku, source] += qty
    return frozenset((sku, qty, source) for (sku, source), qty in quantities.items())


def _mounting(question: Question, rail: Json) -> Iterator[tuple[str, str, int]]:
    """(source, sku, quantity) of mounting: per role the first add-on's, else the rail's, else the car's."""
    rails: int = question.chassis["banks"]
    from_rail = [entry | {"qty": entry["qty"] * rails} for entry in rail.get("supplied") or [] if entry.get("role")]
    givers = [("add-on", addon["mounting"]) for addon in question.addons]
    givers += [("supplied", from_rail), ("on-car", question.chassis["mounting"])]
    for role in sorted({entry["role"] for _, entries in givers for entry in entries}):
        source, entries = next(giver for giver in givers if any(entry["role"] == role for entry in giver[1]))
        yield from ((source, entry["sku"], entry["qty"]) for entry in entries if entry["role"] == role)


class Flows:
    """The flowing paths of a choice of chains, with their flow, drop and peak velocity."""

    def __init__(self, question: Question) -> None:
        self.question = question
        self.fuel = question.fuel
        power_kw = question.wish("power_kw") or question.chassis["stock_kw"]
        self.demand_l_h = feed_demand_l_h(self.fuel, power_kw, boosted=question.boost_kpa > 0)
        self._shares: dict[Any, list[float]] = {}

    def paths(self, setting: Setting, chains: dict[str, Chain]) -> tuple[OraclePath, ...]:
        by_duty = {
            duty: [spot for spot in chains if setting.duties[spot] == duty] for duty in ("feed", "return", "link")
        }
        feed_banks, return_banks = ({_bank(spot) for spot in by_duty[duty]} for duty in ("feed", "return"))
        engine_l_h = self.demand_l_h * self.question.policies["flow_margin"]
        feed_l_h = engine_l_h
        if by_duty["return"]:
            pump_l_h = self.question.wish("pump_l_h") or self.demand_l_h * self.question.policies["recirculation"]
            feed_l_h = max(engine_l_h, pump_l_h)
        crosses = feed_banks and return_banks and not feed_banks & return_banks
        link_l_h = feed_l_h - self.demand_l_h / 2 if crosses else engine_l_h / 2

        paths = [self._path("link", spot, setting, chains[spot], link_l_h) for spot in by_duty["link"]]
        paths += [
            self._path("return", spot, setting, chains[spot], feed_l_h / len(return_banks))
            for spot in by_duty["return"]
        ]
        for bank in feed_banks:
            spots = [spot for spot in by_duty["feed"] if _bank(spot) == bank]
            runs = [self._run("feed", spot, setting, chains[spot])[0] for spot in spots]
            for spot, share in zip(spots, self._shared(runs, feed_l_h / len(feed_banks)), strict=True):
                paths.append(self._path("feed", spot, setting, chains[spot], share))
        return tuple(paths)

    def _path(self, duty: str, spot: str, setting: Setting, chain: Chain, flow_l_h: float) -> OraclePath:
        run, unrated = self._run(duty, spot, setting, chain)
        spots = (spot, setting.placement[spot]["to_spot"]) if duty == "link" else (spot,)
        limit = "max_return_drop_kpa" if duty == "return" else "max_feed_drop_kpa"
        drop = drop_kpa(run, self.fuel, flow_l_h)
        return OraclePath(duty, spots, flow_l_h, drop, peak_m_s(run, flow_l_h), self.question.policies[limit], unrated)

    def _run(self, duty: str, spot: str, setting: Setting, chain: Chain) -> tuple[Run, tuple[str, ...]]:
        """What the fuel passes, and what of it is not rated: chain, rail (feeds, links), hose behind it."""
        passed = list(chain.items)
        if duty in ("feed", "link"):
            passed.append(setting.rail)
        run = [item["flow"] for item in passed if item.get("flow") is not None]
        unrated = tuple(item["sku"] for item in passed if item.get("flow") is None)
        if duty == "link":
            return run, unrated
        entry = setting.placement[spot]
        hookup = hookup_of(self.question, entry) or {}
        behind = hookup.get("flow")
        if behind is not None:
            length_m = self.question.wish(f"{duty}_hose_m") if entry["hookup"]["kind"] == "own-hose" else None
            run.append(behind if length_m is None else behind | {"length_mm": length_m * 1000})
        return run, unrated

    def _shared(self, runs: list[Run], total_l_h: float) -> list[float]:
        key = (total_l_h, *(tuple(tuple(sorted(piece.items())) for piece in run) for run in runs))
        if key not in self._shares:
            self._shares[key] = shares_l_h(runs, self.fuel, total_l_h)
        return self._shares[key]


def _bank(spot: str) -> str:
    return spot.partition(".")[0] if "." in spot else "1"
