"""Which part next on random catalogs, held to putting every candidate into the catalog and asking."""

from random import Random
from typing import Any

import pytest

from service.documents.request import BillRequest
from service.impact.questions import Kept, Standing
from service.usecases.next_parts import next_parts_in
from tests.impact.test_any_edits import answer_or_none
from tests.support.engine import edition
from tests.support.random_catalogs import random_catalog
from tests.support.random_edits import with_cases
from tests.support.random_requests import random_request
from tests.support.slow_next_parts import slow_next_parts

Json = dict[str, Any]


def compare(seed: int) -> int:
    """How many candidates unlock something, after they were held to the slow reckoning: over the catalog's cases, the
    grid, and what was asked so often, some of it the same question as another."""
    rng = Random(seed)
    catalog = with_cases(rng, random_catalog(rng), answer_or_none)
    grid = [
        {"chassis": chassis["id"], "layout": layout["id"]}
        for chassis in catalog["chassis"]
        for layout in catalog["layouts"]
        if layout["banks"] == chassis["banks"]
    ]
    asked = {}
    for request in [*rng.sample(grid, min(1, len(grid))), *(random_request(rng, catalog, 15) for _ in range(5))]:
        asked[Standing("asked", BillRequest.model_validate(request)).text] = request, rng.randint(1, 9)
    requests = [*(case["request"] for case in catalog["contract_cases"]), *grid, *(one for one, _ in asked.values())]
    times = [*[0] * (len(requests) - len(asked)), *(count for _, count in asked.values())]
    kept = [Standing("asked", BillRequest.model_validate(one), times=count) for one, count in asked.values()]
    found = [
        (tuple((port["standard"], port["end"]) for port in part["ports"]), part["unlocks"], part["asked"])
        for part in next_parts_in(edition(catalog), Kept(asked=kept))
    ]
    slow = slow_next_parts(catalog, requests, times)
    assert found == [(part.ports, len(part.unlocked), part.asked) for part in slow]
    return len(found)


@pytest.mark.parametrize("seed", [11])
def test_parts_are_those_of_trying_every_part(seed: int) -> None:
    compare(seed)
