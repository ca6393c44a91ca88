"""Looks for the bill of one world that is nearest to an order: label setting over the steps.

A label is a beginning of a bill: what it needs of the ties that later steps may need as well, and what it costs.
Whatever follows depends on those needs alone. So of labels that need the same only the cheapest goes on (with a price
to keep: those that are not beaten in both changes and price), and there are no more labels than the order has parts
for several spots. Drop, chains and rail are looked at last, along the ways that lead to the cheapest bill.

Literature: Irnich and Desaulniers, Shortest Path Problems with Resource Constraints, in Column Generation (2005).
"""

from collections.abc import Iterable, Iterator
from itertools import product
from operator import itemgetter
from typing import NamedTuple

from service.domain.orders import Cost, plus
from service.domain.work import spend
from service.solver.options import Choice
from service.solver.orders.ledger import Units, Way
from service.solver.orders.steps import Step, Steps
from service.solver.tables import Mask, bits


class _Back(NamedTuple):
    """How a label came about: the one before it, and the ways that were taken."""

    units: Units
    cost: Cost
    ways: tuple[Way, ...]


_Labels = dict[Units, dict[Cost, list[_Back]]]
_Key = tuple[int, Units, Cost]


class Tail(NamedTuple):
    """What tells a beginning of a bill from others of the same cost."""

    drop_kpa: float
    texts: tuple[str, ...]
    rail: str
    choices: tuple[tuple[Step, tuple[Choice, ...]], ...]

    @property
    def order(self) -> tuple[float, list[str], str]:
        return self.drop_kpa, sorted(self.texts), self.rail


class Found(NamedTuple):
    """The nearest bill of a world; `rank` sorts the nearest first."""

    cost: Cost
    tail: Tail
    rank: tuple[object, ...]


class Search:
    """The search in one world. `max_price`: the most that the bill is to cost, None where any will do."""

    def __init__(self, steps: Steps, max_price: int | None) -> None:
        self._steps = steps
        self._max_price = max_price
        self._priced = max_price is not None
        self._rails: dict[Cost, Mask] = {offer.cost: offer.rails for offer in steps.rail_offers(priced=self._priced)}
        self._levels: list[_Labels] = [{0: {cost: [] for cost in self._rails}}]
        for step in steps.steps:
            self._levels.append(self._after(step, self._levels[-1]))

    @property
    def least_cost(self) -> Cost | None:
        """What the nearest bill costs; None without a bill."""
        costs = self._levels[-1].get(0, {})
        return min((x for x in costs if self._max_price is None or x.price <= self._max_price), default=None)

    def nearest(self) -> Found | None:
        """The nearest bill; None where there is none."""
        cost = self.least_cost
        if cost is None:
            return None
        known: dict[_Key, list[Tail]] = {}
        tail = min(self._tails((len(self._levels) - 1, 0, cost), known), key=lambda tail: tail.order)
        return Found(cost, tail, (*cost, *tail.order))

    def _after(self, step: Step, labels: _Labels) -> _Labels:
        following: _Labels = {}
        offers = self._steps.offers(step, priced=self._priced)
        for units, costs in labels.items():
            spend(len(offers) * len(costs))
            for more, cost, ways in offers:
                joined = self._steps.joined(step, units + more)
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

    def _tails(self, key: _Key, known: dict[_Key, list[Tail]]) -> list[Tail]:
        """The beginnings of that cost that may come first by drop, chains and rail."""
        level, units, cost = key
        if level == 0:
            rails = self._steps.rails
            return [Tail(0.0, (), min(rails[place].sku for place in bits(self._rails[cost])), ())]
        if key not in known:
            step = self._steps.steps[level - 1]
            found: list[Tail] = []
            for back in self._levels[level][units][cost]:
                begun = self._tails((level - 1, back.units, back.cost), known)
                own = [tail for way in back.ways for tail in self._own_tails(step, way)]
                spend(len(begun) * len(own))
                found += [_join(one, other) for one in begun for other in own]
            known[key] = _foremost(found)
        return known[key]

    def _own_tails(self, step: Step, way: Way) -> list[Tail]:
        """The choices of a way, as far as they may come first."""
        tables = [self._steps.ledger.table_of(choices) for choices, *_ in step.columns]
        columns = [table.at(*one) for table, one in zip(tables, way, strict=True)]
        if len(columns) == 1:
            return list(_ever_less_drop(step, ((choice,) for choice in columns[0])))
        return _foremost(list(_ever_less_drop(step, product(*columns))))


def _ever_less_drop(step: Step, together: Iterable[tuple[Choice, ...]]) -> Iterator[Tail]:
    """Of choices in the order of their texts those that lose less than all before."""
    component = step.component
    least: float | None = None
    for chosen in together:
        spend(1)
        drop_kpa = 0.0
        if component is not None and component.flowing:
            drop_kpa = component.drop_kpa(tuple(run for choice in chosen for run in choice.runs))
        if least is None or drop_kpa < least:
            least = drop_kpa
            yield Tail(drop_kpa, tuple(text for x in chosen for text in x.texts), "", ((step, chosen),))
        if component is None or not component.flowing:
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
