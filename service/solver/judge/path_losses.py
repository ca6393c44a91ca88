"""What the chains of a table lose on one path, all at once; what floats could sway is worked out chain by chain."""

from collections.abc import Iterator, Mapping

import numpy as np

from service.domain.chains import Run, Runs
from service.domain.lazy import lazy
from service.rules import flow
from service.solver.flows import FlowState, Loss
from service.solver.judge.arrays import relative, rounded
from service.solver.judge.chain_rows import Floats, Ints
from service.solver.judge.columns import Lost
from service.solver.judge.spots import ServedSpot
from service.solver.judge.tables import ChainTable, Mask, mask_of

_NEARLY = 1e-9
_ALL = slice(None)


class Losses:
    """What runs lose in one state, each worked out once."""

    def __init__(self, state: FlowState) -> None:
        self.state = state
        self.behind = state.loss(state.behind(), state.flow_l_h)
        self._found: dict[Run, Loss] = {}
        self._told_kpa: dict[Run, float] = {}

    def of(self, run: Run) -> Loss:
        lost = self._found.get(run)
        if lost is None:
            state = self.state
            self._found[run] = lost = state.loss(run.passages, state.flow_l_h).then(self.behind)
        return lost

    def told_kpa(self, run: Run) -> float:
        """The drop to 0.001 kPa, as bills are ordered."""
        told_kpa = self._told_kpa.get(run)
        if told_kpa is None:
            self._told_kpa[run] = told_kpa = round(self.of(run).drop_kpa, 3)
        return told_kpa


class PathLosses:
    """Columns with an entry for each chain of a table, in one state."""

    def __init__(self, chains: ChainTable, losing: Losses) -> None:
        self._chains = chains
        self.losing = losing
        self._state = losing.state

    def exactly(self, place: int) -> Loss:
        return self.losing.of(self._chains.chains[place].run)

    @property
    def _lost(self) -> Lost:
        return self._chains.columns.lost_by(self._state.flow_l_h, self._state.fluid)

    def drop_kpa(self, places: Ints | slice) -> Floats:
        """About as exactly as floats are."""
        return self._lost.drop_kpa[places] + self.losing.behind.drop_kpa

    def peak_m_s(self, places: Ints | slice) -> Floats:
        return np.maximum(self._lost.peak_m_s[places], self.losing.behind.peak_m_s)

    @lazy
    def over(self) -> Mask:
        """The chains that lose too much."""
        limit_kpa, limit_m_s = self._state.limit_kpa, self._state.limit_m_s
        most_kpa = self._lost.most_kpa + self.losing.behind.drop_kpa
        most_m_s = max(self._lost.most_m_s, self.losing.behind.peak_m_s)
        if most_kpa < limit_kpa - _NEARLY * (1 + limit_kpa) and most_m_s <= limit_m_s:
            return 0
        drop_kpa = self.drop_kpa(_ALL)
        over = (drop_kpa > limit_kpa) | (self.peak_m_s(_ALL) > limit_m_s)
        unsure = np.abs(drop_kpa - limit_kpa) <= _NEARLY * (1 + drop_kpa)
        for place in np.flatnonzero(unsure).tolist():
            lost = self.exactly(place)
            over[place] = not flow.within(lost.drop_kpa, lost.peak_m_s, limit_kpa, limit_m_s)
        return mask_of(over)

    def told_kpa(self, places: Ints) -> Floats:
        """The drops at these places to 0.001 kPa, as bills are ordered."""
        return rounded(self.drop_kpa(places), 3, lambda index: self.exactly(int(places[index])).drop_kpa)

    def relatively_left(self, places: Ints) -> Floats:
        """How much is left of the tightest limit of a path."""
        limit_kpa, limit_m_s = self._state.limit_kpa, self._state.limit_m_s

        def exactly_left(index: int) -> float:
            return limit_kpa - self.exactly(int(places[index])).drop_kpa

        left_kpa = rounded(limit_kpa - self.drop_kpa(places), 3, exactly_left)
        left_m_s = rounded(limit_m_s - self.peak_m_s(places), 6)
        return np.minimum(relative(left_kpa, limit_kpa), relative(left_m_s, limit_m_s))


class LossesByRun(Mapping[Runs, tuple[Loss, ...]]):
    """What the runs of choices for one spot lose, worked out when it is asked for."""

    def __init__(self, losing: Losses, served: ServedSpot) -> None:
        self._losing = losing
        self._served = served

    def __getitem__(self, runs: Runs) -> tuple[Loss, ...]:
        return (self._losing.of(runs[0]),)

    def __iter__(self) -> Iterator[Runs]:
        return iter([(run,) for run in self._served.choices.runs])

    def __len__(self) -> int:
        return len(self._served.choices.runs)
