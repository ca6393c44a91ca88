"""Faults of the database and of time: what is answered while one lasts, and that all is well behind it.

With keys, drafts and publishing, at two services over one database, as two machines have it. What an honest refusal is
stands in RFC 9110 (503 with Retry-After) and RFC 9457.
"""

import json
import os
import sqlite3
import subprocess
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, ExitStack, closing, contextmanager
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import httpx
import psycopg
import pytest
from sqlalchemy import make_url

from service.access.allowances import NO_LIMIT
from service.access.roles import Role, without_key
from service.documents.catalog import Catalog
from service.storage.engine import open_database
from service.storage.keys import KeyStore
from service.storage.migrate import migrate
from service.storage.postgresql import WatchedConnection
from service.storage.revisions import RevisionStore
from service.storage.tables import METADATA
from service.storage.verifying import verify
from service.usecases.access_keys import AccessKeys
from service.usecases.library import Library
from service.web.access import Doors
from service.web.app import create_app
from service.web.rate_limits import RateLimits
from tests.cli.commands import run
from tests.storage.databases import empty_database
from tests.support.catalogs import small_catalog
from tests.support.proxy import Proxy, proxy_to
from tests.support.sqlite_files import with_small_catalog
from tests.web.calls import Caller, caller, problem
from tests.web.conftest import QUESTION, checks_of, drafts_of

Json = dict[str, Any]
WAIT_MS = 250
"""So long a write waits for others, in the place of some seconds."""
FULL_BYTES = 3 * 2**20
SKU = small_catalog()["items"][0]["sku"]
ITEM = f"items/{SKU}"
ORDER = {"chassis": QUESTION["chassis"], "lines": [{"sku": SKU, "qty": 1}]}
PUBLISHED = {"author": "tests", "reason": "a fault", "accept": "it is a test"}
NOBODY = without_key(frozenset())


@dataclass
class Service:
    """Two services over one database, of which the second is asked whether it sees what the first was told."""

    url: str
    first: Caller
    second: Caller
    keys: AccessKeys
    shown: dict[Role, Json]
    proxy: Proxy | None = None
    kept: Json = field(default_factory=dict)

    def ask(self, what: str) -> httpx.Response:
        """Send a request of a kind to the first."""
        return ASKED[what](self)

    def draft(self) -> str:
        begun = self.first.post("/v1/drafts", json={"name": "a", "author": "b"}, headers=self.shown[Role.PUBLISHER])
        assert begun.status_code == 201, begun.text
        return f"/v1/drafts/{begun.json()['id']}"

    def edit(self, draft: str) -> httpx.Response:
        """Change a price, whatever it is."""
        headers = {"If-Match": "*", "Content-Type": "application/merge-patch+json"} | self.shown[Role.PUBLISHER]
        patch = json.dumps({"price": int(time.monotonic() * 1_000) % 90_000 + 100})
        return self.first.patch(f"{draft}/{ITEM}", content=patch, headers=headers)

    def publish(self, draft: str) -> httpx.Response:
        """Publish, once it is known what that does."""
        while True:
            told = self.first.post(f"{draft}/publish", json=PUBLISHED, headers=self.shown[Role.PUBLISHER])
            if told.status_code != 202:
                return told
            time.sleep(0.02)


def _of_new_key(service: Service) -> httpx.Response:
    """A question with a key that was shown never before, so that it has to be looked up."""
    return service.first.get("/v1/fuels", headers=service.kept["new keys"].pop())


ASKED: dict[str, Callable[[Service], httpx.Response]] = {
    "ready": lambda s: s.first.get("/v1/health/ready"),
    "question": lambda s: s.first.post("/v1/bills", json=QUESTION, headers=s.shown[Role.ASK]),
    "list": lambda s: s.first.get("/v1/items", headers=s.shown[Role.ASK]),
    "new key": _of_new_key,
    "order": lambda s: s.first.post("/v1/order-checks", json=ORDER, headers=s.shown[Role.DESK]),
    "draft": lambda s: s.first.post("/v1/drafts", json={"name": "a", "author": "b"}, headers=s.shown[Role.EDITOR]),
    "edit": lambda s: s.edit(s.kept["draft"]),
    "publish": lambda s: s.publish(s.kept["draft"]),
}
READ, WRITTEN = ("ready", "question", "list", "new key"), ("order", "draft", "edit", "publish")


@contextmanager
def _filled(service: Service) -> Iterator[None]:
    """Not a byte is free where the database is."""
    rest = Path(service.url.removeprefix("sqlite:///")).parent / "rest"
    with closing(_Open(rest)) as opened:
        opened.fill()
        yield
    rest.unlink()


class _Open:
    def __init__(self, file: Path) -> None:
        self._number = os.open(file, os.O_CREAT | os.O_WRONLY)

    def fill(self) -> None:
        try:
            while True:
                os.write(self._number, b"x" * 512)
        except OSError:
            return

    def close(self) -> None:
        os.close(self._number)


