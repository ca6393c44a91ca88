"""Two hundred clients at once with all that is costly: answers, or an honest refusal that says when to come again."""

import asyncio
from random import Random
from time import perf_counter
from typing import Any
from urllib.parse import urlsplit

import pytest

from service.documents.catalog import Catalog
from service.usecases.library import Library
from service.web.app import create_app
from tests.attack import Catalogs, Told, crowd, merged
from tests.support.catalogs import small_catalog
from tests.web.conftest import checks_of, library_in
from tests.web.test_order_batches_page import batches_of, served_here

CLIENTS = 200
SECONDS = 1
_HONEST = {200, 201, 303, 400, 404, 413, 414, 415, 422, 431, 503, 507}


def test_a_crowd_gets_answers_or_honest_refusals(tmp_path_factory: pytest.TempPathFactory) -> None:
    """No failure, no connection cut, none that hangs; afterwards a question is answered as before."""
    dearer: dict[str, Any] = small_catalog()
    dearer["items"][0]["price"] += 1
    with library_in(tmp_path_factory.mktemp("crowd") / "file", small_catalog(), dearer) as library:
        told = _attacked(library, Catalogs(Catalog.model_validate(small_catalog()), in_batch=2))
    statuses = {status for _, status in told.statuses}
    assert statuses <= _HONEST
    assert told.dishonest == 0
    assert 200 in statuses
    assert told.largest_refusal < 200_000


def _attacked(library: Library, catalogs: Catalogs) -> Told:
    makers = [catalogs.random_bills, catalogs.order, catalogs.orders, catalogs.explain, catalogs.old_revision]
    makers += [catalogs.many_had, catalogs.upload, catalogs.light, catalogs.ungrouped]
    rng = Random(1)
    pools = [[make(rng) for _ in range(5)] for make in makers]
    clients = [lambda rng, pool=pool: rng.choice(pool) for pool in pools]
    app = create_app(library, checks_of(library), batches=batches_of(library))
    with served_here(app) as client:
        host = urlsplit(str(client.base_url)).netloc
        begun = perf_counter()
        told = merged(asyncio.run(crowd(host, [clients[n % len(clients)] for n in range(CLIENTS)], SECONDS, 1)))
        assert perf_counter() - begun < 60
        assert client.get("/v1/health/ready").status_code == 200
        assert client.post("/v1/bills", json={"chassis": "brook", "layout": "hose-centre"}).status_code == 200
    return told
