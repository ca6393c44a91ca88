"""The service killed at random moments while much is written: `python -m tests.killing`.

In each round a server is started over the same database, clients write what can be kept (order checks with and without
idempotency keys, inquiries, files of orders, drafts, edits, publishes, imports), and every process of it is killed with
SIGKILL. Then another server is started: what was acknowledged in any round has to be there, equal; a revision answers
whole, as it was published; and the database has to be sound. All on loopback.
"""

import argparse
import json
import os
import re
import signal
import subprocess
import sys
import tempfile
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from random import Random
from threading import Event, Thread
from time import monotonic
from typing import Any

import httpx

from service.documents.catalog import Catalog
from service.storage.engine import open_database
from service.storage.migrate import migrate
from service.storage.revisions import RevisionStore
from service.storage.verifying import verify
from service.usecases.library import Library
from tests.storage.databases import empty_database
from tests.support.catalogs import small_catalog

Json = dict[str, Any]
PATIENCE_S = 60.0
_MOST_WRITES = 60
"""A server is killed behind some number of writes up to this, however fast the machine is, and a moment later: amid
others."""
_MOMENT_S = 0.05
_SKU = "PLUG-T"
_TOKEN = "t" * 32
_QUESTION = {"chassis": "brook", "layout": "hose-centre"}


@dataclass
class Acknowledged:
    """What the service said that it kept: what is found at a path, drafts by what they hold, revisions by a price.

    `open` are prices that were sent and not acknowledged: a draft may hold the last of them as well.
    """

    found: dict[str, Json] = field(default_factory=dict)
    pages: list[str] = field(default_factory=list)
    keys: dict[str, tuple[Json, Json]] = field(default_factory=dict)
    drafts: dict[str, int] = field(default_factory=dict)
    open: dict[str, int] = field(default_factory=dict)
    revisions: dict[int, int] = field(default_factory=dict)
    count: Counter[str] = field(default_factory=Counter)

    def writes(self) -> int:
        """How many answers there were."""
        return sum(list(self.count.values()))


class Writer:
    """Writes one thing after the other until it is told to stop or the server is gone."""

    def __init__(self, url: str, seed: int, kept: Acknowledged, is_over: Event) -> None:
        self._client = httpx.Client(base_url=url, timeout=PATIENCE_S, cookies={"portwright-form": _TOKEN})
        self._rng = Random(seed)
        self._kept = kept
        self._is_over = is_over

    def write(self, kind: Callable[["Writer"], None]) -> None:
        """Write things of a kind."""
        try:
            while not self._is_over.is_set():
                kind(self)
        except httpx.TransportError:
            pass  # it was killed
        finally:
            self._client.close()

    def order(self) -> None:
        asked = {"chassis": "brook", "lines": [{"sku": _SKU, "qty": self._rng.randint(1, 9)}]}
        key = f"k{self._rng.getrandbits(64):x}" if self._rng.random() < 0.5 else None
        made = self._client.post("/v1/order-checks", json=asked, headers={"Idempotency-Key": key} if key else {})
        if made.status_code == 201:
            self._kept.found[made.headers["location"]] = made.json()
            if key:
                self._kept.keys[key] = (asked, made.json())
        self._count("order check", made)

    def inquiry(self) -> None:
        asked = {"request": _QUESTION, "contact": "desk@shop.example", "note": f"n{self._rng.getrandbits(32)}"}
        made = self._client.post("/v1/inquiries", json=asked)
        if made.status_code == 201:
            self._kept.found[made.headers["location"]] = {"id": made.json()["id"], "received": made.json()["received"]}
        self._count("inquiry", made)

    def upload(self) -> None:
        rows = "".join(f"O-{n},brook,{_SKU},{n % 4 + 1}\n" for n in range(20))
        files = {"orders": ("o.csv", f"order,chassis,sku,qty\n{rows}".encode(), "text/csv")}
        made = self._client.post("/order/batches", data={"form_token": _TOKEN}, files=files)
        if made.status_code == 303:
            self._kept.pages.append(made.headers["location"])
        self._count("file of orders", made)

    def draft(self) -> None:
        """Begin a draft, change a price in it a few times, and publish it now and then."""
        begun = self._client.post("/v1/drafts", json={"name": "killed", "author": "tests"})
        self._count("draft", begun)
        if begun.status_code != 201:
            return
        id_ = begun.json()["id"]
        path = f"/v1/drafts/{id_}/items/{_SKU}"
        for _ in range(self._rng.randint(1, 4)):
            tag = self._client.get(path).headers.get("etag", "*")
            price = self._rng.randint(100, 9_999)
            self._kept.open[id_] = price
            headers = {"If-Match": tag, "Content-Type": "application/merge-patch+json"}
            made = self._client.patch(path, content=json.dumps({"price": price}), headers=headers)
            if made.status_code == 200:
                self._kept.drafts[id_] = price
            self._count("edit", made)
        if id_ in self._kept.drafts and self._rng.random() < 0.6:
            self._publish(id_)

    def _publish(self, id_: str) -> None:
        asked = {"author": "tests", "reason": "a round", "accept": "it is a test"}
        for _ in range(20):
            made = self._client.post(f"/v1/drafts/{id_}/publish", json=asked)
            if made.status_code == 201:
                self._kept.revisions[made.json()["revision"]] = self._kept.drafts[id_]
            if made.status_code != 202 or self._is_over.wait(0.2):
                break
        self._count("publish", made)

    def _count(self, kind: str, made: httpx.Response) -> None:
        if made.status_code >= 500 and made.status_code not in (503, 507):
            raise AssertionError(f"{kind}: {made.status_code} {made.text}")
        self._kept.count[kind if made.is_success or made.is_redirect else f"{kind}, refused"] += 1


