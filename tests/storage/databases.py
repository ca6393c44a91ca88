"""Databases for tests: an SQLite file, or a schema of its own in the PostgreSQL that the environment names."""

import os
import uuid
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from typing import Any

import psycopg
from sqlalchemy import Connection, inspect, make_url

from service.storage.engine import open_database
from service.storage.errors import StorageError
from service.storage.migrate import migrate
from service.storage.tables import METADATA
from tests.support.required import require_or_skip
from tests.support.sqlite_files import with_tables

POSTGRES_URL = "PORTWRIGHT_TEST_POSTGRES_URL"


@contextmanager
def empty_database(kind: str, folder: Path) -> Iterator[str]:
    """Give the address of a database without tables (`kind`: sqlite or postgresql), gone afterwards."""
    if kind == "sqlite":
        yield f"sqlite:///{_new_file(folder)}"
        return
    url = _new_schema()
    try:
        yield url
    finally:
        _drop(url)


class Spares:
    """Schemas of PostgreSQL with today's tables and no row: to make the tables takes longer than most tests."""

    def __init__(self) -> None:
        self._urls: list[str] = []

    @contextmanager
    def database(self, kind: str, folder: Path) -> Iterator[str]:
        """Give the address of a database with today's tables and no row, for one test."""
        if kind == "sqlite":
            file = _new_file(folder)
            with_tables(file)
            yield f"sqlite:///{file}"
            return
        url = self._urls.pop() if self._urls else _with_tables(_new_schema())
        try:
            yield url
        finally:
            self._take_back(url)

    def drop(self) -> None:
        """Drop what is spare."""
        while self._urls:
            _drop(self._urls.pop())

    def _take_back(self, url: str) -> None:
        try:
            with closing(open_database(url)) as database:
                migrate(database)
                with database.changing_tables(wait_ms=5_000) as connection:
                    for table in reversed(METADATA.sorted_tables):
                        connection.execute(table.delete())
            self._urls.append(url)
        except StorageError:  # the test has changed the tables themselves
            _drop(url)


def _new_file(folder: Path) -> Path:
    return folder / f"{_new_name()}.db"


def _new_name() -> str:
    return f"portwright_test_{uuid.uuid4().hex}"


def _server() -> str:
    server = os.environ.get(POSTGRES_URL)
    if not server:
        require_or_skip("postgres", f"{POSTGRES_URL} is not set")
    return server


def _new_schema() -> str:
    server, name = _server(), _new_name()
    with psycopg.connect(server, autocommit=True) as connection:
        connection.execute(f"CREATE SCHEMA {name}".encode())
    url = make_url(server).update_query_dict({"options": f"-csearch_path={name}"})
    return url.render_as_string(hide_password=False)


def _with_tables(url: str) -> str:
    with closing(open_database(url)) as database:
        migrate(database)
    return url


def _drop(url: str) -> None:
    name = str(make_url(url).query["options"]).removeprefix("-csearch_path=")
    with psycopg.connect(_server(), autocommit=True) as connection:
        connection.execute("SET client_min_messages = warning")
        connection.execute(f"DROP SCHEMA {name} CASCADE".encode())


def described(connection: Connection) -> dict[str, Any]:
    """Return all that the database tells of its tables, in an order that does not matter."""
    inspector = inspect(connection)
    told: dict[str, Any] = {}
    for table in set(inspector.get_table_names()) - {"alembic_version"}:
        columns = [column | {"type": str(column["type"])} for column in inspector.get_columns(table)]
        parts = {
            "column": columns,
            "primary key": [inspector.get_pk_constraint(table)],
            "foreign key": [
                {name: value for name, value in key.items() if name != "referred_schema"}
                for key in inspector.get_foreign_keys(table)
            ],
            "unique": inspector.get_unique_constraints(table),
            "check": inspector.get_check_constraints(table),
            "index": inspector.get_indexes(table),
        }
        told[table] = {what: sorted(map(repr, found)) for what, found in parts.items()}
    return told
