"""Databases for tests: an SQLite file, or a schema of its own in the PostgreSQL that the environment names."""

import os
import uuid
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import psycopg
from sqlalchemy import Connection, inspect, make_url

from tests.support.required import require_or_skip

POSTGRES_URL = "PORTWRIGHT_TEST_POSTGRES_URL"


@contextmanager
def empty_database(kind: str, folder: Path) -> Iterator[str]:
    """Give the address of a database without tables (`kind`: sqlite or postgresql), gone afterwards."""
    name = f"portwright_test_{uuid.uuid4().hex}"
    if kind == "sqlite":
        yield f"sqlite:///{folder / name}.db"
        return
    server = os.environ.get(POSTGRES_URL)
    if not server:
        require_or_skip("postgres", f"{POSTGRES_URL} is not set")
    with psycopg.connect(server, autocommit=True) as connection:
        connection.execute(f"CREATE SCHEMA {name}")
        try:
            url = make_url(server).update_query_dict({"options": f"-csearch_path={name}"})
            yield url.render_as_string(hide_password=False)
        finally:
            connection.execute("SET client_min_messages = warning")
            connection.execute(f"DROP SCHEMA {name} CASCADE")


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
