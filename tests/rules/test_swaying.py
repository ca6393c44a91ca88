"""A rule names the wishes that sway it: others change nothing that it reads, and its wishes speak as it says."""

from random import Random

import pytest

from service.documents.request import BillRequest
from service.domain.request import PartSituation
from service.domain.wishes import Wishes
from service.rules import CHAIN_RULES, PART_RULES, ChainRule, PartRule
from service.solver.judge.situations import Situations
from service.solver.why_not.spot_cases import axes
from service.usecases.library import Edition
from service.usecases.resolve_request import resolve_request
from tests.support.engine import edition
from tests.support.random_catalogs import random_catalog
from tests.support.random_requests import random_facts, random_request

RULES: tuple[PartRule | ChainRule, ...] = (*PART_RULES, *CHAIN_RULES)


@pytest.mark.parametrize("seed", range(40))
def test_what_a_rule_reads_and_how_its_wishes_add_up(seed: int) -> None:
    rng = Random(seed)
    catalog = random_catalog(rng)
    request = random_request(rng, catalog, 60)
    chassis = next(car for car in catalog["chassis"] if car["id"] == request["chassis"])
    ready = edition(catalog)
    resolved = resolve_request(
        BillRequest.model_validate(request | random_facts(rng, catalog, chassis)), ready.revision
    )
    wishes = Wishes(resolved, ready.revision)
    names = tuple(wishes.values)
    for rule in RULES:
        swaying = {name for axis in axes(rule, names) for name in axis}
        assert _kept(ready, wishes, rule, names) == _kept(ready, wishes, rule, tuple(swaying))
        if not rule.together:
            apart = [_kept(ready, wishes, rule, (name,)) for name in swaying] or [_kept(ready, wishes, rule, ())]
            assert _kept(ready, wishes, rule, names) == [all(verdicts) for verdicts in zip(*apart, strict=True)]


def _kept(ready: Edition, wishes: Wishes, rule: PartRule | ChainRule, names: tuple[str, ...]) -> list[bool]:
    """What a rule decides with some wishes alone: of every item, or of every chain at every spot."""
    asked = wishes.request_with(names)
    if isinstance(rule, PartRule):
        read = rule.reads(PartSituation.of(asked))
        return [
            rule.holds(item, read, ready.revision, got)
            for item in ready.revision.items.values()
            for got in ("bought", "had", "supplied")
        ]
    spots = ready.engine.judges.spots
    bare = wishes.request_with(())
    outliner = ready.engine.judges.outliner(bare)
    rooms = Situations(asked)
    return [
        rule.holds(chain, rule.reads(rooms.in_its_room(spot)))
        for _, plan in outliner.plans()
        for spot in plan.spots
        for chain in spots.table(spot).chains.chains
    ]
