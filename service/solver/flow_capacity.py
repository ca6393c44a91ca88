"""How much paths can carry within policy: the other way round from what a flow loses."""

from bisect import bisect_left
from collections.abc import Sequence
from functools import lru_cache
from itertools import product
from math import inf, pi
from typing import NamedTuple

from service.domain.assessment import Bound
from service.domain.chains import Run
from service.domain.work import spend
from service.hydraulics import Passage, drop_pa, merged
from service.hydraulics.sharing import root
from service.solver.flows import KPA, M3_S, FlowState
from service.solver.judge.picked import RunsOfBores

_ACCURACY = 1e-12
_SURELY = 1 + 1e-9
_STEPS = 20
"""Of the search for one flow."""


class Capacity(NamedTuple):
    """The most that paths carry together [L/h], and which of them is then at which limit; infinite: None."""

    l_h: float
    path: int | None
    bound: Bound | None


def capacity(states: Sequence[FlowState], runs: Sequence[Run]) -> Capacity:
    """The most that paths can carry together within the limits of drop and velocity; infinite where nothing is rated.

    Paths that share a flow lose the same. So together they carry what each does at the least drop at which one of them
    is at a limit. The flow in the states does not count.
    """
    spend(_STEPS * len(states), "feeds")
    unmoved = [state._replace(flow_l_h=0.0) for state in states]
    ways = [_way(run.passages, state.behind()) for state, run in zip(states, runs, strict=True)]
    limits = [_most(state, way) for state, way in zip(unmoved, ways, strict=True)]
    path, (_, drop_kpa) = min(enumerate(limits), key=lambda limit: limit[1][1])
    l_h = sum(
        _flow_at(state, way, drop_kpa, at_most) for state, way, (at_most, _) in zip(unmoved, ways, limits, strict=True)
    )
    if l_h == inf:
        return Capacity(inf, None, None)
    return Capacity(l_h, path, "velocity" if drop_kpa < states[path].limit_kpa else "drop")


def most_l_h(states: Sequence[FlowState], columns: Sequence[Sequence[RunsOfBores]]) -> float:
    """The most that any runs carry together [L/h], one taken from each column.

    Together they carry no more than each does alone, and that no more than the least of its bores. So those of
    each bores are tried while they could carry more than the best so far.
    """
    bounds = [[_alone(state, one.least).l_h for one in column] for state, column in zip(states, columns, strict=True)]
    together = [tuple(zip(*pairs, strict=True)) for pairs in product(*map(zip, columns, bounds))]
    best = 0.0
    for runs, most in sorted(together, key=lambda pair: -sum(pair[1])):
        enough = sum(most)
        if enough > best * _SURELY:
            best = max(best, capacity_l_h(states, [one.lean for one in runs]))
        if enough > best * _SURELY:
            best = max(best, _most_of(states, [one.find() for one in runs], enough))
    return best


def _most_of(states: Sequence[FlowState], columns: Sequence[Sequence[Run]], enough: float) -> float:
    """As of `most_l_h`, of runs of these columns; `enough` is as much as there can be.

    A pair whose limits are at the same drop carries as much as both do alone. So the pairs nearest to each other are
    tried first, then those that could carry more than the best of these.
    """
    if len(columns) != 2:
        return max(capacity_l_h(states, runs) for runs in product(*columns))
    alone = [[(_alone(state, run.passages), run) for run in own] for state, own in zip(states, columns, strict=True)]
    first, second = alone
    by_drop = sorted(second, key=_drop_of)
    best = 0.0
    for one in first:
        at = bisect_left(by_drop, _drop_of(one), key=_drop_of)
        for other in by_drop[max(0, at - 1) : at + 1]:
            best = max(best, capacity_l_h(states, (one[1], other[1])))
        if enough <= best * _SURELY:
            return best
    first.sort(key=_l_h_of, reverse=True)
    second.sort(key=_l_h_of, reverse=True)
    for one in first:
        for other in second:
            if _l_h_of(one) + _l_h_of(other) <= best * _SURELY:
                break
            best = max(best, capacity_l_h(states, (one[1], other[1])))
    return best


class _Alone(NamedTuple):
    """What runs carry at most by themselves, L/h, and what they lose then."""

    l_h: float
    drop_kpa: float


def _l_h_of(pair: tuple[_Alone, Run]) -> float:
    return pair[0].l_h


def _drop_of(pair: tuple[_Alone, Run]) -> float:
    return pair[0].drop_kpa


def _alone(state: FlowState, passages: tuple[Passage, ...]) -> _Alone:
    spend(_STEPS, "feeds")
    unmoved = state._replace(flow_l_h=0.0)
    way = _way(passages, state.behind())
    at_most, drop_kpa = _most(unmoved, way)
    return _Alone(_flow_at(unmoved, way, drop_kpa, at_most), drop_kpa)


def capacity_l_h(states: Sequence[FlowState], runs: Sequence[Run]) -> float:
    """The most that paths can carry together [L/h], as of `capacity`."""
    return capacity(states, runs).l_h


def demand_limit_l_h(most_l_h: float, part: float) -> float:
    """The demand at which paths carry their most, `part` of it being theirs; infinite where they carry none of it."""
    return most_l_h / part if part > 0 else inf


@lru_cache(4096)
def _way(passages: tuple[Passage, ...], behind: tuple[Passage, ...]) -> tuple[Passage, ...]:
    return merged((*passages, *behind))


@lru_cache(8192)
def _most(state: FlowState, way: tuple[Passage, ...]) -> tuple[float, float]:
    """The flow [L/h] at which a path is as fast as may be, and the drop [kPa] there or at most."""
    if not way:
        return inf, state.limit_kpa
    bore_m = min(passage.bore_m for passage in way)
    most = state.limit_m_s * pi / 4 * bore_m * bore_m / M3_S
    return most, min(state.limit_kpa, _drop_kpa(state, way, most))


@lru_cache(8192)
def _flow_at(state: FlowState, way: tuple[Passage, ...], drop_kpa: float, most: float) -> float:
    """The greatest flow [L/h] up to `most` that loses no more than that."""
    if most == inf or _drop_kpa(state, way, most) <= drop_kpa:
        return most
    return root(lambda flow: _drop_kpa(state, way, flow) - drop_kpa, 0.0, most, rtol=_ACCURACY, maxiter=500)


def _drop_kpa(state: FlowState, way: tuple[Passage, ...], flow_l_h: float) -> float:
    return sum([drop_pa(passage, state.fluid, flow_l_h * M3_S) for passage in way]) * KPA
