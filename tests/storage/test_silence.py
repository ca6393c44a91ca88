"""A PostgreSQL behind a network that falls silent, breaks off or refuses: every use ends soon, and all works after."""

import threading
from collections.abc import Callable, Iterator
from contextlib import closing
from datetime import datetime
from pathlib import Path
from time import monotonic, sleep
from typing import LiteralString

import psycopg
import pytest
from sqlalchemy import make_url, text

from service.documents.catalog import Catalog
from service.storage.engine import Database, open_database
from service.storage.errors import StorageSilentError, StorageUnavailableError
from service.storage.migrate import migrate
from service.storage.patience import READ_S, WRITE_S
from service.storage.postgresql import WatchedConnection
from service.storage.revisions import RevisionStore
from service.usecases.library import Library
from service.web.app import create_app
from tests.storage.databases import empty_database
from tests.support.proxy import Proxy, proxy_to
from tests.web.calls import get, problem

pytestmark = pytest.mark.postgres

LEEWAY_S = 3.0
READY = "/v1/health/ready"


@pytest.fixture(scope="module", name="direct_url")
def _direct_url(tmp_path_factory: pytest.TempPathFactory, small: Catalog, noon: datetime) -> Iterator[str]:
    """The address of a database with a revision."""
    with empty_database("postgresql", tmp_path_factory.mktemp("silence")) as url:
        with closing(open_database(url)) as database:
            migrate(database)
            RevisionStore(database).add(small, created_at=noon)
        yield url


@pytest.fixture(autouse=True)
def _less_patience(monkeypatch: pytest.MonkeyPatch) -> None:
    """The rules are the same, and the tests quicker."""
    monkeypatch.setattr(WatchedConnection, "ping_s", 0.5)
    monkeypatch.setattr(WatchedConnection, "silence_s", 1.0)


@pytest.fixture(name="proxy")
def _proxy(direct_url: str) -> Iterator[Proxy]:
    server = make_url(direct_url)
    with proxy_to(server.host or "127.0.0.1", server.port or 5432) as proxy:
        yield proxy


@pytest.fixture(name="behind")
def _behind(direct_url: str, proxy: Proxy) -> Iterator[Database]:
    """The database behind the proxy, with a connection of each kind in its pools."""
    address = make_url(direct_url).set(host="127.0.0.1", port=proxy.port)
    with closing(open_database(address.render_as_string(hide_password=False))) as database:
        _read(database)
        _write(database)
        yield database


def _read(database: Database) -> None:
    assert RevisionStore(database).latest() == 1


def _write(database: Database) -> None:
    with database.writing() as connection:
        connection.execute(text("UPDATE revision SET maker_name = maker_name"))


def _load(database: Database) -> None:
    RevisionStore(database).load(1)


def _refused_within(limit_s: float, use: Callable[[], object]) -> None:
    started = monotonic()
    with pytest.raises(StorageUnavailableError):
        use()
    assert monotonic() - started < limit_s


def _works_again(database: Database) -> None:
    _read(database)
    _write(database)
    _load(database)


@pytest.mark.parametrize(("use", "limit_s"), [(_read, READ_S), (_write, WRITE_S)], ids=["read", "write"])
def test_a_use_of_a_silent_database_ends(
    behind: Database, proxy: Proxy, use: Callable[[Database], None], limit_s: float
) -> None:
    """In its own time, with the connection thrown away; with the network back all is well."""
    proxy.is_silent = True
    _refused_within(limit_s + LEEWAY_S, lambda: use(behind))
    proxy.is_silent = False
    _works_again(behind)


def test_one_connection_that_fell_silent_stops_nobody(behind: Database, proxy: Proxy) -> None:
    """The question to the pool's connection ends soon enough for another one to be made in its place."""
    proxy.silence_those_there_are()
    _read(behind)
    _write(behind)


def test_silence_in_the_midst_of_a_transaction_ends(behind: Database, proxy: Proxy) -> None:
    """Neither the statement nor the undoing waits for longer, and what was written is undone."""

    def use() -> None:
        with behind.writing() as connection:
            connection.execute(text("UPDATE revision SET maker_name = 'somebody else'"))
            proxy.is_silent = True
            connection.execute(text("SELECT 1"))

    _refused_within(1 + LEEWAY_S, use)
    proxy.reset()
    proxy.is_silent = False
    _works_again(behind)


