"""Looks for the bill nearest to an order, in setups that leave the same to choose: label setting over the steps.

A label is a beginning of a bill: what it needs of the ties that later steps may need as well, and what it costs.
Whatever follows depends on those needs alone. So of labels that need the same only the cheapest goes on (with a price
to keep: those that are not beaten in both changes and price), and there are no more labels than the order has parts
for several spots. Drop, chains and rail are looked at last, along the ways that lead to the cheapest bill.

Literature: Irnich and Desaulniers, Shortest Path Problems with Resource Constraints, in Column Generation (2005).
"""

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from itertools import accumulate, product
from operator import itemgetter
from typing import NamedTuple

from service.domain.orders import NOTHING, Cost, less, plus
from service.domain.parts import Item
from service.domain.work import spend
from service.solver.judge.components import Component
from service.solver.judge.options import Choice
from service.solver.judge.tables import Mask, bits
from service.solver.orders.ledger import Offer, Selection, TieUnits
from service.solver.orders.stages import Stage, Stages


class _Back(NamedTuple):
    """How a label came about: the one before it, and the ways that were taken."""

    units: TieUnits
    cost: Cost
    ways: tuple[Selection, ...]


_FEW = 30
"""So many labels a step are kept in the first pass."""
_STEPS_OF_A_LABEL = 2
"""To add what one offer takes to one label."""

_Labels = dict[TieUnits, dict[Cost, list[_Back]]]
_Key = tuple[int, TieUnits, Cost]


class Tail(NamedTuple):
    """What tells a beginning of a bill from others of the same cost."""

    drop_kpa: float
    texts: tuple[str, ...]
    rail: str
    choices: tuple[tuple[int, tuple[Choice, ...]], ...]
    """By the places of the components."""

    @property
    def order(self) -> tuple[float, list[str], str]:
        return self.drop_kpa, sorted(self.texts), self.rail


class NearestSearch:
    """The search over steps. `max_price`: the most that the bill is to cost, None where any will do.

    A first pass keeps few labels a step and finds some bill. What cannot become as cheap as that goes in the second.
    """

    def __init__(self, stages: Stages, max_price: int | None) -> None:
        self._stages = stages
        self._max_price = max_price
        self._priced = max_price is not None
        self._rails: dict[Cost, Mask] = {offer.cost: offer.rails for offer in stages.rail_offers(priced=self._priced)}
        self._offers: list[Sequence[Offer]] = [stages.offers(stage, priced=self._priced) for stage in stages.stages]
        least = [min(map(self._alone, offers), default=NOTHING) for offers in self._offers]
        self._rests = list(accumulate(reversed(least), plus, initial=NOTHING))[::-1]
        self._levels: list[_Labels] = []
        for few in (1, _FEW, None):
            most = self.least_cost if self._levels else None
            if most is not None:
                self._offers = [
                    self._worth_trying(offers, own, most) for offers, own in zip(self._offers, least, strict=True)
                ]
            self._levels = self._settled(most, few)
            if few is not None and all(len(labels) < few for labels in self._levels):
                break

    @property
    def least_cost(self) -> Cost | None:
        """What the nearest bill costs; None without a bill."""
        costs = self._levels[-1].get(0, {})
        return min((x for x in costs if self._max_price is None or x.price <= self._max_price), default=None)

    @property
    def cheapest_rails(self) -> list[Item]:
        """The rails of the nearest bills."""
        known: dict[_Key, set[Cost]] = {}
        cost = self.least_cost
        begun = set() if cost is None else self._begun((len(self._levels) - 1, 0, cost), known)
        return [self._stages.rails[place] for one in sorted(begun) for place in bits(self._rails[one])]

    def _begun(self, key: _Key, known: dict[_Key, set[Cost]]) -> set[Cost]:
        """What rails cost that labels of that cost begin with."""
        level, units, cost = key
        if level == 0:
            return {cost}
        if key not in known:
            backs = self._levels[level][units][cost]
            known[key] = set().union(*(self._begun((level - 1, x.units, x.cost), known) for x in backs))
        return known[key]

    def first(self, rails: Collection[Item], components: Sequence[Component]) -> Tail | None:
        """Of the nearest bills the first with one of these rails by drop, chains and rail, where these components lose
        what they do; None where no such rail stands in one."""
        cost = self.least_cost
        if cost is None:
            return None
        tails = _Tails(self._stages, self._levels, self._rails, rails, components)
        return min(tails.of((len(self._levels) - 1, 0, cost)), key=lambda tail: tail.order, default=None)

    def _alone(self, offer: Offer) -> Cost:
        """What an offer costs at least, as if all that is ordered or had were left for it."""
        return plus(offer.cost, self._stages.ledger.least_extra_of(offer.units))

    def _worth_trying(self, offers: Sequence[Offer], least: Cost, most: Cost) -> Sequence[Offer]:
        """The offers of a step that stand in some bill of at most that cost, as far as this can be told; `least`: the
        cheapest of them alone."""
        rail = min(self._rails)
        spent = plus(rail, self._rests[0])
        return [offer for offer in offers if less(plus(spent, self._alone(offer)), least) <= most]

    def _settled(self, most: Cost | None, few: int | None) -> list[_Labels]:
        """The labels before the first step and after each; `most`: only what may cost no more; `few`: only so many."""
        labels: _Labels = {0: {cost: [] for cost in self._rails}}
        levels = [labels]
        for stage, offers, rest in zip(self._stages.stages, self._offers, self._rests[1:], strict=True):
            labels = self._after(stage, offers, labels)
            if most is not None:
                labels = self._within(labels, rest, most)
            if few is not None and len(labels) > few:
                foremost = sorted(labels, key=lambda units: self._least(units, labels[units]))
                labels = {units: labels[units] for units in foremost[:few]}
            levels.append(labels)
        return levels

    def _least(self, units: TieUnits, costs: Iterable[Cost]) -> Cost:
        return plus(min(costs), self._stages.ledger.least_extra_of(units))

    def _within(self, labels: _Labels, rest: Cost, most: Cost) -> _Labels:
        """The labels that may become as cheap as that."""
        found: _Labels = {}
        for units, costs in labels.items():
            beyond = plus(self._stages.ledger.least_extra_of(units), rest)
            kept = {cost: backs for cost, backs in costs.items() if plus(cost, beyond) <= most}
            if kept:
                found[units] = kept
        return found

    def _after(self, stage: Stage, offers: Sequence[Offer], labels: _Labels) -> _Labels:
        following: _Labels = {}
        added = self._stages.ledger.added
        for units, costs in labels.items():
            spend(_STEPS_OF_A_LABEL * len(offers) * len(costs), "order")
            for more, cost, ways in offers:
                joined = self._stages.joined(stage, added(units, more) if units and more else units + more)
                if joined is None:
                    continue
                left, extra = joined
                further = plus(cost, extra)
                kept = following.setdefault(left, {})
                for before in costs:
                    self._keep(kept, plus(before, further), _Back(units, before, ways))
        return following

    def _keep(self, kept: dict[Cost, list[_Back]], cost: Cost, back: _Back) -> None:
        """Keep a label unless another one that needs the same is cheaper."""
        same = kept.get(cost)
        if same is not None:
            same.append(back)
            return
        if any(self._beats(other, cost) for other in kept):
            return
        for beaten in [other for other in kept if self._beats(cost, other)]:
            del kept[beaten]
        kept[cost] = [back]

    def _beats(self, one: Cost, other: Cost) -> bool:
        return one < other and (not self._priced or one.price <= other.price)


