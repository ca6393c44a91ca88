"""Bringing a database's tables to the version of this service, safely when several workers start at once."""

import secrets
from pathlib import Path

from sqlalchemy import Connection, inspect, text

from service.storage.engine import Database
from service.storage.errors import DatabaseVersionError
from service.storage.schema import faults
from service.storage.tables import METADATA

NEWEST = "0016"
"""The version of the tables that this service works with: the last of the migrations."""
_SCRIPTS = Path(__file__).parent / "migrations"
_WAIT_MS = 60_000
_MOST_TOLD = 5
_REMEDY = (
    "they were changed by hand, or made by a version between releases: nothing was changed in it; export the catalog "
    "with the version that made it, move the database away and import the catalog again, or restore a copy"
)


def migrate(database: Database) -> None:
    """Bring the tables to the newest version; where they are, only look.

    Raises DatabaseVersionError where a newer service has changed them, or where they are not what their version
    says, and other StorageErrors.
    """
    if database_version(database) != NEWEST:
        _upgrade(database)
    else:
        with database.reading() as connection:
            _check(database, connection)
    database.empty_log(wait_s=0)


def database_version(database: Database) -> str | None:
    """Return the version of the tables in the database, None where there are none."""
    with database.reading() as connection:
        return _version(connection)


def _upgrade(database: Database) -> None:
    """Take the tables up to the newest version in one transaction; an older version cannot read them afterwards.

    Alembic is loaded here alone: most starts only look.
    """
    from alembic import command
    from alembic.config import Config
    from alembic.script import ScriptDirectory

    from service.storage.migrations.normalised import LackingError

    config = Config()
    config.set_main_option("script_location", str(_SCRIPTS).replace("%", "%%"))
    known = [script.revision for script in ScriptDirectory.from_config(config).walk_revisions()]
    with database.changing_tables(_WAIT_MS) as connection:
        present = _version(connection)
        if present not in (None, *known):
            listed = ", ".join(reversed(known))
            raise DatabaseVersionError(database.name, f"version {present!r} is not among {listed}")
        foreign = sorted(set(inspect(connection).get_table_names()) - {"alembic_version"})
        if database.is_sqlite and present is None and foreign:
            raise DatabaseVersionError(database.name, f"it holds other tables already: {_few(foreign)}")
        config.attributes["connection"] = connection
        if present is None:
            METADATA.create_all(connection, checkfirst=False)
            if database.is_sqlite:  # tells this file from any other: see `sqlite_file`
                connection.exec_driver_sql(f"PRAGMA user_version={1 + secrets.randbelow(2**31 - 1)}")
            command.stamp(config, "head")
        else:
            try:
                command.upgrade(config, "head")
            except LackingError as error:
                raise DatabaseVersionError(database.name, f"{error}; {_REMEDY}") from error
        _check(database, connection)


def _check(database: Database, connection: Connection) -> None:
    if found := faults(connection, METADATA):
        raise DatabaseVersionError(database.name, f"{_few(found)}; {_REMEDY}")


def _few(told: list[str]) -> str:
    more = f" and {len(told) - _MOST_TOLD} more" if len(told) > _MOST_TOLD else ""
    return ", ".join(told[:_MOST_TOLD]) + more


def _version(connection: Connection) -> str | None:
    if not inspect(connection).has_table("alembic_version"):
        return None
    version: str | None = connection.execute(text("SELECT version_num FROM alembic_version")).scalar_one_or_none()
    return version