_KINDS = (Writer.order, Writer.order, Writer.inquiry, Writer.upload, Writer.draft, Writer.draft)


@contextmanager
def _serving(url: str) -> Iterator[tuple[str, "subprocess.Popen[str]"]]:
    """A server whose processes are a group of their own, killed with it at the end."""
    command = [sys.executable, "-m", "service", "serve", "--port", "0"]
    environment = os.environ | {"PORTWRIGHT_DATABASE_URL": url, "PORTWRIGHT_WITHOUT_KEY": "admin"}
    with subprocess.Popen(
        command, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True, env=environment, start_new_session=True
    ) as process:
        try:
            assert process.stderr is not None
            line = next(line for line in process.stderr if "Uvicorn running" in line)
            address = re.findall(r"http://[0-9.:]+", line)[0]
            Thread(target=process.stderr.read, daemon=True).start()
            yield address, process
        finally:
            kill(process)


def kill(process: "subprocess.Popen[str]") -> None:
    """End all processes of a server at once, and wait until none of them is left."""
    for folder in Path("/proc").glob("[0-9]*"):  # the back process has a group of its own
        try:
            session = int((folder / "stat").read_text().rpartition(")")[2].split()[3])
        except (OSError, ValueError):
            continue
        if session == process.pid:
            try:
                os.kill(int(folder.name), signal.SIGKILL)
            except ProcessLookupError:
                continue
    process.wait()


def round_of(url: str, seed: int, kept: Acknowledged, catalog_file: Path) -> None:
    """Start a server, have all kinds written, kill it; now and then in the midst of an import beside it."""
    rng, is_over = Random(seed), Event()
    with _serving(url) as (address, process):
        writers = [Writer(address, seed * 100 + index, kept, is_over) for index in range(len(_KINDS))]
        threads = [Thread(target=one.write, args=(kind,)) for one, kind in zip(writers, _KINDS, strict=True)]
        for thread in threads:
            thread.start()
        enough, until_s = kept.writes() + rng.randint(0, _MOST_WRITES), monotonic() + PATIENCE_S
        while kept.writes() < enough and monotonic() < until_s:
            is_over.wait(0.01)
        is_over.wait(rng.uniform(0, _MOMENT_S))
        beside = _importing(url, catalog_file) if rng.random() < 0.2 else None
        if beside is not None:
            is_over.wait(rng.uniform(0.3, 1.5))
        kill(process)
        if beside is not None:
            beside.kill()
            beside.wait()
        is_over.set()
        for thread in threads:
            thread.join()


