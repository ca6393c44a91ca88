"""What judges the questions to one revision: all that is worked out for one question is there for the next."""

from collections.abc import Callable
from dataclasses import dataclass

from service.domain.request import Ground, Request
from service.domain.revision import Revision
from service.domain.work import kept
from service.solver.flow_judge import FlowJudge
from service.solver.judge.chains import ChainFinder
from service.solver.judge.spots import SpotJudge
from service.solver.search.outlines import Outlined, Outliner

_KEPT_OUTLINES = 4096


@dataclass(frozen=True, eq=False)
class Judges:
    """A revision, what judges its spots, what judges flows, and what is laid out on its grounds."""

    revision: Revision
    spots: SpotJudge
    flows: FlowJudge
    outlined: Callable[[Ground], Outlined]

    @classmethod
    def of(cls, revision: Revision) -> "Judges":
        spots = SpotJudge(revision, ChainFinder(revision))
        outlined = kept(_KEPT_OUTLINES, lambda ground: Outliner(revision, spots, ground).outlined())
        return cls(revision, spots, FlowJudge(), outlined)

    def outliner(self, request: Request) -> Outliner:
        """Lays out what is settled in a request before flow is judged."""
        return Outliner(self.revision, self.spots, Ground.of(request))