def test_an_answer_that_stops_half_way_ends(behind: Database, proxy: Proxy) -> None:
    """The reading of a whole catalog has more time, but its connection may not be silent for so long."""
    proxy.answer_bytes = 3_000
    _refused_within(1 + LEEWAY_S, lambda: _load(behind))
    proxy.answer_bytes = None
    proxy.is_silent = False
    _works_again(behind)


def test_no_connection_comes_about_through_silence(direct_url: str, proxy: Proxy) -> None:
    """The first use of all is bounded as well."""
    proxy.is_silent = True
    address = make_url(direct_url).set(host="127.0.0.1", port=proxy.port)
    with closing(open_database(address.render_as_string(hide_password=False))) as database:
        _refused_within(READ_S + LEEWAY_S, lambda: _read(database))
        proxy.is_silent = False
        _works_again(database)


@pytest.mark.parametrize("break_off", [Proxy.reset, Proxy.refuse], ids=["reset", "refused"])
def test_a_connection_that_breaks_off_is_told(
    behind: Database, proxy: Proxy, break_off: Callable[[Proxy], None]
) -> None:
    """In the midst of a transaction; the next use finds a new connection as soon as there is one to be had."""

    def use() -> None:
        with behind.writing() as connection:
            break_off(proxy)
            connection.execute(text("SELECT 1"))

    _refused_within(LEEWAY_S, use)
    if break_off is Proxy.refuse:
        _refused_within(LEEWAY_S, lambda: _read(behind))
        proxy.accept_again()
    _works_again(behind)


def test_while_one_tries_a_silent_database_the_others_learn_at_once(behind: Database, proxy: Proxy) -> None:
    """Nobody waits behind those who wait."""
    proxy.is_silent = True
    behind._outage._is_silent = True
    tries = threading.Thread(target=_refused_within, args=(READ_S + LEEWAY_S, lambda: _read(behind)))
    tries.start()
    while not behind._outage._trying.locked():
        assert tries.is_alive()
    with pytest.raises(StorageSilentError, match="being tried"):
        _read(behind)
    assert tries.is_alive()
    tries.join()
    proxy.is_silent = False
    _works_again(behind)


def test_ready_says_what_a_question_finds(behind: Database, proxy: Proxy) -> None:
    """Both are refused in a few seconds while the database is silent, and taken as soon as it is not."""
    app = create_app(Library(RevisionStore(behind)))
    assert get(app, READY).status_code == 200
    assert get(app, "/v1/fuels").status_code == 200
    proxy.is_silent = True
    sleep(0.4)  # what a probe learned a moment ago is told again for so long
    for path, limit_s in ((READY, 2.0), ("/v1/fuels", READ_S)):
        started = monotonic()
        answer = get(app, path)
        assert monotonic() - started < limit_s + LEEWAY_S
        problem(answer, 503, "storage-unavailable")
        assert answer.headers["Retry-After"] == "5"
    assert get(app, "/v1/health/live").status_code == 200
    proxy.is_silent = False
    until = monotonic() + READ_S + LEEWAY_S
    while get(app, READY).status_code != 200:
        assert monotonic() < until
    assert get(app, "/v1/fuels").status_code == 200


def test_a_database_that_was_made_anew_is_told(tmp_path: Path) -> None:
    """Another database under the same name is not taken for the one that was there at the start."""
    with empty_database("postgresql", tmp_path) as url:
        name: LiteralString = "portwright_test_made_anew"
        server = make_url(url).difference_update_query(["options"])
        address = server.set(database=name).render_as_string(hide_password=False)

        def in_server(*statements: LiteralString) -> None:
            with psycopg.connect(server.render_as_string(hide_password=False), autocommit=True) as connection:
                for statement in statements:
                    connection.execute(statement)

        def renew() -> None:
            in_server(f"DROP DATABASE IF EXISTS {name} WITH (FORCE)", f"CREATE DATABASE {name}")

        renew()
        try:
            with closing(open_database(address)) as database:
                migrate(database)
                renew()
                for _ in range(2):
                    with pytest.raises(StorageUnavailableError):
                        RevisionStore(database).latest()
                with pytest.raises(StorageUnavailableError, match="restart the service"):
                    RevisionStore(database).latest()
        finally:
            in_server(f"DROP DATABASE IF EXISTS {name} WITH (FORCE)")
