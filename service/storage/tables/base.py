"""What all tables share: one metadata with named constraints, times in UTC."""

from datetime import UTC, datetime

from sqlalchemy import DateTime, Dialect, MetaData
from sqlalchemy.types import TypeDecorator
from sqlmodel import SQLModel

NAMES = {
    "pk": "pk_%(table_name)s",
    "fk": "fk_%(table_name)s_%(column_0_N_name)s",
    "uq": "uq_%(table_name)s_%(column_0_N_name)s",
    "ix": "ix_%(table_name)s_%(column_0_N_name)s",
    "ck": "ck_%(table_name)s_%(constraint_name)s",
}
"""Every constraint has a name, so that a migration can drop it on any database."""

LAST_REVISION = 2**31 - 1


class Row(SQLModel):
    """The base of all rows. Rows are never made from unchecked input: table models do not validate."""

    metadata = MetaData(naming_convention=NAMES)


class UtcDateTime(TypeDecorator[datetime]):
    """A moment in UTC, on databases with and without time zones."""

    impl = DateTime(timezone=True)
    cache_ok = True

    def process_bind_param(self, value: datetime | None, dialect: Dialect) -> datetime | None:  # noqa: ARG002 base class
        """Turn a moment into UTC; one without a time zone is refused."""
        if value is None:
            return None
        if value.tzinfo is None:
            raise ValueError(f"{value} has no time zone")
        return value.astimezone(UTC)

    def process_result_value(self, value: datetime | None, dialect: Dialect) -> datetime | None:  # noqa: ARG002 base class
        """Read a moment back as UTC."""
        if value is None:
            return None
        return value.replace(tzinfo=UTC) if value.tzinfo is None else value.astimezone(UTC)
