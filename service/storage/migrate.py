"""Bringing a database's tables to the version of this service, safely when several workers start at once."""

from pathlib import Path

from alembic import command
from alembic.config import Config
from alembic.runtime.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import Connection, inspect

from service.storage.engine import Database
from service.storage.errors import DatabaseVersionError
from service.storage.schema import faults
from service.storage.tables import METADATA

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
    newest = newest_version()
    if database_version(database) != newest:
        change_version(database, newest)
    else:
        with database.reading() as connection:
            _check(database, connection)
    database.empty_log(wait_s=0)


def newest_version() -> str:
    """Return the version of the tables that this service works with."""
    head = ScriptDirectory.from_config(_config()).get_current_head()
    assert head is not None, "the migrations are part of the package"  # noqa: S101 states it for the type checker
    return head


def database_version(database: Database) -> str | None:
    """Return the version of the tables in the database, None where there are none."""
    with database.reading() as connection:
        return _version(connection)


def change_version(database: Database, version: str) -> None:
    """Take the tables to a version (`base`: none at all), up or down, in one transaction.

    Raises DatabaseVersionError where the database has a version that this service does not know.
    """
    known = [script.revision for script in ScriptDirectory.from_config(_config()).walk_revisions()]
    steps = ["base", *reversed(known)]
    with database.changing_tables(_WAIT_MS) as connection:
        present = _version(connection) or "base"
        if present not in steps:
            raise DatabaseVersionError(database.name, f"version {present!r} is not among {', '.join(steps[1:])}")
        foreign = sorted(set(inspect(connection).get_table_names()) - {"alembic_version"})
        if database.is_sqlite and present == "base" and foreign:
            raise DatabaseVersionError(database.name, f"it holds other tables already: {_few(foreign)}")
        config = _config()
        config.attributes["connection"] = connection
        move = command.upgrade if steps.index(version) >= steps.index(present) else command.downgrade
        move(config, version)
        if version == steps[-1]:
            _check(database, connection)


def _check(database: Database, connection: Connection) -> None:
    if found := faults(connection, METADATA):
        raise DatabaseVersionError(database.name, f"{_few(found)}; {_REMEDY}")


def _few(told: list[str]) -> str:
    more = f" and {len(told) - _MOST_TOLD} more" if len(told) > _MOST_TOLD else ""
    return ", ".join(told[:_MOST_TOLD]) + more


def _version(connection: Connection) -> str | None:
    return MigrationContext.configure(connection).get_current_revision()


def _config() -> Config:
    config = Config()
    config.set_main_option("script_location", str(_SCRIPTS).replace("%", "%%"))
    return config
