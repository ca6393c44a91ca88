"""Adds flow to what the spots allow, and keeps what stays within policy; feeds into one rail share its flow."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from itertools import product
from math import prod
from typing import NamedTuple

from service.domain.chains import Run, Runs
from service.domain.lazy import memo
from service.domain.work import kept, spend
from service.hydraulics import Passage, drop_pa, merged, share_flow
from service.hydraulics.sharing import Drop
from service.rules import flow
from service.solver.flow_capacity import capacity_l_h, most_l_h
from service.solver.flows import KPA, M3_S, FlowState, Loss
from service.solver.judge.components import Component
from service.solver.judge.options import Choice, Choices, Paired
from service.solver.judge.path_losses import Losses, LossesByRun, PathLosses
from service.solver.judge.picked import CHAINS_A_STEP, Picked
from service.solver.judge.spots import ServedSpot
from service.solver.judge.tables import ChainTable

STEPS_OF_A_SHARE = 100
_STEPS_OF_A_BOUND = 200
_MOSTLY = 0.75
_SURELY = 1 + 1e-6
"""What a bound is held to is a little more than it, for the accuracy of shares."""


class FlowJudge:
    """Tells what each run of passages loses in a state; each case is computed once."""

    def __init__(self) -> None:
        self._losing = memo(2048, Losses)
        self._sharing = memo(64, _SharedLosses)
        self._paired = kept(1024, _combined)
        self._none_over = kept(256, _none_over)
        self._paths = kept(4096, self._path)
        self.most_l_h = kept(4096, _most_l_h)
        """The most that any of these choices, one of each, carry together [L/h], whatever flows in the states."""

    def component(self, served: tuple[ServedSpot, ...], states: tuple[FlowState, ...]) -> Component:
        """What is left to choose at spots that are settled together; no state: nothing flows there."""
        if not states:
            return Component(served[0].choices, served)
        return self._single(served[0], states[0]) if len(states) == 1 else self._shared(served, states)

    def _single(self, served: ServedSpot, state: FlowState) -> Component:
        """What is left to choose for one path of its own."""
        path = self._paths(served.table.chains, state)
        choices = served.without(path.over)
        return Component(choices, (served,), (state,), LossesByRun(path.losing, served), path)

    def _path(self, chains: ChainTable, state: FlowState) -> PathLosses:
        """What the chains of a table lose on a path of their own."""
        spend(1 + chains.size // CHAINS_A_STEP, "feeds")
        return PathLosses(chains, self._losing(state))

    def _shared(self, served: tuple[ServedSpot, ...], states: tuple[FlowState, ...]) -> Component:
        """What is left for several feeds into one rail, taken together: they share the flow so that drops agree."""
        sharing = self._sharing(states)
        apart = tuple(spot.choices for spot in served)
        if self._none_over(states, apart):
            choices = self._paired(apart, frozenset())
            return Component(choices, served, states, SharedLosses(sharing, apart), is_judged=False)
        columns = [choices.runs for choices in apart]
        spend(STEPS_OF_A_SHARE * prod(map(len, columns)), "feeds")
        losses = {together: sharing.of(together) for together in product(*columns)}
        over = frozenset(together for together, lost in losses.items() if not all(map(FlowState.holds, states, lost)))
        return Component(self._paired(apart, over), served, states, losses)

    def losses(self, states: tuple[FlowState, ...], runs: tuple[Run, ...]) -> tuple[Loss, ...]:
        """What these runs lose, those of feeds into one rail together."""
        spend(1 if len(states) == 1 else STEPS_OF_A_SHARE, "feeds")
        if len(states) == 1:
            return (self._losing(states[0]).of(runs[0]),)
        return self._sharing(states).of(runs)


class SharedLosses(Mapping[Runs, tuple[Loss, ...]]):
    """What the runs of feeds into one rail lose, one from each column together, worked out when it is asked for."""

    def __init__(self, sharing: "_SharedLosses", columns: tuple[Picked, ...]) -> None:
        self._sharing = sharing
        self._columns = columns

    def __getitem__(self, runs: Runs) -> tuple[Loss, ...]:
        return self._sharing.of(runs)

    def __iter__(self) -> Iterator[Runs]:
        return product(*[choices.runs for choices in self._columns])

    def __len__(self) -> int:
        return prod(len(choices.runs) for choices in self._columns)


class _SharedLosses:
    """What runs of feeds into one rail lose together, each combination worked out once."""

    def __init__(self, states: tuple[FlowState, ...]) -> None:
        self._states = states
        self._alike = len(set(states)) == 1
        self._found: dict[tuple[Run, ...], tuple[Loss, ...]] = {}

    def of(self, runs: tuple[Run, ...]) -> tuple[Loss, ...]:
        found = self._found.get(runs)
        if found is None:
            mirrored = self._found.get(runs[::-1]) if self._alike else None
            self._found[runs] = found = _share(self._states, runs) if mirrored is None else mirrored[::-1]
        return found


def _share(states: Sequence[FlowState], runs: Sequence[Run]) -> tuple[Loss, ...]:
    """The losses of feeds into one rail, each with its share of the flow."""
    ways = [merged((*run.passages, *state.behind())) for state, run in zip(states, runs, strict=True)]

    def drop(state: FlowState, way: tuple[Passage, ...]) -> Drop:
        return lambda flow_l_h: sum([drop_pa(passage, state.fluid, flow_l_h * M3_S) for passage in way])

    shares = share_flow([drop(*pair) for pair in zip(states, ways, strict=True)], states[0].flow_l_h)
    return tuple(state.loss(way, flow_l_h) for state, way, flow_l_h in zip(states, ways, shares, strict=True))


def _most_l_h(states: tuple[FlowState, ...], columns: tuple[Picked, ...]) -> float:
    if len(columns) == 1:
        return max([capacity_l_h(states, (run,)) for run in columns[0].leanest_runs], default=-1.0)
    by_bores = [choices.runs_by_bores for choices in columns]
    return most_l_h(states, by_bores) if all(by_bores) else -1.0


def _none_over(states: tuple[FlowState, ...], columns: tuple[Picked, ...]) -> bool:
    """Whether no feeds of these runs into one rail can be over a limit; False where that is not sure.

    A path that loses more gets less of the flow, and the others more. So the most that a path can get is its share
    when it loses the least that any of its runs does and the others the most.
    """
    spend(_STEPS_OF_A_BOUND + sum(choices.size for choices in columns) // CHAINS_A_STEP, "feeds")
    if not all(choices.size for choices in columns):
        return True
    bounds = [_bounds(state, choices) for state, choices in zip(states, columns, strict=True)]
    if not all(bound.least for bound in bounds):
        return False
    for place, (state, own) in enumerate(zip(states, bounds, strict=True)):
        drops = [
            _drop(one, bound.least, min) if bound is own else _drop(one, bound.most, max)
            for one, bound in zip(states, bounds, strict=True)
        ]
        if not any(_holds(state, own, flow_l_h) for flow_l_h in _ever_nearer_to_the_most(drops, place, state.flow_l_h)):
            return False
    return True


def _ever_nearer_to_the_most(drops: Sequence[Drop], place: int, total_l_h: float) -> Iterator[float]:
    """Flows that one of these paths gets no more than, the last of them being what it gets; that takes longest."""
    yield total_l_h
    mostly_l_h = _MOSTLY * total_l_h
    if len(drops) == 2 and drops[place](mostly_l_h) >= drops[1 - place](total_l_h - mostly_l_h):
        yield mostly_l_h
    yield share_flow(drops, total_l_h)[place]


def _holds(state: FlowState, bounds: "_Bounds", flow_l_h: float) -> bool:
    """Whether no run within the bounds is over a limit at this flow or less of it."""
    drop_kpa = _drop(state, bounds.most, max)(flow_l_h) * KPA
    peak_m_s = max(state.loss(way, flow_l_h).peak_m_s for way in bounds.least)
    return flow.within(drop_kpa * _SURELY, peak_m_s * _SURELY, state.limit_kpa, state.limit_m_s)


_Ways = tuple[tuple[Passage, ...], ...]


class _Bounds(NamedTuple):
    """Ways of which one loses no more at any flow than a run does, and one no less: one each for all runs of the same
    bores. None where a run is not rated, or there is no run."""

    least: _Ways
    most: _Ways


def _bounds(state: FlowState, choices: Picked) -> _Bounds:
    found: tuple[list[tuple[Passage, ...]], ...] = ([], [])
    for alike in choices.runs_by_bores:
        for extreme, ways in zip((alike.least, alike.most), found, strict=True):
            way = merged((*extreme, *state.behind()))
            if not way:
                return _Bounds((), ())
            ways.append(way)
    return _Bounds(*map(tuple, found))


def _drop(state: FlowState, ways: _Ways, choose: Callable[[Iterable[float]], float]) -> Drop:
    """What is lost on the way that loses least or most, Pa."""
    return lambda flow_l_h: choose(
        [sum([drop_pa(passage, state.fluid, flow_l_h * M3_S) for passage in way]) for way in ways]
    )


def _combined(apart: tuple[Choices, ...], over: frozenset[tuple[Run, ...]]) -> Choices:
    """Every combination of choices, without those whose runs together are over a limit."""
    if not over:
        return Paired(apart)
    options = product(*([choice.options[0] for choice in choices.all] for choices in apart))
    together = (Choice(chosen) for chosen in options)
    return Choices(choice for choice in together if choice.runs not in over)
