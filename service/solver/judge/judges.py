"""What judges the questions to one revision: all that is worked out for one question is there for the next."""

from dataclasses import dataclass

from service.domain.revision import Revision
from service.solver.flow_judge import FlowJudge
from service.solver.judge.chains import ChainFinder
from service.solver.judge.spots import SpotJudge


@dataclass(frozen=True, eq=False)
class Judges:
    """A revision, what judges its spots, and what judges flows."""

    revision: Revision
    spots: SpotJudge
    flows: FlowJudge

    @classmethod
    def of(cls, revision: Revision) -> "Judges":
        return cls(revision, SpotJudge(revision, ChainFinder(revision)), FlowJudge())
