"""Every rule that stops a chain at its spot, one by one, and which chain of a part comes furthest."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import product
from math import isfinite
from typing import NamedTuple

from service.domain.chains import Chain, Run, Runs
from service.domain.explanation import Left, Stop
from service.domain.findings import Finding
from service.domain.flows import PathFlow
from service.domain.parts import Item
from service.domain.work import spend
from service.rules import CHAIN_RULES, PART_RULES, RULE_ORDER, SPOT_RULES, PartRule, elsewhere, flow, supplied
from service.rules.rule import Got
from service.solver.flow_capacity import capacity_l_h
from service.solver.flow_judge import FlowJudge
from service.solver.judge.components import Component
from service.solver.judge.options import Choices
from service.solver.judge.parts import PartJudge
from service.solver.judge.picked import CHAINS_A_STEP
from service.solver.judge.spots import ServedSpot
from service.solver.judge.tables import Mask, bits, first_of, mask_at
from service.solver.verdicts.lacking import lacking_least

STEPS_OF_A_STOP = 20
"""To find all that stops one chain."""


class Seat(NamedTuple):
    """One of the spots that a component serves."""

    component: Component
    position: int

    @property
    def served(self) -> ServedSpot:
        return self.component.served[self.position]


class StoppedChain(NamedTuple):
    """A chain, and what stops it at its spot; nothing where it is among those to choose from."""

    chain: Chain
    stops: tuple[Stop, ...]
    place: int
    """Of the chain, in its table."""


class _Flowing(NamedTuple):
    """Runs of all spots of a component, and their paths."""

    runs: Runs
    paths: tuple[PathFlow, ...]

    @property
    def over(self) -> float:
        """By how much the worst of the paths is over a limit, as part of it."""
        return -min(margin.relative for path in self.paths for margin in flow.margins(path))


class StopFinder:
    """Finds what stops chains."""

    def __init__(self, judge_flows: FlowJudge) -> None:
        self._flows = judge_flows

    def furthest(self, seat: Seat, item: Item) -> StoppedChain | None:
        """The chain of an item that the fewest rules stop, of those the one that the latest and the least stops; None
        where no chain holds it."""
        table = seat.served.table.chains
        holding = table.holding(item)
        if not holding:
            return None
        spend(1 + table.size // CHAINS_A_STEP, "part")
        broken = list(self._broken(seat, holding))
        best = lacking_least(seat.served, furthest_in(holding, broken), dict(broken)[flow.RULE.id])
        spend(STEPS_OF_A_STOP * len(best), "part")
        stopped = [self.stopped(seat, place) for place in best.tolist()]
        return min(stopped, key=lambda one: (missing(one.stops), len(one.chain.links), one.chain.text))

    def stopped(self, seat: Seat, place: int) -> StoppedChain:
        """What stops the chain at a place of its table, in the order of telling."""
        served = seat.served
        chain = served.table.chains.chains[place]
        found = [*_of_parts(served, chain), *_of_chain(served, chain), *self._of_flow(seat, chain.run)]
        found += _of_preference(served, place)
        return StoppedChain(chain, tuple(sorted(found, key=lambda stop: RULE_ORDER[stop.finding.rule])), place)

    def choosing(self, component: Component, choices: Choices) -> Component:
        """A component with these choices, whatever they lose."""
        losses = {runs: self._flows.losses(component.states, runs) for runs in choices.by_runs if component.states}
        return replace(component, choices=choices, losses=losses)

    def _broken(self, seat: Seat, asked: Mask) -> Iterator[tuple[str, Mask]]:
        """For each rule those of the chains asked about that break it, each rule taken for itself."""
        served = seat.served
        table, own = served.table.chains, _with_own_plug(served)
        for rule in SPOT_RULES:
            keeping = table.keeping(rule, served.situation, served.parts)
            if own and isinstance(rule, PartRule):
                keeping = keeping & ~own | table.supplied_keeping(rule, served.plugs, served.parts)
            yield rule.id, ~keeping
        yield flow.RULE.id, self._over_policy(seat, asked)
        yield supplied.RULE.id, ~served.own if served.own else 0
        yield elsewhere.RULE.id, _outdone(served)

    def _over_policy(self, seat: Seat, asked: Mask) -> Mask:
        if seat.component.path is not None:
            return asked & seat.component.path.over
        if not seat.component.states:
            return 0
        chains = seat.served.table.chains.chains
        places = list(bits(asked))
        over: dict[Run, bool] = {}
        for run in dict.fromkeys(chains[place].run for place in places):
            flowing = self._losing(seat, run)
            over[run] = flowing is not None and not all(map(flow.holds, flowing.paths))
        return mask_at([place for place in places if over[chains[place].run]], len(chains))

    def _losing(self, seat: Seat, run: Run) -> _Flowing | None:
        """A run with the best that other spots which share its flow have to choose from; None where there is none, or
        where nothing flows."""
        component, position = seat
        if not component.states:
            return None
        columns: list[Iterable[Run]] = [
            (run,) if place == position else served.choices.runs for place, served in enumerate(component.served)
        ]
        together = (_Flowing(runs, self._paths(component, runs)) for runs in product(*columns))
        return min(together, key=lambda flowing: flowing.over, default=None)

    def _paths(self, component: Component, runs: Runs) -> tuple[PathFlow, ...]:
        lost = self._flows.losses(component.states, runs)
        parts = zip(component.states, runs, lost, component.served, strict=True)
        return tuple(state.path(run, loss, served.situation.spots) for state, run, loss, served in parts)

    def _of_flow(self, seat: Seat, run: Run) -> Iterator[Stop]:
        flowing = self._losing(seat, run)
        path = next((path for path in flowing.paths if not flow.holds(path)), None) if flowing else None
        if flowing is not None and path is not None:
            yield Stop(Finding(flow.RULE.id, flow.facts(path)), flow_left(seat.component, flowing.runs))


def flow_left(component: Component, runs: Runs) -> Left | None:
    """What these runs could carry besides what they are to, those that share their flow together; None where nothing
    is rated."""
    left = capacity_l_h(component.states, runs) - component.states[0].flow_l_h
    return Left(round(left, 3), "L/h") if isfinite(left) else None


def furthest_in(chains: Mask, broken: Sequence[tuple[str, Mask]]) -> Mask:
    """Of some chains those that break the fewest rules, and of these the ones of which the first in the order of
    telling comes latest; `broken`: for each rule the chains that break it."""
    by_number = [chains]
    for _, mask in broken:
        above = [many & mask for many in by_number]
        by_number = [few & ~mask | more for few, more in zip([*by_number, 0], [0, *above], strict=True)]
    left = next(mask for mask in by_number if mask)
    for _, mask in sorted(broken, key=lambda one: RULE_ORDER[one[0]]):
        if not left & ~mask:
            break
        left &= ~mask
    return left


def missing(stops: Iterable[Stop]) -> float:
    """What is missing in all, whatever the units: it tells only near from nearer."""
    return -sum(stop.left.amount for stop in stops if stop.left is not None)


def _with_own_plug(served: ServedSpot) -> Mask:
    """The chains that begin with a plug that comes with the rail."""
    headed = served.table.chains.headed
    return sum(headed.get(plug.sku, 0) for plug in served.plugs)


def _outdone(served: ServedSpot) -> Mask:
    """The chains with a part from elsewhere where one that we sell whole would serve: rule `elsewhere`."""
    if not served.could_be_bought:
        return 0
    table = served.table.chains
    sold = table.sold_beyond_first if served.own else table.sold
    return table.whole & ~(sold | table.unsold_had(served.parts.have, bool(served.own)))


def _of_parts(served: ServedSpot, chain: Chain) -> Iterator[Stop]:
    """What stops the parts of a chain, each part once a rule and wish."""
    comes_first = bool(chain.links) and chain.items[0] in served.plugs
    beyond, have = chain.items[int(comes_first) :], dict(served.parts.have)
    for item in chain.items[: int(comes_first)]:
        yield from part_stops(served.judge.parts(served.parts), item, "supplied")
    for item in dict.fromkeys(beyond):
        got: Got = "had" if beyond.count(item) <= have.get(item.sku, 0) else "bought"
        yield from part_stops(served.judge.parts(served.parts), item, got)


def part_stops(judge: PartJudge, item: Item, got: Got) -> Iterator[Stop]:
    """Every rule for parts that stops an item that is come by so."""
    for rule in PART_RULES:
        for facts in () if judge.holds(rule, item, got) else judge.broken_by(rule, item, got):
            yield Stop(Finding(rule.id, {"part": item.name, **facts}), rule.left(facts), item)


def _of_chain(served: ServedSpot, chain: Chain) -> Iterator[Stop]:
    """Every rule for chains that stops a chain at the spot."""
    situation = served.situation
    for rule in CHAIN_RULES:
        for facts in () if rule.holds(chain, rule.reads(situation)) else rule.broken(chain, situation):
            yield Stop(Finding(rule.id, {"chain": list(chain.skus), **facts}), rule.left(facts))


def _of_preference(served: ServedSpot, place: int) -> Iterator[Stop]:
    """What is used instead, though the chain might do: the rail's own plug, or a chain that we sell."""
    table, spot = served.table.chains, served.situation
    if served.own and not served.own >> place & 1:
        plug = table.chains[first_of(served.own)].skus[0]
        yield Stop(Finding(supplied.RULE.id, supplied.facts(plug, spot.spot)))
    if _outdone(served) >> place & 1:
        yield Stop(Finding(elsewhere.RULE.id, elsewhere.facts(spot.spot, served.bought_instead)))
