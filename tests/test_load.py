"""A usual load in short, with keys of all roles; for a minute, and over many requests: `python -m tests.load`."""

import asyncio
from pathlib import Path
from urllib.parse import urlsplit

from service.access.roles import without_key
from service.documents.catalog import Catalog
from service.storage.keys import KeyStore
from service.usecases.access_keys import AccessKeys
from service.web.access import Doors
from service.web.app import create_app
from tests.attack import Catalogs
from tests.load import Load, Talks, for_a_time, grown, keys_in
from tests.support.catalogs import small_catalog
from tests.web.conftest import (
    cases_of,
    checks_of,
    drafts_of,
    inquiries_of,
    library_in,
    links_of,
    readings_of,
)
from tests.web.test_order_batches_page import batches_of, served_here

CLIENTS, SECONDS = 24, 1.0


def test_nothing_but_answers_and_honest_refusals(tmp_path: Path) -> None:
    """Whoever has the role does what it is for, beside all the others."""
    file = tmp_path / "catalog.sqlite3"
    nobody = without_key(frozenset())
    with library_in(file, small_catalog()) as library:
        app = create_app(
            library,
            checks_of(library),
            kept_inquiries=inquiries_of(library),
            links=links_of(library),
            batches=batches_of(library),
            readings=readings_of(library),
            kept_drafts=drafts_of(library),
            partner_cases=cases_of(library),
            doors=Doors(AccessKeys(KeyStore(library._store._database)), nobody, nobody),
        )
        with served_here(app) as client:
            host, keys = urlsplit(str(client.base_url)).netloc, keys_in(f"sqlite:///{file}")
            load = Load(host, Talks(Catalogs(Catalog.model_validate(small_catalog()))), keys)
            asyncio.run(for_a_time(load, CLIENTS, SECONDS))
    assert load.wrong == []
    came = {name for name, status in load.told.statuses if status < 300}
    assert {"order", "order with a key", "draft", "admin"} <= came


def test_what_grows_is_told() -> None:
    """Memory or open files, by process; what was there when it was warm is none."""
    steady = [([100.0, 60.0], [20, 10])] * 50
    assert grown(steady) == []
    leaking = [([100.0 + number, 60.0], [20, 10 + number]) for number in range(50)]
    assert [one.partition(":")[0] for one in grown(leaking)] == ["process 0", "process 1"]
