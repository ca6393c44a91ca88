"""The most that feeds into one rail carry together, beside trying every pair of their runs."""

from collections.abc import Callable, Iterable, Sequence
from functools import partial
from itertools import product
from random import Random

import pytest

from service.domain.chains import Run
from service.hydraulics import Fluid, Passage
from service.solver.flow_capacity import capacity_l_h, most_l_h
from service.solver.flows import FlowState
from service.solver.judge.picked import RunsOfBores

BORES_M = (6e-3, 8e-3, 11e-3)


def column(rng: Random) -> list[RunsOfBores]:
    """Runs of some bores, each of one passage."""
    found = []
    for bore_m in rng.sample(BORES_M, 2):
        runs = [run(bore_m, rng.choice((0.1, 0.3, 2.0)), rng.choice((0.4, 1.0, 30.0))) for _ in range(4)]
        found.append(RunsOfBores(extreme(runs, min), extreme(runs, max), rng.choice(runs), partial(tuple, runs)))
    return found


def run(bore_m: float, length_m: float, loss_k: float) -> Run:
    return Run((Passage(bore_m, length_m, loss_k, 2e-6),), ())


def extreme(runs: Sequence[Run], choose: Callable[[Iterable[float]], float]) -> tuple[Passage, ...]:
    passages = [run.passages[0] for run in runs]
    length_m, loss_k = choose(x.length_m for x in passages), choose(x.loss_k for x in passages)
    return (Passage(passages[0].bore_m, length_m, loss_k, 2e-6),)


@pytest.mark.parametrize("seed", range(12))
def test_most_of_all_pairs(seed: int) -> None:
    rng = Random(seed)
    hose = Passage(8e-3, 1.0, 1.0, 2e-6) if seed % 2 else None
    state = FlowState("feed", 100.0, Fluid(745.0, 0.55e-3), rng.choice((3.0, 15.0, 60.0)), 6.0, True, hose, None)
    columns = [column(rng), column(rng)]
    pairs = product(*([run for alike in own for run in alike.find()] for own in columns))
    assert most_l_h((state, state), columns) == max(capacity_l_h((state, state), pair) for pair in pairs)
