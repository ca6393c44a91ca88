"""The lines of a set-up as the pump meets them: feeds, the link between the banks, the return."""

from collections.abc import Callable, Sequence
from functools import lru_cache
from typing import NamedTuple

from service.domain.chains import Run
from service.hydraulics import Fluid, Passage, drop_pa, merged, share_flow
from service.solver.flows import KPA, M3_S, FlowState


class Ways(NamedTuple):
    """What fuel runs through on paths that share a flow."""

    fluid: Fluid
    passages: tuple[tuple[Passage, ...], ...]

    def drop_kpa(self, l_h: float) -> float:
        """The drop of the worst path [kPa] when all paths together carry a flow [L/h]."""
        drops = [self._drop(way) for way in self.passages]
        if len(drops) == 1:
            return drops[0](l_h)
        if len(set(self.passages)) == 1:  # alike, they share alike
            return drops[0](l_h / len(drops))
        return max(drop(share) for drop, share in zip(drops, share_flow(drops, l_h), strict=True))

    def _drop(self, way: tuple[Passage, ...]) -> Callable[[float], float]:
        return lambda l_h: sum([drop_pa(passage, self.fluid, l_h * M3_S) for passage in way]) * KPA


class System(NamedTuple):
    """The lines; ways of one duty lie beside one another, feeds and returns bank by bank.

    `crosses`: the return is beyond the link, so that what goes back runs through the link as well.
    """

    feeds: tuple[Ways, ...]
    links: tuple[Ways, ...]
    crosses: bool
    returns: tuple[Ways, ...] = ()
    return_banks: int = 1

    def fed_drop_kpa(self, sent_l_h: float, burnt_l_h: float) -> float:
        """The drop from the pump to the farthest rail [kPa] when so much is sent, of which so much is burnt [L/h]."""
        linked = max(0.0, sent_l_h - burnt_l_h / 2) if self.crosses else burnt_l_h / 2
        return _greatest(self.feeds, sent_l_h / max(1, len(self.feeds))) + _greatest(self.links, linked)

    def returned_drop_kpa(self, returned_l_h: float) -> float:
        """The drop of the return [kPa] when so much goes back [L/h]."""
        return _greatest(self.returns, max(0.0, returned_l_h) / self.return_banks)


def ways(states: Sequence[FlowState], runs: Sequence[Run]) -> Ways:
    """The ways of paths that share a flow, with all that is behind their chains."""
    return Ways(
        states[0].fluid, tuple([_way(run, state.hose, state.rail) for state, run in zip(states, runs, strict=True)])
    )


@lru_cache(4096)
def _way(run: Run, *behind: Passage | None) -> tuple[Passage, ...]:
    return merged((*run.passages, *[passage for passage in behind if passage is not None]))


def _greatest(lines: tuple[Ways, ...], l_h: float) -> float:
    return max([line.drop_kpa(l_h) for line in lines], default=0.0)