class _Tails:
    """The bills of the labels that lead to the nearest ones, with some rails and components."""

    def __init__(
        self,
        stages: Stages,
        levels: Sequence[_Labels],
        rail_costs: Mapping[Cost, Mask],
        rails: Collection[Item],
        components: Sequence[Component],
    ) -> None:
        self._stages = stages
        self._levels = levels
        self._rail_costs = rail_costs
        self._rails = rails
        self._components = components
        self._known: dict[_Key, list[Tail]] = {}

    def of(self, key: _Key) -> list[Tail]:
        """The beginnings of that cost that may come first by drop, chains and rail."""
        level, units, cost = key
        if level == 0:
            rails = [self._stages.rails[place] for place in bits(self._rail_costs[cost])]
            skus = [rail.sku for rail in rails if rail in self._rails]
            return [Tail(0.0, (), min(skus), ())] if skus else []
        if key not in self._known:
            stage = self._stages.stages[level - 1]
            found: list[Tail] = []
            for back in self._levels[level][units][cost]:
                begun = self.of((level - 1, back.units, back.cost))
                own = [tail for way in back.ways for tail in self._own(stage, way)]
                spend(len(begun) * len(own), "order")
                found += [_join(one, other) for one in begun for other in own]
            self._known[key] = _foremost(found)
        return self._known[key]

    def _own(self, stage: Stage, way: Selection) -> list[Tail]:
        """The choices of a way, as far as they may come first."""
        tables = [self._stages.ledger.table_of(choices) for choices, *_ in stage.columns]
        columns = [table.at(*one) for table, one in zip(tables, way, strict=True)]
        tails = _ever_less_drop(stage.place, self._components[stage.place], product(*columns))
        return list(tails) if len(columns) == 1 else _foremost(list(tails))


def _ever_less_drop(place: int, component: Component, together: Iterable[tuple[Choice, ...]]) -> Iterator[Tail]:
    """Of choices in the order of their texts those that lose less than all before."""
    least: float | None = None
    for chosen in together:
        spend(1, "order")
        drop_kpa = component.drop_kpa(tuple([run for choice in chosen for run in choice.runs]))
        if least is None or drop_kpa < least:
            least = drop_kpa
            yield Tail(drop_kpa, tuple([text for x in chosen for text in x.texts]), "", ((place, chosen),))
        if not component.flowing:
            return


def _join(one: Tail, other: Tail) -> Tail:
    return Tail(
        max(one.drop_kpa, other.drop_kpa), one.texts + other.texts, one.rail or other.rail, one.choices + other.choices
    )


def _foremost(tails: list[Tail]) -> list[Tail]:
    """Without those that come after another one whatever both are completed with."""
    if len(tails) < 2:
        return tails
    kept: list[Tail] = []
    least: tuple[list[str], str] | None = None
    for (_, texts, rail), tail in sorted([(tail.order, tail) for tail in tails], key=itemgetter(0)):
        if least is None or (texts, rail) < least:
            least = (texts, rail)
            kept.append(tail)
    return kept
