"""How evenly questions are answered while a large revision is published, imported by another process, and opened."""

import json
import os
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from itertools import count
from pathlib import Path
from threading import Event
from time import sleep
from typing import Any

from service.documents.catalog import Catalog
from service.storage.engine import open_database
from service.storage.migrate import migrate
from service.storage.revisions import RevisionStore
from service.usecases.library import Library
from tests.bench.client import Connection, Load, flood, request, steady
from tests.bench.report import Row
from tests.bench_catalog import CARS_A_FAMILY, ITEMS_A_FAMILY, bench_catalog
from tests.support.server import served

ITEMS = 10_000
_SHARE = 0.7
_AT_ONCE = 4
_MOST_AT_ONCE = 20
_LAYOUT = "factory-line"
_FLOOD_S = 2.0
_READY = "/v1/health/ready"
_LOOK_EVERY_S = 0.2


def rows(*, seconds: float, items: int = ITEMS) -> list[Row]:
    """The row: questions at seven tenths of the highest rate, a publish in the middle."""
    catalog = bench_catalog(items)
    with tempfile.TemporaryDirectory() as folder:
        address, changed = f"sqlite:///{Path(folder) / 'bench.sqlite3'}", Path(folder) / "changed.json"
        database = open_database(address)
        migrate(database)
        Library(RevisionStore(database)).publish(Catalog.model_validate(catalog))
        database.close()
        catalog["items"][0]["price"] += 1
        changed.write_text(json.dumps(catalog))
        with served(address) as url:
            load = _under_publish(url, address, changed, _questions(url, catalog, items), seconds)
    if set(load.statuses) != {200}:
        raise SystemExit(f"answered with {load.statuses}")
    p50_ms, p99_ms = load.at(0.5) * 1000, load.at(0.99) * 1000
    figures = {"p50 ms": p50_ms, "p99 ms": p99_ms, "a second": load.rate, "items": items, "seconds": load.seconds}
    return [Row("p99 of new questions while a revision is published, against p50", p99_ms / p50_ms, 5, True, figures)]


def _under_publish(url: str, address: str, changed: Path, questions: Iterator[bytes], seconds: float) -> Load:
    """What came of a load that has a third of its time, at least, before the publishing and a third after it."""
    flood(url, questions, _FLOOD_S, _AT_ONCE)  # what cars of a family share is worked out once
    highest = flood(url, questions, _FLOOD_S, _AT_ONCE).rate
    over = Event()

    def publish() -> None:
        sleep(seconds / 3)
        _publish(address, changed)
        while _newest(url) == 1:
            sleep(_LOOK_EVERY_S)
        sleep(seconds / 3)
        over.set()

    with ThreadPoolExecutor(1) as beside:
        published = beside.submit(publish)
        load = steady(url, questions, _SHARE * highest, _MOST_AT_ONCE, lambda: not (over.is_set() or published.done()))
        published.result()
    return load


def _newest(url: str) -> int:
    return int(json.loads(Connection(url).ask(request(url, "GET", _READY))[1])["revision"])


def _publish(address: str, changed: Path) -> None:
    """Import by another process, as who runs the service does."""
    command = [sys.executable, "-m", "service", "catalog", "import", str(changed)]
    subprocess.run(
        command, check=True, stdout=subprocess.DEVNULL, env=os.environ | {"PORTWRIGHT_DATABASE_URL": address}
    )


def _questions(url: str, catalog: dict[str, Any], items: int) -> Iterator[bytes]:
    """Questions on the cars of a few families in turn, none of them twice."""
    cars = [car["id"] for car in catalog["chassis"][: CARS_A_FAMILY * min(2, items // ITEMS_A_FAMILY)]]
    for nth in count():
        asked = {"chassis": cars[nth % len(cars)], "layout": _LAYOUT, "detail": "brief", "max_price": 10**9 + nth}
        yield request(url, "POST", "/v1/bills", json.dumps(asked).encode())
