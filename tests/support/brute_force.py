"""A second, slow solver: every valid bill by nested loops over rails, placements, gauge spots and chains.

It shares nothing with `service`, so that an error in either shows. Catalog and request are plain JSON.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import product
from math import inf
from typing import Any

from tests.support.slow_bills import OracleBill, beyond_had, bill_of, needed_units
from tests.support.slow_chains import (
    Chain,
    closed_chains,
    feed_or_return_chains,
    gauge_chains,
    link_chains,
    preferred,
)
from tests.support.slow_flows import Flows, OraclePath, Setting
from tests.support.slow_questions import Json, Port, Question, item_stands, may_be_got

Filling = tuple[dict[str, Chain], tuple[OraclePath, ...]]
"""A chain for some or all spots, and the paths that run through them."""


@dataclass(frozen=True)
class OracleGroup:
    """Bills equal but for families. `choices`: per SKU of the first one, what else takes its place."""

    first: OracleBill
    bills: tuple[OracleBill, ...]
    choices: dict[str, set[str]]


def all_bills(catalog: Json, request: Json) -> list[OracleBill]:
    """Every valid bill, each once, in no special order."""
    bills: dict[tuple[Any, ...], OracleBill] = {}
    for bill in _bills(Question(catalog, request)):
        bills.setdefault(bill.identity, bill)
    return list(bills.values())


def any_bill(catalog: Json, request: Json) -> bool:
    """Whether there is a valid bill."""
    return next(_bills(Question(catalog, request)), None) is not None


def count(bills: Sequence[OracleBill], request: Json) -> int:
    """`total_valid`: how many bills there are, or groups where the request asks for these (the default)."""
    return len({bill.family for bill in bills}) if request.get("group_variants", True) else len(bills)


def ordered(bills: Sequence[OracleBill], request: Json) -> list[OracleBill]:
    """Bills in the order of the answer: `order_by` first, then the tie-breaks."""
    order_by = request.get("order_by") or "price"

    def rank(bill: OracleBill) -> tuple[Any, ...]:
        if order_by == "power":
            carries = bill.power.carries_kw
            return (inf if carries is None else -round(carries, 1), *bill.tie_break)
        drop = round(bill.drop_kpa, 3)
        first = {"price": bill.price, "pieces": bill.pieces, "drop": drop, "lead": bill.lead_days}[order_by]
        return (first, *bill.tie_break)

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
    for rail in _rails(question):
        for placement in question.layout["placements"]:
            if set(placement) <= set(spots_of(question, rail)):
                yield rail, placement


def _rails(question: Question) -> list[Json]:
    """The customer's own rail, or else the rails that stand: one for each bank."""
    if question.own_rail is not None:
        return [question.own_rail]
    banks: int = question.chassis["banks"]
    return [
        item
        for item in question.items
        if item["kind"] == "rail"
        and item_stands(question, item)
        and may_be_got(question, Counter({item["sku"]: banks}))
    ]


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


# --- filling the spots --------------------------------------------------------------------------------------


def _bills(question: Question) -> Iterator[OracleBill]:
    flows = Flows(question)
    for setting in settings(question):
        if all(setting.candidates.values()):
            options = [_that_flow_enough(flows, setting, spots) for spots in setting.flowing()]
            options += _one_by_one(setting, [spot for spot in setting.candidates if not setting.has_fuel(spot)])
            for chains, paths in _fillings(question, setting, options):
                yield bill_of(question, flows, setting, chains, paths)


def every_filling(question: Question, setting: Setting) -> Iterator[dict[str, Chain]]:
    """The chains of every choice that keeps all rules but flow."""
    for chains, _ in _fillings(question, setting, _one_by_one(setting, list(setting.candidates))):
        yield chains


def _one_by_one(setting: Setting, spots: list[str]) -> list[list[Filling]]:
    return [[({spot: chain}, ()) for chain in setting.candidates[spot]] for spot in spots]


def _that_flow_enough(flows: Flows, setting: Setting, spots: list[str]) -> list[Filling]:
    """The ways to fill spots whose flow is judged together."""
    ways = product(*(setting.candidates[spot] for spot in spots))
    filled = [dict(zip(spots, chains, strict=True)) for chains in ways]
    judged = [(chains, tuple(flows.joined(setting, spots, chains))) for chains in filled]
    return [(chains, paths) for chains, paths in judged if flows.hold(paths)]


def _fillings(question: Question, setting: Setting, options: list[list[Filling]]) -> Iterator[Filling]:
    """One way of each, while the limits on the whole bill are kept: what is over stays so with more parts."""
    pending: list[tuple[int, Filling]] = [(0, ({}, ()))] if all(options) else []
    while pending:
        number, (chains, paths) = pending.pop()
        if not _keeps_limits(question, setting.rail, list(chains.values())):
            continue
        if number == len(options):
            yield chains, paths
            continue
        pending += [(number + 1, (chains | more, paths + along)) for more, along in options[number]]


def _keeps_limits(question: Question, rail: Json, chains: list[Chain]) -> bool:
    """supply, allow_unsold, elsewhere, in_stock_only and max_price, over the whole bill."""
    needed = needed_units(question, rail, chains)
    buy = beyond_had(question, needed, sold=True)
    price = sum(qty * question.record[sku]["price"] for sku, qty in buy.items())
    return (
        may_be_got(question, needed)
        and sum((chain.unsold for chain in chains if chain.replaceable), Counter()) <= question.have
        and not (question.wish("in_stock_only") and any(question.record[sku]["stock"] < buy[sku] for sku in buy))
        and not (question.wish("max_price") is not None and price > question.wish("max_price"))
    )
