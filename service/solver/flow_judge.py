"""Adds flow to what the spots allow, and keeps what stays within policy; feeds into one rail share its flow."""

from collections.abc import Sequence
from functools import lru_cache
from itertools import product

from service.domain.chains import Run
from service.hydraulics import Passage, drop_pa, merged, share_flow
from service.hydraulics.sharing import Drop
from service.solver.components import Component, Runs
from service.solver.flows import M3_S, FlowState, Loss
from service.solver.options import Choice, Choices
from service.solver.spots import ServedSpot


class FlowJudge:
    """Tells what each run of passages loses in a state; each case is computed once."""

    def __init__(self) -> None:
        self._losing = lru_cache(2048)(_Losses)
        self._sharing = lru_cache(64)(_SharedLosses)
        self._paired = lru_cache(256)(_combined)
        self._losing_all = lru_cache(4096)(self._losses_of_all)

    def single(self, served: ServedSpot, state: FlowState) -> Component:
        """What is left to choose for one path of its own."""
        choices = served.choices
        losses, over = self._losing_all(choices, state)
        if over:
            running = served.table.chains.running
            choices = served.without(sum(running[run] for run in over))
        return Component(choices, (served,), (state,), losses)

    def _losses_of_all(self, choices: Choices, state: FlowState) -> tuple[dict[Runs, tuple[Loss, ...]], list[Run]]:
        """What the runs of choices lose, and those that lose too much."""
        losing = self._losing(state)
        losses: dict[Runs, tuple[Loss, ...]] = {runs: (losing.of(runs[0]),) for runs in choices.by_runs}
        return losses, [runs[0] for runs, (lost,) in losses.items() if not state.holds(lost)]

    def shared(self, feeds: tuple[tuple[ServedSpot, FlowState], ...]) -> Component:
        """What is left for several feeds into one rail, taken together: they share the flow so that drops agree."""
        served, states = tuple(spot for spot, _ in feeds), tuple(state for _, state in feeds)
        sharing = self._sharing(states)
        runs = product(*([key[0] for key in spot.choices.by_runs] for spot in served))
        losses = {together: sharing.of(together) for together in runs}
        over = frozenset(together for together, lost in losses.items() if not all(map(FlowState.holds, states, lost)))
        return Component(self._paired(tuple(spot.choices for spot in served), over), served, states, losses)

    def losses(self, states: tuple[FlowState, ...], runs: tuple[Run, ...]) -> tuple[Loss, ...]:
        """What these runs lose, those of feeds into one rail together."""
        if len(states) == 1:
            return (self._losing(states[0]).of(runs[0]),)
        return self._sharing(states).of(runs)


class _Losses:
    """What runs lose in one state, each worked out once."""

    def __init__(self, state: FlowState) -> None:
        self._state = state
        self._behind = state.loss(state.behind(), state.flow_l_h)
        self._found: dict[Run, Loss] = {}

    def of(self, run: Run) -> Loss:
        lost = self._found.get(run)
        if lost is None:
            state = self._state
            self._found[run] = lost = state.loss(run.passages, state.flow_l_h).then(self._behind)
        return lost


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


def _combined(apart: tuple[Choices, ...], over: frozenset[tuple[Run, ...]]) -> Choices:
    """Every combination of choices, without those whose runs together are over a limit."""
    options = product(*([choice.options[0] for choice in choices.all] for choices in apart))
    together = (Choice(chosen) for chosen in options)
    return Choices(choice for choice in together if choice.runs not in over)
