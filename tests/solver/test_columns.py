"""What columns tell of many chains is what each chain tells of itself."""

from collections.abc import Iterator
from random import Random

import numpy as np
import pytest

from service.documents.request import BillRequest
from service.domain.margins import least_relative
from service.domain.request import SpotSituation
from service.rules import CHAIN_RULES, flow
from service.solver.flow_judge import FlowJudge
from service.solver.flows import FlowState
from service.solver.judge.arrays import rounded, unique_ints, unique_rows
from service.solver.judge.path_losses import Losses, PathLosses
from service.solver.judge.spots import ServedSpot
from service.solver.judge.tables import bits, mask_of
from service.solver.search import thinning
from service.solver.search.margins import margins_of_chain, relatively_left
from service.solver.search.setups import Setup, Surveyor
from service.solver.verdicts.lacking import lacking_least
from service.solver.verdicts.stops import Seat, StopFinder, missing
from service.usecases.library import Edition
from service.usecases.resolve_request import resolve_request
from tests.support.builders import Json
from tests.support.engine import edition
from tests.support.random_catalogs import random_catalog
from tests.support.random_requests import random_request
from tests.support.twins import with_twins

SEEDS = range(12)


def setups_of(seed: int) -> list[Setup]:
    """The setups of a random question to a random catalog of twins."""
    rng = Random(seed)
    document = random_catalog(rng)
    request: Json = random_request(rng, document, 60)
    ready: Edition = edition(with_twins(document, 2))
    resolved = resolve_request(BillRequest.model_validate(request), ready.revision)
    return Surveyor(ready.engine.judges, resolved).setups()


def spots_of(seed: int) -> Iterator[tuple[ServedSpot, SpotSituation, tuple[FlowState, ...]]]:
    """The spots of such setups, each with its situation and the states of its paths."""
    for setup in setups_of(seed):
        for component in setup.components:
            for served in component.served:
                yield served, served.situation, component.states


@pytest.mark.parametrize("seed", SEEDS)
def test_measures_costs_and_names(seed: int) -> None:
    for served, situation, _ in spots_of(seed):
        table = served.table
        chains, columns = table.chains.chains, table.chains.columns
        for name in ("axial_mm", "across_mm", "far_axial_mm", "far_across_mm", "reach_mm"):
            assert getattr(columns, name).tolist() == [getattr(chain, name) for chain in chains]
        for is_supplied, costs in ((False, columns.bought), (True, columns.beyond_first)):
            choices = [table.choice(place, supplied=is_supplied) for place in range(len(chains)) if chains[place].links]
            told = [(x.price, x.pieces, x.lead_days, len(x.options[0].bought)) for x in choices]
            assert [
                row
                for row, chain in zip(zip(*map(np.ndarray.tolist, costs), strict=True), chains, strict=True)
                if chain.links
            ] == told
        assert [chains[place].text for place in np.argsort(columns.text_order)] == sorted(x.text for x in chains)
        groups = {(chain.groups, number) for chain, number in zip(chains, columns.groups.tolist(), strict=True)}
        assert len(groups) == len({chain.groups for chain in chains})
        assert columns.most(lambda item: item.standout_mm).tolist() == [x.most(lambda y: y.standout_mm) for x in chains]
        room = [least_relative(margins_of_chain(chain, situation)) for chain in chains]
        assert relatively_left(columns, np.arange(len(chains)), situation).tolist() == room
        for rule in CHAIN_RULES:
            keeping = [place for place, chain in enumerate(chains) if rule.holds(chain, rule.reads(situation))]
            assert list(bits(table.chains.keeping(rule, situation, served.parts))) == keeping


@pytest.mark.parametrize("seed", SEEDS)
def test_what_could_miss_the_least(seed: int) -> None:
    """Of all chains of a table the one that misses the least at its spot, of those alike the first, is shortlisted."""
    finder = StopFinder(FlowJudge())
    for setup in setups_of(seed):
        for component in setup.components:
            for position, served in enumerate(component.served):
                table, seat = served.table.chains, Seat(component, position)
                over = 0 if component.path is None else component.path.over
                if len(component.states) < 2 and table.size:
                    everything = [finder.stopped(seat, place) for place in range(table.size)]
                    least = min(everything, key=lambda x: (missing(x.stops), len(x.chain.links), x.chain.text))
                    assert least.place in lacking_least(served, table.whole, over)


