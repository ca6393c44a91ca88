"""The best bills of a setup, in order, without sorting all.

The components are joined one by one, and of the beginnings so far only those are kept that can still become one of
the best.
"""

from bisect import bisect_right
from collections.abc import Callable, Iterable, Iterator, Mapping
from functools import lru_cache, partial
from operator import attrgetter

import numpy as np

from service.domain.chains import Runs
from service.domain.parts import Item
from service.domain.work import kept, spend
from service.solver.flow_judge import STEPS_OF_A_SHARE
from service.solver.judge.components import Component
from service.solver.judge.options import Choice, Choices, joined
from service.solver.judge.path_losses import PathLosses
from service.solver.judge.picked import Picked
from service.solver.search.best_first import best_first
from service.solver.search.bill_orders import ORDERS, BillOrder, by_margin, by_power, to_a_tenth
from service.solver.search.bundles import Bundle
from service.solver.search.carrying import Carrier
from service.solver.search.frontier import SORT_KEY, Kept, Ranked, cheapest, could_be_wanted, in_order, promising
from service.solver.search.limits import Limits, Spent, added, spent_on_rails
from service.solver.search.margins import Measuring, measuring
from service.solver.search.setups import Setup
from service.solver.search.thinning import FEW, RankingColumns, unbeaten_apart, worth_ranking

Rails = tuple[tuple[Item, Spent], ...]
"""Rails with what they cost."""


_BEATEN_BY = attrgetter("beaten_by")

_NOTHING = Ranked(float("-inf"), (0, 0), 0.0, (), "", (), (), ())
"""The beginning of all choices."""


class Ranker:
    """Ranks bills; what an order ranks alike in several setups is ranked once."""

    def __init__(self) -> None:
        self._all_bought = kept(1024, _bought)
        self._free_beginnings = kept(1024, partial(_beginnings, kept(2048, _resting)))
        self._free_singles = kept(2048, _singles_by_runs)
        self._free_flowing = kept(1024, _flowing)
        self._by_margin = lru_cache(16)(self._margins_at)

    def best(
        self, bundle: Bundle, order_by: str, wanted: int, *, grouped: bool, carrier: Carrier | None = None
    ) -> list[tuple[Ranked, Setup]]:
        """The best bills of a bundle, at most `wanted` (grouped: of different groups), in order, with their setups.

        `carrier`: given, they are ordered by what they carry.
        """
        ranked = partial(self._by_order, order_by) if carrier is None else partial(self._by_power, carrier)
        found = [(one, setup) for setup in bundle.setups for one in ranked(setup, bundle.limits, wanted, grouped)]
        if len(bundle.setups) > 1:
            found.sort(key=lambda ranked: SORT_KEY(ranked[0]))
        first: dict[tuple[object, ...], tuple[Ranked, Setup]] = {}
        for one, setup in found:
            first.setdefault(one.group if grouped else (one.rail, one.texts), (one, setup))
        return list(first.values())[:wanted]

    def _by_order(self, order_by: str, setup: Setup, limits: Limits, wanted: int, grouped: bool) -> list[Ranked]:
        order = ORDERS.get(order_by) or self._by_margin(measuring(setup.parts))
        return self._of_setup(setup, limits, order, wanted, grouped, free=True)

    def _margins_at(self, rules: Measuring) -> BillOrder:
        """The order by margin, one object wherever it ranks alike."""
        judged = lru_cache(128)(partial(by_margin, rules))
        return by_margin(rules)._replace(judged=judged)

    def _by_power(self, carrier: Carrier, setup: Setup, limits: Limits, wanted: int, grouped: bool) -> list[Ranked]:
        """What carries most first; parts of the setup are looked at while they can hold one of the best."""
        found: list[Ranked] = []
        for part in carrier.parts(setup, to_a_tenth):
            before = (one for one in found if one.worst < -part.level)
            if len({one.group if grouped else (one.rail, one.texts) for one in before}) >= wanted:
                break
            for narrowed, order in by_power(part, carrier):
                found += self._of_setup(narrowed, limits, order, wanted, grouped, free=False)
        return in_order(found)

    def _of_setup(
        self, setup: Setup, limits: Limits, order: BillOrder, wanted: int, grouped: bool, *, free: bool
    ) -> list[Ranked]:
        """`free`: orders that rank alike are the same."""
        if limits.had:
            return _by_search(setup, limits, order, wanted, grouped)
        free = free and not setup.have
        beginnings = self._free_beginnings if free else partial(_beginnings, _resting)
        singles = self._free_singles if free else _singles_by_runs
        at_rest = tuple([(x.choices, order.at(x)) for x in setup.components if not x.flowing])
        rails = _rails(setup) if setup.have else self._all_bought(setup.rails, setup.banks)
        begun = beginnings(rails, at_rest, limits, order, wanted, grouped)
        whole = [one.ranked for one in begun]
        for component in setup.components:
            if component.flowing:
                own = order.at(component)
                if component.path is not None and isinstance(component.choices, Picked) and own.is_in_columns:
                    flowing = (self._free_flowing if free else _flowing)(
                        component.choices, component.path, limits, own, wanted, grouped
                    )
                elif len(component.choices.columns) > 1 and own.ranks_apart:
                    together = _together(component, limits, own, wanted, grouped)
                    flowing = _promising(together, limits, own, wanted, grouped)
                else:
                    by_runs = singles(component.choices, limits, own, wanted, grouped)
                    flowing = _with_flow(by_runs, component, limits, own, wanted, grouped)
                begun = begun or _promising(whole, limits, order, wanted, grouped)
                whole, begun = _joined(begun, flowing, wanted), []
        return in_order(one for one in whole if limits.allow(one.needs)) if limits.watching else in_order(whole)