@contextmanager
def _locked(service: Service) -> Iterator[None]:
    """Somebody else holds what every writer needs, for longer than anybody waits."""
    if service.url.startswith("sqlite"):
        file = service.url.removeprefix("sqlite:///")
        with closing(sqlite3.connect(file, isolation_level=None)) as shell:
            shell.execute("BEGIN IMMEDIATE")
            yield
            shell.execute("ROLLBACK")
        return
    with psycopg.connect(service.url) as shell:
        shell.execute(f"LOCK TABLE {', '.join(METADATA.tables)} IN EXCLUSIVE MODE".encode())
        yield
        shell.rollback()


@contextmanager
def _gone(service: Service) -> Iterator[None]:
    """The database takes no connection, and those that there are end."""
    assert service.proxy is not None
    service.proxy.refuse()
    yield
    service.proxy.accept_again()


@contextmanager
def _standby(service: Service) -> Iterator[None]:
    """The first is served over a database that takes no writes, as a standby does not."""
    url, first = make_url(service.url), service.first
    options = f"{url.query['options']} -cdefault_transaction_read_only=on"
    with _over(url.update_query_dict({"options": options}).render_as_string(hide_password=False)) as (service.first, _):
        yield
    service.first = first


@dataclass(frozen=True)
class Fault:
    """What happens, over which kind of database, and which requests are refused while it lasts; the others succeed."""

    name: str
    kind: str
    happens: Callable[[Service], AbstractContextManager[None]]
    refused: tuple[str, ...]


FAULTS = (
    Fault("the disk is full", "sqlite", _filled, WRITTEN),
    Fault("somebody holds a lock", "sqlite", _locked, WRITTEN),
    Fault("somebody holds locks", "postgresql", _locked, WRITTEN),
    Fault("the database takes no writes", "postgresql", _standby, WRITTEN),
    Fault("the database is gone", "postgresql", _gone, READ + WRITTEN),
)


@pytest.fixture(name="service")
def _service(request: pytest.FixtureRequest, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Service]:
    kind, is_small = request.param
    monkeypatch.setattr(WatchedConnection, "silence_s", 1.0)
    with ExitStack() as opened:
        folder = opened.enter_context(_small_disk(tmp_path)) if is_small else tmp_path
        url = opened.enter_context(empty_database(kind, folder))
        proxy = None
        at = url
        if kind == "postgresql":
            server = make_url(url)
            proxy = opened.enter_context(proxy_to(server.host or "127.0.0.1", server.port or 5432))
            at = server.set(host="127.0.0.1", port=proxy.port).render_as_string(hide_password=False)
        first, keys = opened.enter_context(_over(at, Catalog.model_validate(small_catalog())))
        second, _ = opened.enter_context(_over(at))
        shown = {role: _bearer(keys, role) for role in Role}
        service = Service(url, first, second, keys, shown, proxy)
        service.kept = {"new keys": [_bearer(keys, Role.ASK) for _ in range(3)], "draft": service.draft()}
        assert service.edit(service.kept["draft"]).status_code == 200
        yield service


@contextmanager
def _over(url: str, *catalogs: Catalog) -> Iterator[tuple[Caller, AccessKeys]]:
    with closing(open_database(url, wait_ms=WAIT_MS)) as database:
        migrate(database)
        library = Library(RevisionStore(database))
        for catalog in catalogs:
            library.publish(catalog)
        keys = AccessKeys(KeyStore(database))
        doors = Doors(keys, NOBODY, NOBODY, limits=RateLimits(dict.fromkeys(Role, NO_LIMIT)))
        app = create_app(library, checks_of(library), kept_drafts=drafts_of(library), doors=doors)
        with caller(app) as client:
            yield client, keys


@contextmanager
def _small_disk(folder: Path) -> Iterator[Path]:
    """A disk of a few megabytes; skips where this user may not have one."""
    mounted = subprocess.run(
        ["mount", "-t", "tmpfs", "-o", f"size={FULL_BYTES}", "tmpfs", folder], capture_output=True, check=False
    )
    if mounted.returncode:
        pytest.skip("this user may mount nothing")
    try:
        yield folder
    finally:
        subprocess.run(["umount", "--lazy", folder], check=True)


def _bearer(keys: AccessKeys, role: Role) -> Json:
    return {"Authorization": f"Bearer {keys.make(role, 'harbour').text}"}


def _params() -> Iterator[Any]:
    for fault in FAULTS:
        marks = [pytest.mark.postgres] if fault.kind == "postgresql" else []
        yield pytest.param((fault.kind, fault.happens is _filled), fault, id=fault.name, marks=marks)


