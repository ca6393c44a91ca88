"""Which part next on random catalogs, held to putting every candidate into the catalog and asking."""

from random import Random
from typing import Any

import pytest

from service.documents.request import BillRequest
from service.nextparts import Unanswered, next_parts
from service.usecases.errors import RequestFaultsError
from service.usecases.resolve_request import resolve_request
from tests.support.engine import edition
from tests.support.random_catalogs import random_catalog
from tests.support.random_requests import random_request
from tests.support.slow_next_parts import slow_next_parts

Json = dict[str, Any]


def compare(seed: int) -> int:
    """How many candidates unlock something, after they were held to the slow reckoning."""
    rng = Random(seed)
    catalog = random_catalog(rng)
    requests = [
        {"chassis": chassis["id"], "layout": layout["id"]}
        for chassis in catalog["chassis"]
        for layout in catalog["layouts"]
    ]
    requests += [random_request(rng, catalog, wish_percent=15) for _ in range(6)]
    ready = edition(catalog)
    unanswered, places = [], []
    for place, request in enumerate(requests):
        try:
            resolved = resolve_request(BillRequest.model_validate(request), ready.revision)
        except RequestFaultsError:
            continue
        if not ready.engine.count(resolved):
            unanswered.append(Unanswered(resolved))
            places.append(place)
    found = [
        (tuple(map(tuple, one.candidate.ports)), {places[x.place]: x.pieces for x in one.unlocked})
        for one in next_parts(ready.revision, unanswered)
    ]
    assert found == [(part.ports, part.unlocked) for part in slow_next_parts(catalog, requests)]
    return len(found)


@pytest.mark.parametrize("seed", [11])
def test_parts_are_those_of_trying_every_part(seed: int) -> None:
    compare(seed)