def _rails(setup: Setup) -> Rails:
    return tuple([(rail, setup.spent_on(rail)) for rail in setup.rails])


def _bought(rails: tuple[Item, ...], banks: int) -> Rails:
    return tuple([(rail, spent_on_rails(rail, banks)) for rail in rails])


def _by_search(setup: Setup, limits: Limits, order: BillOrder, wanted: int, grouped: bool) -> list[Ranked]:
    """Where some of what is needed is had but perhaps not all, only the whole bill tells what it costs."""
    steps = [[_rail(rail, setup.spent_on(rail), limits, order) for rail in setup.rails]]
    for component in setup.components:
        own = order.at(component)
        thinned = own.is_in_columns or not component.flowing
        foremost = list(
            _foremost(component.choices, component.path, limits, own, wanted, grouped)
            if thinned
            else component.choices.all
        )
        spend(len(foremost), "bills")
        singles = [_single(choice, limits, own) for choice in foremost]
        if component.flowing:
            singles = [_with_its_flow(one, component, own) for one in singles]
        steps.append(singles)
    return best_first(
        steps, limits, wanted, grouped=grouped, join=_join, settle=lambda one: _settled(one, limits, order)
    )


def _promising(ranked: Iterable[Ranked], limits: Limits, order: BillOrder, wanted: int, grouped: bool) -> list[Kept]:
    return promising(ranked, limits, wanted, grouped=grouped, pieces_first=order.pieces_first)


def _beginnings(
    resting: Callable[[Choices, Limits, BillOrder, int, bool], list[Kept]],
    rails: Rails,
    at_rest: tuple[tuple[Choices, BillOrder], ...],
    limits: Limits,
    order: BillOrder,
    wanted: int,
    grouped: bool,
) -> list[Kept]:
    """The promising ways to choose a rail and for the components where nothing flows."""
    starts = (_rail(rail, spent, limits, order) for rail, spent in rails)
    beginnings = _promising(starts, limits, order, wanted, grouped)
    for choices, own in at_rest:
        joined = _joined(beginnings, resting(choices, limits, own, wanted, grouped), wanted)
        beginnings = _promising(joined, limits, order, wanted, grouped)
    return beginnings


def _resting(choices: Choices, limits: Limits, order: BillOrder, wanted: int, grouped: bool) -> list[Kept]:
    """The promising choices where nothing flows."""
    singles = [_single(choice, limits, order) for choice in _foremost(choices, None, limits, order, wanted, grouped)]
    spend(len(singles), "bills")
    return _promising(singles, limits, order, wanted, grouped)


