"""What a setup leaves to choose: the choices of one spot, or of spots that share a flow, and how fuel runs in each."""

from collections.abc import Callable, Iterator, Mapping
from collections.abc import Set as AbstractSet
from dataclasses import dataclass, field
from operator import attrgetter

import numpy as np

from service.domain.chains import Runs
from service.domain.findings import Finding, Rejection
from service.domain.flows import PathFlow
from service.domain.margins import least_relative
from service.rules import flow
from service.solver.flows import FlowState, Loss
from service.solver.judge.options import Choice, Choices
from service.solver.judge.path_losses import PathLosses
from service.solver.judge.picked import Picked
from service.solver.judge.spots import ServedSpot
from service.solver.judge.tables import places_in


@dataclass(eq=False)
class Component:
    """Choices, the spots that they serve, and for each run of passages what its paths lose; none where nothing flows.

    `choices` hold those within policy; `losses` tell of all that the spots alone allow.
    """

    choices: Choices
    served: tuple[ServedSpot, ...]
    states: tuple[FlowState, ...] = ()
    losses: Mapping[Runs, tuple[Loss, ...]] = field(default_factory=dict)
    path: PathLosses | None = None
    """What all chains of the spot lose, where one path flows by itself."""
    is_judged: bool = True
    """Whether the losses stand there; else each is worked out when it is asked for, as none can be over a limit."""
    _known_paths: dict[Runs, tuple[PathFlow, ...]] = field(default_factory=dict)

    @property
    def flowing(self) -> bool:
        return bool(self.states)

    def drop_kpa(self, runs: Runs) -> float:
        """The drop of the worst path, to 0.001 kPa as bills are ordered; 0 where nothing flows."""
        if not self.states:
            return 0.0
        if self.path is not None:
            return self.path.losing.told_kpa(runs[0])
        return round(max(map(_drop_kpa, self.losses[runs])), 3)

    def relatively_left(self, runs: Runs) -> float:
        """How much is left of the tightest limit of any of the paths."""
        return least_relative(margin for path in self._paths(runs) for margin in flow.margins(path))

    def paths(self, choice: Choice) -> tuple[PathFlow, ...]:
        """The paths of a choice."""
        if not self.states:
            return ()
        found = self._known_paths.get(choice.runs)
        if found is None:
            self._known_paths[choice.runs] = found = self._paths(choice.runs)
        return found

    def _paths(self, runs: Runs) -> tuple[PathFlow, ...]:
        parts = zip(self.states, runs, self.losses[runs], self.served, strict=True)
        return tuple(state.path(run, lost, served.situation.spots) for state, run, lost, served in parts)

    @property
    def rejections(self) -> tuple[Rejection, ...]:
        """What stops the parts that head no choice: at their spot, or for the flow."""
        at_spots = [rejection for served in self.served for rejection in served.rejections]
        return (*at_spots, *self.over_policy(frozenset()))

    def over_policy(self, known: AbstractSet[tuple[str, str | None]]) -> list[Rejection]:
        """Rule `flow`: of a part with no choice left, the path that comes nearest; without those that are known."""
        if not self.is_judged:
            return []
        if self.path is not None:
            return list(self._over_alone(self.path, self.served[0].choices, known))
        heads = self.choices.heads | known
        nearest: dict[tuple[str, str], PathFlow] = {}
        for runs in self.losses:
            path = next((path for path in self._paths(runs) if not flow.holds(path)), None)
            if path is None:
                continue
            for served, run in zip(self.served, runs, strict=True):
                for choice in served.choices.by_runs[(run,)]:
                    head = choice.options[0].head
                    best = nearest.get(head)
                    if head[0] and head not in heads and (best is None or path.drop_kpa < best.drop_kpa):
                        nearest[head] = path
        return [Rejection(sku, spot, Finding(flow.RULE.id, flow.facts(path))) for (sku, spot), path in nearest.items()]

    def _over_alone(
        self, path: PathLosses, allowed: Picked, known: AbstractSet[tuple[str, str | None]]
    ) -> Iterator[Rejection]:
        stopped = sorted(head for head in allowed.heads - self.choices.heads - known if head[0])
        if not stopped:
            return
        chains = allowed.table.chains
        places = places_in(allowed.mask & path.over)
        order = np.lexsort((path.drop_kpa(places), chains.firsts[places]))
        places = places[order]
        firsts, drops_kpa = chains.firsts[places], path.drop_kpa(places)
        for sku, spot in stopped:
            start, end = np.searchsorted(firsts, chains.columns.by_sku[sku] + np.array([0, 1])).tolist()
            if start == end:
                continue
            near = np.searchsorted(drops_kpa[start:end], drops_kpa[start] + _NEARLY_KPA, "right")
            least = sorted(places[start : start + near].tolist())
            run = min((chains.chains[place].run for place in least), key=lambda run: self.losses[(run,)])
            yield Rejection(sku, spot, Finding(flow.RULE.id, flow.facts(self._paths((run,))[0])))


_NEARLY_KPA = 1e-6

_drop_kpa: Callable[[Loss], float] = attrgetter("drop_kpa")