def _importing(url: str, catalog_file: Path) -> "subprocess.Popen[bytes]":
    command = [sys.executable, "-m", "service", "catalog", "import", str(catalog_file), "--accept", "a round"]
    environment = os.environ | {"PORTWRIGHT_DATABASE_URL": url}
    return subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, env=environment)


def lost(url: str, kept: Acknowledged, most: int | None = None) -> list[str]:
    """What is not as it was acknowledged, after another start; at most so many things of a kind are looked at, the
    last ones."""
    wrong: list[str] = []
    with _serving(url) as (address, _), httpx.Client(base_url=address, timeout=PATIENCE_S) as client:
        for path, expected in _last(kept.found, most):
            told = client.get(path).json()
            wrong += [f"{path}: {name}" for name, value in expected.items() if told.get(name) != value]
        wrong += [path for path in kept.pages[-(most or 0) :] if client.get(path).status_code != 200]
        for key, (asked, expected) in _last(kept.keys, most):
            again = client.post("/v1/order-checks", json=asked, headers={"Idempotency-Key": key})
            if (again.status_code, again.json()) != (200, expected):
                wrong.append(f"idempotency key {key}: {again.status_code}")
        for id_, price in _last(kept.drafts, most):
            found = client.get(f"/v1/drafts/{id_}/items/{_SKU}").json()["result"]["price"]
            if found not in (price, kept.open[id_]):
                wrong.append(f"draft {id_}: {found}, not {price}")
        for number, price in _last(kept.revisions, most):
            item = client.get(f"/v1/items/{_SKU}?revision={number}")
            if item.json()["result"]["price"] not in (price, *kept.open.values()):
                wrong.append(f"revision {number}: {item.text[:200]}")
    with closing(open_database(url)) as database:
        wrong += verify(database)[1]
    return wrong


def _last(kept: dict[Any, Any], most: int | None) -> list[tuple[Any, Any]]:
    return list(kept.items())[-(most or 0) :]


def killed(url: str, rounds: int, seed: int, look_every: int, say: Callable[[str], object]) -> list[str]:
    """Go through rounds over a database that has no tables yet; what was lost or is wrong."""
    catalog = small_catalog()
    with closing(open_database(url)) as database:
        migrate(database)
        Library(RevisionStore(database)).publish(Catalog.model_validate(catalog))
    kept = Acknowledged()
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "catalog.json"
        for number in range(rounds):
            catalog["items"][0]["price"] = 1_000 + number
            file.write_text(json.dumps(catalog))
            round_of(url, seed + number, kept, file)
            if (number + 1) % look_every == 0:
                wrong = lost(url, kept, 20)
                say(f"{number + 1} rounds: {kept.writes()} writes, {len(wrong)} wrong")
                if wrong:
                    return wrong
    wrong = lost(url, kept)
    say(f"all looked at: {dict(sorted(kept.count.items()))}, {len(wrong)} wrong")
    return wrong


def main() -> None:
    parser = argparse.ArgumentParser(prog="python -m tests.killing", description="Kill -9 under mixed writing.")
    parser.add_argument("--rounds", type=int, default=200)
    parser.add_argument("--database", choices=("sqlite", "postgresql"), default="sqlite")
    parser.add_argument("--seed", type=int, default=1)
    given = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder, empty_database(given.database, Path(folder)) as url:
        wrong = killed(url, given.rounds, given.seed, 20, print)
    print("\n".join(wrong[:50]))
    sys.exit(bool(wrong))


if __name__ == "__main__":
    main()