def _singles_by_runs(
    choices: Choices, limits: Limits, order: BillOrder, wanted: int, grouped: bool
) -> dict[Runs, list[Kept]]:
    """Of the choices that are alike to the fuel, the promising ones: whatever flows, they all lose the same."""
    spend(choices.size, "bills")
    return {
        runs: _promising((_single(choice, limits, order) for choice in alike), limits, order, wanted, grouped)
        for runs, alike in choices.by_runs.items()
    }


def _flowing(
    choices: Picked, path: PathLosses, limits: Limits, order: BillOrder, wanted: int, grouped: bool
) -> list[Kept]:
    """The promising choices for one path of its own."""
    foremost = _foremost_places(choices, path, limits, order, wanted, grouped)
    places = choices.places[foremost]
    worst = [None] * len(places) if order.worst_flow_column is None else order.worst_flow_column(path, places).tolist()
    spend(len(places), "bills")
    found = [
        _dropping(_single(choices.at(index), limits, order), drop_kpa, worst_flow)
        for index, drop_kpa, worst_flow in zip(foremost, path.told_kpa(places).tolist(), worst, strict=True)
    ]
    return _promising(found, limits, order, wanted, grouped)


def _foremost(
    choices: Choices, path: PathLosses | None, limits: Limits, order: BillOrder, wanted: int, grouped: bool
) -> Iterable[Choice]:
    """The choices without those that are beaten by too many others to be in one of the best bills."""
    if not isinstance(choices, Picked):
        return choices.all
    return [choices.at(index) for index in _foremost_places(choices, path, limits, order, wanted, grouped)]


def _foremost_places(
    choices: Picked, path: PathLosses | None, limits: Limits, order: BillOrder, wanted: int, grouped: bool
) -> list[int]:
    if choices.size <= FEW:
        return list(range(choices.size))
    costs = choices.spent(limits)
    worst = None if order.worst_column is None else order.worst_column(choices, costs)
    places = choices.places
    if path is not None and order.worst_flow_column is not None:
        flow_worst = order.worst_flow_column(path, places)
        worst = flow_worst if worst is None else np.maximum(worst, flow_worst)
    first, second = (costs.pieces, costs.price) if order.pieces_first else (costs.price, costs.pieces)
    ranking = RankingColumns(
        worst,
        first * (int(second.max()) + 1) + second,
        None if path is None else lambda few: path.told_kpa(places[few]),
        choices.figures.text_order[places],
        choices.figures.groups[places] if grouped else places,
    )
    return worth_ranking(choices, limits, ranking, wanted, grouped=grouped, pieces_first=order.pieces_first)


def _with_flow(
    by_runs: Mapping[Runs, list[Kept]],
    component: Component,
    limits: Limits,
    order: BillOrder,
    wanted: int,
    grouped: bool,
) -> list[Kept]:
    """The promising choices of a component, once it is known what each run of passages loses."""
    if not component.is_judged:
        spend(STEPS_OF_A_SHARE * len(by_runs), "feeds")
    found = []
    for runs, alike in by_runs.items():
        drop_kpa = component.drop_kpa(runs)
        worst_flow = None if order.worst_of_flow is None else order.worst_of_flow(component, runs)
        found += [Kept(beaten_by, _dropping(one, drop_kpa, worst_flow)) for beaten_by, one in alike]
    if len(by_runs) == 1:
        return found
    return _promising((one.ranked for one in found), limits, order, wanted, grouped)


def _together(component: Component, limits: Limits, order: BillOrder, wanted: int, grouped: bool) -> Iterator[Ranked]:
    """Of choices that are made apart and share a flow, those that fewer than `wanted` others always come before,
    together with what they lose."""
    begun = [Kept(0, _NOTHING._replace(needs=limits.nothing))]
    for choices in component.choices.columns:
        left = _apart(choices, limits, order, wanted, grouped)
        spend(len(begun) * len(left), "bills")
        begun = [
            Kept((one.beaten_by + 1) * (other.beaten_by + 1) - 1, _join(one.ranked, other.ranked))
            for one in begun
            for other in left
            if could_be_wanted(one, other, wanted)
        ]
    for _, ranked in begun:
        choice = joined(ranked.choices)
        yield _with_its_flow(ranked._replace(choices=(choice,)), component, order)


