"""A question whose footprint is the same in two catalogs has the same answer in both, whatever it wishes."""

from random import Random
from typing import Any

import pytest

from service.documents.contract import CatalogPromises
from service.documents.request import BillRequest
from service.domain.work import Meter
from service.impact.questions import Standing
from service.impact.seen import Seen
from service.usecases.impact import EditionSide, Remembered
from tests.support.builders import FACTORY, HOSE, catalog, part
from tests.support.engine import edition
from tests.support.random_catalogs import random_catalog
from tests.support.random_edits import edited
from tests.support.random_power import random_power_facts, with_power_facts
from tests.support.random_requests import random_facts, random_request

Json = dict[str, Any]
ALL_TOLD = CatalogPromises(has_bill=True)
"""A question with promises tells every bill, with all that its lines list."""


def sides(before: Json, after: Json) -> tuple[EditionSide, EditionSide]:
    # neither may know what the other answered
    return EditionSide(edition(before), Remembered(), Meter), EditionSide(edition(after), Remembered(), Meter)


def standing(request: Json) -> Standing:
    return Standing("asked", BillRequest.model_validate(request), ALL_TOLD)


def told(seen: Seen) -> list[Any]:
    bills = [(bill.body, bill.price, bill.carries_kw, bill.limited_by, bill.skus) for bill in seen.bills]
    return [seen.total_valid, bills]


def compare(seed: int) -> tuple[int, int]:
    """How many questions have the same footprint before and after random edits, and how many another."""
    rng = Random(seed)
    before = with_power_facts(rng, random_catalog(rng))
    after = edited(rng, before, most=2)
    old, new = sides(before, after)
    same = other = 0
    for _ in range(10):
        request = random_request(rng, before, wish_percent=30)
        chassis = next(x for x in before["chassis"] if x["id"] == request["chassis"])
        request |= random_facts(rng, before, chassis) if rng.randrange(3) == 0 else {}
        request |= random_power_facts(rng, before, request) if rng.randrange(3) == 0 else {}
        question = standing(request | {"limit": 20})
        if old.footprint(question) == new.footprint(question):
            same += 1
            assert told(old.seen(question)) == told(new.seen(question)), request
        else:
            other += 1
    return same, other


def test_alike_footprints_have_alike_answers() -> None:
    counts = [compare(seed) for seed in range(30)]
    assert min(map(sum, zip(*counts, strict=True))) > 0


FAR = part("FAR", "fitting", ("taper-1/8", "male"), ("taper-1/8", "female"))


@pytest.mark.parametrize(
    ("changes", "request_", "is_same"),
    [
        ({"items/PLUG-B8/name": "Another"}, HOSE, True),
        ({"items/PLUG-B8/price": 5}, HOSE, False),
        ({"items/-": FAR}, HOSE, True),
        ({"chassis/heron/base_kpa": 200.0}, HOSE, True),
        ({"chassis/brook/base_kpa": 200.0}, HOSE, False),
        ({"layouts/factory/summary": "Another"}, FACTORY, True),
        ({"policies/max_chain": 2}, HOSE, False),
        ({"policies/power_reserve": 0.3}, HOSE, True),
    ],
)
def test_what_a_question_hangs_on(changes: Json, request_: Json, is_same: bool) -> None:
    """What cannot sway the answer is no part of its footprint."""
    old, new = sides(catalog(), catalog(changes))
    question = standing(request_)
    assert (old.footprint(question) == new.footprint(question)) is is_same