@pytest.mark.parametrize(("service", "fault"), list(_params()), indirect=["service"])
def test_the_table(service: Service, fault: Fault) -> None:
    """While it lasts, what needs what is missing is refused with when to try again; behind it, all is as it was."""
    for what in READ:
        assert service.ask(what).status_code == 200, what
    kept = service.ask("order").json()
    with fault.happens(service):
        time.sleep(0.4 if fault.happens is _gone else 0.0)  # what a probe learned is told again for so long
        for what in READ + WRITTEN:
            started_s = time.monotonic()
            told = service.ask(what)
            for _ in range(200 if fault.happens is _filled and what in WRITTEN else 0):
                if told.status_code >= 400:
                    break
                told = service.ask(what)  # a page that is free may take a few more
            assert time.monotonic() - started_s < 20, what
            if what in fault.refused:
                problem(told, 503, "storage-unavailable")
                assert int(told.headers["Retry-After"]) >= 1
            else:
                assert told.status_code == 200, (what, told.text)
    _as_before(service, kept)


def _as_before(service: Service, kept: Json) -> None:
    """What was acknowledged is there at both services, everything is taken again, and the database is sound."""
    until_s = time.monotonic() + 20
    while service.ask("ready").status_code != 200:
        assert time.monotonic() < until_s
    assert service.ask("order").status_code == 201
    published = service.publish(service.kept["draft"])
    assert published.status_code == 201, published.text
    for client in (service.first, service.second):
        recalled = client.get(f"/v1/order-checks/{kept['id']}", headers=service.shown[Role.DESK])
        assert {name: recalled.json()[name] for name in kept} == kept
        newest = client.get("/v1/revisions", headers=service.shown[Role.ASK]).json()["results"][0]["number"]
        assert newest == published.json()["revision"]
    with closing(open_database(service.url)) as database:
        assert verify(database)[1] == []


@pytest.mark.postgres
@pytest.mark.parametrize("service", [("postgresql", False)], indirect=True)
def test_connections_that_are_ended_under_load(service: Service) -> None:
    """By the administrator, again and again: answers or honest refusals, and nothing acknowledged is lost."""
    is_over = threading.Event()
    kept: list[Json] = []
    wrong: list[str] = []

    def work(what: str) -> None:
        while not is_over.is_set():
            told = service.ask(what)
            if told.status_code == 201:
                kept.append(told.json())
            if told.status_code >= 400 and not (told.status_code == 503 and "Retry-After" in told.headers):
                wrong.append(f"{what}: {told.status_code} {told.text}")

    threads = [threading.Thread(target=work, args=(what,)) for what in ("question", "list", "order", "order", "edit")]
    for thread in threads:
        thread.start()
    schema = str(make_url(service.url).query["options"]).partition("=")[2]
    ended = 0
    with psycopg.connect(service.url, autocommit=True) as shell:
        until_s = time.monotonic() + 1
        while time.monotonic() < until_s or not ((ended and kept) or wrong or time.monotonic() > until_s + 20):
            is_over.wait(0.1)
            ended += len(shell.execute(_END_OTHERS, {"schema": schema}).fetchall())
    is_over.set()
    for thread in threads:
        thread.join()
    assert wrong == []
    assert ended > 0
    assert kept
    _as_before(service, kept[-1])
    for one in kept:
        path = f"/v1/order-checks/{one['id']}"
        assert service.second.get(path, headers=service.shown[Role.DESK]).status_code == 200


_END_OTHERS = (
    "SELECT pg_terminate_backend(l.pid) FROM pg_locks l JOIN pg_class c ON c.oid = l.relation"
    " JOIN pg_namespace n ON n.oid = c.relnamespace WHERE n.nspname = %(schema)s AND l.pid <> pg_backend_pid()"
)
"""Of those that use tables of this schema in this moment: the server is others' as well."""


def test_a_file_that_cannot_be_written(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Is refused at the start, in words, as there would be nobody who keeps anything."""
    with _small_disk(tmp_path) as folder:
        with_small_catalog(folder / "catalog.sqlite3")
        subprocess.run(["mount", "-o", "remount,ro", folder], check=True)
        monkeypatch.setenv("PORTWRIGHT_DATABASE_URL", f"sqlite:///{folder / 'catalog.sqlite3'}")
        refused = run("serve", "--port", "0")
    assert refused.exit_code == 3
    assert "Read-only file system" in " ".join(refused.stderr.split())


@pytest.mark.parametrize("service", [("sqlite", False)], indirect=True)
def test_the_clock_jumps(service: Service, monkeypatch: pytest.MonkeyPatch) -> None:
    """A key that is good stays so until its day, what was kept is there, a use of a key is noted all the same."""
    kept = service.ask("order").json()
    for_a_month = service.keys.make(Role.ASK, "harbour", 30)
    shown = {"Authorization": f"Bearer {for_a_month.text}"}
    long_ago = datetime.now(UTC) - timedelta(days=400)
    for days, expected in ((0, 200), (440, 401), (399, 200)):
        monkeypatch.setattr(service.keys, "_now", lambda days=days: long_ago + timedelta(days=days))
        assert service.first.get("/v1/items", headers=shown).status_code == expected, days
    service.keys.note_uses()
    assert [key.used_at for key in service.keys.all() if key.id == for_a_month.key.id] == [long_ago]
    _as_before(service, kept)