def _apart(choices: Choices, limits: Limits, order: BillOrder, wanted: int, grouped: bool) -> list[Kept]:
    """The choices that fewer than `wanted` others beat whatever both share their flow with, and how many do."""
    if not isinstance(choices, Picked):
        spend(choices.size, "bills")
        singles = [_single(choice, limits, order) for choice in choices.all]
        if order.by_cost and not limits.watching:
            return cheapest([Kept(0, single) for single in singles], wanted, grouped=grouped)
        return [Kept(0, single) for single in singles]
    costs = choices.spent(limits)
    first, second = (costs.pieces, costs.price) if order.pieces_first else (costs.price, costs.pieces)
    ranking = RankingColumns(
        None,
        first * (int(second.max()) + 1) + second,
        None,
        choices.figures.text_order[choices.places],
        choices.figures.groups[choices.places] if grouped else choices.places,
    )
    found = unbeaten_apart(choices, limits, ranking, wanted, by_flow=not order.by_cost, pieces_first=order.pieces_first)
    return [Kept(beaten_by, _single(choices.at(index), limits, order)) for index, beaten_by in found]


def _with_its_flow(one: Ranked, component: Component, order: BillOrder) -> Ranked:
    runs = one.choices[0].runs
    worst = None if order.worst_of_flow is None else order.worst_of_flow(component, runs)
    return _dropping(one, component.drop_kpa(runs), worst)


def _dropping(one: Ranked, drop_kpa: float, worst_flow: float | None) -> Ranked:
    worst, cost, _, texts, rail, choices, group, needs = one
    if worst_flow is not None and worst_flow > worst:
        worst = worst_flow
    return Ranked(worst, cost, drop_kpa, texts, rail, choices, group, needs)


def _single(choice: Choice, limits: Limits, order: BillOrder) -> Ranked:
    spent = limits.spent(choice)
    return Ranked(
        order.worst_of_choice(choice, spent),
        order.cost(spent),
        0.0,
        choice.texts,
        "",
        (choice,),
        choice.group,
        limits.of(choice),
    )


def _rail(rail: Item, spent: Spent, limits: Limits, order: BillOrder) -> Ranked:
    needs = limits.of_rail(spent.price)
    return Ranked(order.worst_of_rail(rail, spent), order.cost(spent), 0.0, (), rail.sku, (), (rail.group,), needs)


def _settled(one: Ranked, limits: Limits, order: BillOrder) -> Ranked:
    """A whole bill with what its units beyond those that are had cost."""
    beyond = limits.beyond(one.needs)
    price, pieces = order.cost(beyond)
    cost = (one.cost[0] + price, one.cost[1] + pieces)
    return one._replace(worst=max(one.worst, order.worst_beyond(beyond)), cost=cost)


def _joined(beginnings: list[Kept], singles: list[Kept], wanted: int) -> list[Ranked]:
    singles = sorted(singles, key=_BEATEN_BY)
    joined = []
    for beaten_by, beginning in beginnings:
        few = bisect_right(singles, wanted // (beaten_by + 1) - 1, key=_BEATEN_BY)
        spend(1 + few, "bills")
        joined += [_join(beginning, single.ranked) for single in singles[:few]]
    return joined


def _join(one: Ranked, other: Ranked) -> Ranked:
    texts = one.texts + other.texts
    return Ranked(
        max(one.worst, other.worst),
        (one.cost[0] + other.cost[0], one.cost[1] + other.cost[1]),
        max(one.drop_kpa, other.drop_kpa),
        tuple(sorted(texts)) if one.texts and other.texts and one.texts[-1] > other.texts[0] else texts,
        one.rail or other.rail,
        one.choices + other.choices,
        one.group + other.group,
        added(one.needs, other.needs) if one.needs else (),
    )
