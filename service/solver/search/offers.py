"""What a component offers to the best bills: its choices as beginnings, without those that others always beat."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from math import inf

import numpy as np

from service.domain.chains import Runs
from service.domain.work import spend
from service.solver.flow_judge import STEPS_OF_A_SHARE
from service.solver.judge.chain_rows import Floats, Ints
from service.solver.judge.columns import Costs
from service.solver.judge.components import Component
from service.solver.judge.options import Choice, Choices
from service.solver.judge.options import joined as taken_together
from service.solver.judge.path_losses import PathLosses
from service.solver.judge.picked import CHAINS_A_STEP, Picked
from service.solver.search.beginnings import NOTHING, dropping, join, of_choice, with_its_flow
from service.solver.search.bill_orders import BillOrder
from service.solver.search.frontier import Kept, Ranked, cheapest, could_be_wanted, promising
from service.solver.search.limits import Limits
from service.solver.search.thinning import FEW, RankingColumns, unbeaten_apart, worth_ranking

AlikeOnAPath = Callable[[Picked, Limits, BillOrder, int, bool], tuple[Ints, list[Ranked]]]


def still_promising(
    ranked: Iterable[Ranked], limits: Limits, order: BillOrder, wanted: int, grouped: bool
) -> list[Kept]:
    return promising(ranked, limits, wanted, grouped=grouped, pieces_first=order.pieces_first)


def resting(choices: Choices, limits: Limits, order: BillOrder, wanted: int, grouped: bool) -> list[Kept]:
    """The promising choices where nothing flows."""
    singles = [of_choice(choice, limits, order) for choice in foremost(choices, None, limits, order, wanted, grouped)]
    spend(len(singles), "bills")
    return still_promising(singles, limits, order, wanted, grouped)


def singles_by_runs(
    choices: Choices, limits: Limits, order: BillOrder, wanted: int, grouped: bool
) -> dict[Runs, list[Kept]]:
    """Of the choices that are alike to the fuel, the promising ones: whatever flows, they all lose the same."""
    spend(choices.size, "bills")
    return {
        runs: still_promising((of_choice(choice, limits, order) for choice in alike), limits, order, wanted, grouped)
        for runs, alike in choices.by_runs.items()
    }


def alike_on_a_path(
    choices: Picked, limits: Limits, order: BillOrder, wanted: int, grouped: bool
) -> tuple[Ints, list[Ranked]]:
    """Of few choices, the chains and the beginnings that are promising whatever flows through them: of those that are
    alike to the fuel the best."""
    by_runs = singles_by_runs(choices, limits, order, wanted, grouped)
    places = dict(zip(choices.all, choices.places.tolist(), strict=True))
    found = [one for alike in by_runs.values() for _, one in alike]
    return np.array([places[one.choices[0]] for one in found], np.int64), found


def flowing(
    alike: AlikeOnAPath,
    choices: Picked,
    path: PathLosses,
    limits: Limits,
    order: BillOrder,
    wanted: int,
    grouped: bool,
) -> list[Kept]:
    """The promising choices for one path of its own. `alike`: gives `alike_on_a_path`."""
    if choices.size <= FEW:
        places, ranked = alike(choices, limits, order, wanted, grouped)
    else:
        chosen = _foremost_places(choices, path, limits, order, wanted, grouped)
        places = choices.places[chosen]
        ranked = [of_choice(choices.at(index), limits, order) for index in chosen]
    worst = [None] * len(places) if order.worst_flow_column is None else order.worst_flow_column(path, places).tolist()
    spend(len(places), "bills")
    found = map(dropping, ranked, path.told_kpa(places).tolist(), worst)
    return still_promising(found, limits, order, wanted, grouped)


def foremost(
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
    costs, places = choices.spent(limits), choices.places
    worst = _worst_of_each(choices, costs, path, order)
    first, second = (costs.pieces, costs.price) if order.pieces_first else (costs.price, costs.pieces)
    ranking = RankingColumns(
        worst,
        first * (int(second.max()) + 1) + second,
        None if path is None else lambda few: path.told_kpa(places[few]),
        choices.figures.text_order[places],
        choices.figures.groups[places] if grouped else places,
    )
    return worth_ranking(choices, limits, ranking, wanted, grouped=grouped, pieces_first=order.pieces_first)


def _worst_of_each(choices: Picked, costs: Costs, path: PathLosses | None, order: BillOrder) -> Floats | None:
    """What goes before the cost; None where nothing does."""
    worst = None if order.worst_column is None else order.worst_column(choices, costs)
    if path is None or order.worst_flow_column is None:
        return worst
    of_flow = order.worst_flow_column(path, choices.places)
    return of_flow if worst is None else np.maximum(worst, of_flow)


def least_worst(choices: Choices, path: PathLosses | None, order: BillOrder) -> float:
    """The least of what goes before the cost of any choice, where columns tell it."""
    if not isinstance(choices, Picked):
        return -inf
    spend(1 + choices.size // CHAINS_A_STEP, "bills")
    worst = _worst_of_each(choices, choices.costs, path, order)
    return -inf if worst is None else float(worst.min())


def with_flow(
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
        found += [Kept(beaten_by, dropping(one, drop_kpa, worst_flow)) for beaten_by, one in alike]
    if len(by_runs) == 1:
        return found
    return still_promising((one.ranked for one in found), limits, order, wanted, grouped)


def together(component: Component, limits: Limits, order: BillOrder, wanted: int, grouped: bool) -> Iterator[Ranked]:
    """Of choices that are made apart and share a flow, those that fewer than `wanted` others always come before,
    together with what they lose."""
    begun = [Kept(0, NOTHING._replace(needs=limits.nothing))]
    for choices in component.choices.columns:
        left = apart(choices, limits, order, wanted, grouped)
        spend(len(begun) * len(left), "bills")
        begun = [
            Kept((one.beaten_by + 1) * (other.beaten_by + 1) - 1, join(one.ranked, other.ranked))
            for one in begun
            for other in left
            if could_be_wanted(one, other, wanted)
        ]
    for _, ranked in begun:
        choice = taken_together(ranked.choices)
        yield with_its_flow(ranked._replace(choices=(choice,)), component, order)


def apart(choices: Choices, limits: Limits, order: BillOrder, wanted: int, grouped: bool) -> list[Kept]:
    """The choices that fewer than `wanted` others beat whatever both share their flow with, and how many do."""
    whatever_is_lost = not (order.goes_by_flow or limits.watching)
    if not isinstance(choices, Picked) or (whatever_is_lost and choices.size <= FEW):
        spend(choices.size, "bills")
        singles = [Kept(0, of_choice(choice, limits, order)) for choice in choices.all]
        return cheapest(singles, wanted, grouped=grouped) if whatever_is_lost else singles
    costs = choices.spent(limits)
    first, second = (costs.pieces, costs.price) if order.pieces_first else (costs.price, costs.pieces)
    ranking = RankingColumns(
        None if order.worst_column is None else order.worst_column(choices, costs),
        first * (int(second.max()) + 1) + second,
        None,
        choices.figures.text_order[choices.places],
        choices.figures.groups[choices.places] if grouped else choices.places,
    )
    found = unbeaten_apart(
        choices, limits, ranking, wanted, by_flow=order.goes_by_flow, pieces_first=order.pieces_first
    )
    return [Kept(beaten_by, of_choice(choices.at(index), limits, order)) for index, beaten_by in found]
