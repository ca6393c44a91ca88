"""Bringing a database's tables to the version of this service, safely when several workers start at once."""

from pathlib import Path

from alembic import command
from alembic.config import Config
from alembic.runtime.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import Connection

from service.storage.engine import Database
from service.storage.errors import DatabaseVersionError

_SCRIPTS = Path(__file__).parent / "migrations"
_WAIT_MS = 60_000


def migrate(database: Database) -> None:
    """Bring the tables to the newest version; where they are, only look.

    Raises DatabaseVersionError where a newer service has changed them, and other StorageErrors.
    """
    newest = newest_version()
    if database_version(database) != newest:
        change_version(database, newest)


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
        config = _config()
        config.attributes["connection"] = connection
        move = command.upgrade if steps.index(version) >= steps.index(present) else command.downgrade
        move(config, version)


def _version(connection: Connection) -> str | None:
    return MigrationContext.configure(connection).get_current_revision()


def _config() -> Config:
    config = Config()
    config.set_main_option("script_location", str(_SCRIPTS).replace("%", "%%"))
    return config
