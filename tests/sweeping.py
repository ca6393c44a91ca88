"""A sweep of many questions by many workers, shown: `python -m tests.sweeping`.

`--questions N`, `--only alone processes dask kill`. On the seed catalog with an edit, and so many random questions kept
as asked: the same to the byte one by one, by one process, by two (and how much faster), by a Dask cluster of two
workers on loopback, and after a kill in the midst.
"""

import argparse
import hashlib
import json
import os
import signal
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from random import Random
from time import monotonic, sleep
from typing import Any

from service.documents.catalog import Catalog
from service.documents.folder import load_catalog
from service.documents.request import BillRequest
from service.impact.questions import Kept, Standing
from service.storage.asked_questions import AskedQuestionStore
from service.storage.engine import open_database
from service.storage.migrate import migrate
from service.storage.revisions import RevisionStore
from service.usecases.impact import impact_of, impact_told
from service.usecases.library import Edition, Library
from service.usecases.standing import MOST_ASKED, count_asked
from service.usecases.sweep_impact import sweep
from service.usecases.sweep_workers import cluster, processes
from tests.support.random_requests import random_request

Json = dict[str, Any]
PARTS = ["alone", "processes", "dask", "kill"]


def edited(catalog: Json) -> Json:
    """The catalog after an edit that many questions feel: a dearer fitting here and there, and a plug retired."""
    items = [dict(item) for item in catalog["items"]]
    for number, item in enumerate(items):
        if item["kind"] == "fitting" and number % 5 == 0:
            item["price"] += 100
    next(item for item in items if item["kind"] == "plug" and item["status"] == "active")["status"] = "retired"
    return catalog | {"items": items}


def some_questions(catalog: Json, count: int) -> list[BillRequest]:
    """So many different questions that the catalog understands."""
    rng, found = Random(7), dict[str, BillRequest]()
    while len(found) < count:
        request = BillRequest.model_validate(random_request(rng, catalog, wish_percent=15) | {"limit": 10})
        found.setdefault(request.model_dump_json(), request)
    return list(found.values())


def timed(name: str, call: Callable[[], str]) -> tuple[str, float]:
    begun = monotonic()
    found = call()
    took_s = monotonic() - begun
    print(f"{name:<28} {took_s:7.1f} s  {hashlib.sha256(found.encode()).hexdigest()[:16]}", flush=True)
    return found, took_s


@contextmanager
def loopback_cluster() -> Iterator[str]:
    """A scheduler and two workers, processes of their own on loopback."""
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "scheduler.json"
        common = [sys.executable, "-m", "distributed.cli.dask_scheduler"]
        given = ["--host", "127.0.0.1", "--port", "0", "--no-dashboard", "--scheduler-file", str(file)]
        begun = [_quietly([*common, *given])]
        try:
            while not file.exists() or not file.read_text().strip():
                sleep(0.1)
            for _ in range(2):
                worker = [sys.executable, "-m", "distributed.cli.dask_worker", "--scheduler-file", str(file)]
                more = ["--nthreads", "1", "--no-dashboard", "--local-directory", folder]
                begun.append(_quietly([*worker, *more]))
            address = json.loads(file.read_text())["address"]
            _wait_for_workers(address, 2)
            yield address
        finally:
            for one in reversed(begun):
                one.terminate()
            for one in begun:
                one.wait()


def _quietly(command: list[str]) -> subprocess.Popen[bytes]:
    return subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)


def _wait_for_workers(address: str, count: int) -> None:
    from distributed import Client

    with Client(address, set_as_default=False) as client:
        client.wait_for_workers(count, timeout=60)


def killed_and_resumed(before: Catalog, after: Catalog, questions: list[BillRequest]) -> bool:
    """Whether a command that was killed in the midst goes on with what it had, and tells the same as another one."""
    with tempfile.TemporaryDirectory() as folder:
        url = f"sqlite:///{folder}/kept.db"
        database = open_database(url)
        migrate(database)
        library = Library(RevisionStore(database))
        for catalog in (before, after):
            library.publish(catalog)
        count_asked(AskedQuestionStore(database), questions[:MOST_ASKED])
        command = [sys.executable, "-m", "service", "catalog", "impact", "1", "2", "--workers", "2", "--json"]
        environment = os.environ | {"PORTWRIGHT_DATABASE_URL": url}

        def done() -> int:
            with database.reading() as connection:
                return int(connection.exec_driver_sql("SELECT count(*) FROM impact_part").scalar_one())

        running = subprocess.Popen(command, env=environment, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        while done() < len(questions[:MOST_ASKED]) // 4 and running.poll() is None:
            sleep(0.1)
        running.send_signal(signal.SIGKILL)
        running.wait()
        kept = done()
        with database.writing() as connection:  # nobody need wait for the lease of who is dead
            connection.exec_driver_sql("UPDATE impact_sweep SET lease_ends = '2000-01-01 00:00:00.000000'")

        def whole() -> str:
            return subprocess.run(command, env=environment, capture_output=True, check=True).stdout.decode()

        resumed, resumed_s = timed(f"killed at {kept:,}, resumed", whole)
        again, again_s = timed("the same, not killed", whole)
        database.close()
        print(f"resumed in {resumed_s / again_s:.0%} of the time", flush=True)
        return kept > 0 and resumed == again


def main() -> int:
    parser = argparse.ArgumentParser()
    parser.add_argument("--questions", type=int, default=20_000)
    parser.add_argument("--only", choices=PARTS, nargs="*")
    given = parser.parse_args()
    only = given.only or PARTS
    plain = load_catalog(Path("seed_data")).model_dump(mode="json", exclude_none=True)
    before, after = (Catalog.model_validate(one) for one in (plain, edited(plain)))
    questions = some_questions(plain, given.questions)
    kept = Kept(asked=[Standing("asked", request, times=1) for request in questions])

    def editions() -> tuple[Edition, Edition]:
        return Edition(1, before), Edition(2, after)

    def by(workers: Any) -> Callable[[], str]:
        def call() -> str:
            both = editions()
            return json.dumps(impact_told(sweep(*both, kept, workers), *both))

        return call

    def one_by_one() -> str:
        both = editions()
        return json.dumps(impact_told(impact_of(*both, kept), *both))

    found: list[str] = []
    if "alone" in only:
        found.append(timed("one by one", one_by_one)[0])
        print(json.loads(found[0])["counts"])
    if "processes" in only:
        one, one_s = timed("one process", by(processes(1)))
        two, two_s = timed("two processes", by(processes(2)))
        print(f"two are {one_s / two_s:.2f} times as fast as one", flush=True)
        found += [one, two]
    if "dask" in only:
        with loopback_cluster() as address:
            found.append(timed("Dask, two workers", by(cluster(address)))[0])
    same = len(set(found)) <= 1
    if "kill" in only:
        same = killed_and_resumed(before, after, questions) and same
    print("all the same" if same else "THEY DIFFER")
    return 0 if same else 1


if __name__ == "__main__":
    sys.exit(main())
