"""What a world leaves to choose: the choices of one spot, or of spots that share a flow, and how fuel runs in each."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from operator import itemgetter

from service.domain.chains import Run
from service.domain.findings import Finding, Rejection
from service.domain.flows import PathFlow
from service.domain.lazy import lazy
from service.domain.margins import least_relative
from service.rules import flow
from service.solver.flows import FlowState, Loss
from service.solver.options import Choice, Choices
from service.solver.spots import ServedSpot

Runs = tuple[Run, ...]


@dataclass(frozen=True, eq=False)
class Component:
    """Choices, the spots that they serve, and for each run of passages what its paths lose; none where nothing flows.

    `choices` hold those within policy; `losses` tell of all that the spots alone allow.
    """

    choices: Choices
    served: tuple[ServedSpot, ...]
    states: tuple[FlowState, ...] = ()
    losses: Mapping[Runs, tuple[Loss, ...]] = field(default_factory=dict)
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
        losses = self.losses[runs]
        return round(losses[0].drop_kpa if len(losses) == 1 else max(map(_drop_kpa, losses)), 3)

    @lazy
    def drops_kpa(self) -> dict[Runs, float]:
        """The drops of all runs that are left to choose."""
        return {runs: self.drop_kpa(runs) for runs in self.choices.by_runs}

    @lazy
    def relatively_left(self) -> dict[Runs, float]:
        """How much is left of the tightest limit of any of the paths."""
        paths = {runs: self._paths(runs) for runs in self.choices.by_runs}
        return {runs: least_relative(x for path in found for x in flow.margins(path)) for runs, found in paths.items()}

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
        return (*at_spots, *self._over_policy())

    def _over_policy(self) -> list[Rejection]:
        """Rule `flow`: of a part with no choice left, the path that comes nearest."""
        if not self.is_judged:
            return []
        heads = self.choices.heads
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


_drop_kpa = itemgetter(Loss._fields.index("drop_kpa"))