@pytest.mark.parametrize("seed", SEEDS)
def test_losses(seed: int) -> None:
    for served, situation, states in spots_of(seed):
        table = served.table
        for state in states:
            losing = Losses(state)
            path = PathLosses(table.chains, losing)
            lost = [losing.of(chain.run) for chain in table.chains.chains]
            every = np.arange(len(lost))
            assert path.told_kpa(every).tolist() == [round(x.drop_kpa, 3) for x in lost]
            assert list(bits(path.over)) == [place for place, x in enumerate(lost) if not state.holds(x)]
            paths = [
                state.path(chain.run, x, situation.spots) for chain, x in zip(table.chains.chains, lost, strict=True)
            ]
            assert path.relatively_left(every).tolist() == [least_relative(flow.margins(x)) for x in paths]


def test_a_drop_at_its_very_limit_is_judged_by_the_run_itself() -> None:
    """A limit that is what a chain loses, to the last bit: it holds, and a little less does not."""
    tried = 0
    for served, _, states in spots_of(1):
        table = served.table
        for state in states:
            lost = Losses(state).of(table.chains.chains[0].run).drop_kpa
            for limit_kpa, holds in ((lost, True), (np.nextafter(lost, 0), False)):
                at_limit = PathLosses(table.chains, Losses(state._replace(limit_kpa=float(limit_kpa), limit_m_s=1e9)))
                assert at_limit.over & 1 == (not holds)
                tried += 1
    assert tried


@pytest.mark.parametrize("values", [[0.0005, 0.0015, 0.0025, 1.0005], [2.675, 2.665, 1e9 + 0.0005], [-0.0005, -2.6755]])
def test_numbers_at_half_are_rounded_as_one_alone_is(values: list[float]) -> None:
    assert rounded(np.array(values), 3).tolist() == [round(value, 3) for value in values]


@pytest.mark.parametrize("spread", [3, 10**6, 2**60])
def test_alike_numbers_and_rows(spread: int) -> None:
    rng = np.random.default_rng(spread % 1000)
    values = rng.integers(0, spread, 50)
    found, alike, first = unique_ints(values)
    assert found.tolist() == sorted(set(values.tolist()))
    assert found[alike].tolist() == values.tolist()
    assert [values.tolist().index(value) for value in found.tolist()] == first.tolist()
    rows = rng.integers(0, spread, (50, 4)) % 3
    each, kinds = unique_rows(rows)
    assert sorted(map(tuple, each.tolist())) == sorted(set(map(tuple, rows.tolist())))
    assert each[kinds].tolist() == rows.tolist()


@pytest.mark.parametrize("seed", range(20))
@pytest.mark.parametrize("grouped", [True, False])
def test_what_is_thinned_out_is_in_no_best_bill(seed: int, grouped: bool) -> None:
    """Of choices told by few figures, so that many are alike; completed with whatever, the best stay the best."""
    rng = np.random.default_rng(seed)
    size, wanted = 60, 3
    worst = rng.integers(0, 4, size).astype(float) if seed % 2 else None
    drop_kpa = rng.integers(0, 3, size).astype(float) if seed % 3 else None
    cost, text, group = rng.integers(0, 6, size), rng.permutation(size), rng.integers(0, 12, size)
    drops = None if drop_kpa is None else drop_kpa.__getitem__
    ranking = thinning.RankingColumns(worst, cost, drops, text, group if grouped else np.arange(size))
    kept = set(thinning._best_of(np.arange(size), ranking, wanted, grouped=grouped))
    for least_worst in range(4):
        for least_drop in range(3):
            order = sorted(
                range(size),
                key=lambda x: (
                    max(least_worst, 0.0 if worst is None else worst[x]),
                    cost[x],
                    max(least_drop, 0.0 if drop_kpa is None else drop_kpa[x]),
                    text[x],
                ),
            )
            best: dict[int, int] = {}
            for place in order:
                best.setdefault(int(group[place]) if grouped else place, place)
            assert kept.issuperset(list(best.values())[:wanted])
    assert mask_of(np.isin(np.arange(size), list(kept))).bit_count() == len(kept)
