"""What all tables share: one metadata with named constraints, text with checks for enums, times in UTC."""

from collections.abc import Iterable
from datetime import UTC, datetime

from sqlalchemy import (
    CheckConstraint,
    DateTime,
    Dialect,
    ForeignKeyConstraint,
    MetaData,
    PrimaryKeyConstraint,
)
from sqlalchemy.types import TypeDecorator
from sqlmodel import SQLModel

from service.documents.fields import PLACES

NAMES = {
    "pk": "pk_%(table_name)s",
    "fk": "fk_%(table_name)s_%(column_0_N_name)s",
    "uq": "uq_%(table_name)s_%(column_0_N_name)s",
    "ix": "ix_%(table_name)s_%(column_0_N_name)s",
    "ck": "ck_%(table_name)s_%(constraint_name)s",
}
"""Every constraint has a name, so that a migration can drop it on any database."""

SPOTS = (*PLACES, *(f"{bank}.{place}" for bank in (1, 2) for place in PLACES))
FLOW_FIELDS = ("bore_mm", "length_mm", "loss_k", "roughness_mm")
LAST_REVISION = 2**31 - 1


class Row(SQLModel):
    """The base of all rows. Rows are never made from unchecked input: table models do not validate."""

    metadata = MetaData(naming_convention=NAMES)


class CatalogRow(Row):
    """A row of one revision's catalog; `position` is its place in the list or object that it came from."""

    revision: int
    position: int


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


def key(*columns: str) -> PrimaryKeyConstraint:
    """Return the primary key, the revision first."""
    return PrimaryKeyConstraint("revision", *columns)


def refers(columns: str, table: str, targets: str, *, later: bool = False) -> ForeignKeyConstraint:
    """Return a reference within the revision; `later` has it checked at the commit instead of row by row."""
    return ForeignKeyConstraint(
        ["revision", *columns.split()],
        [f"{table}.{target}" for target in ("revision", *targets.split())],
        deferrable=later or None,
        initially="DEFERRED" if later else None,
    )


def of_revision() -> ForeignKeyConstraint:
    """Return the reference of a section's table to its revision."""
    return ForeignKeyConstraint(["revision"], ["revision.number"])


def one_of(column: str, values: Iterable[str]) -> CheckConstraint:
    """Return a check that the text is one of these (or missing, where the column may be)."""
    listed = ", ".join(f"'{value}'" for value in values)
    return CheckConstraint(f'"{column}" IN ({listed})', name=column)


def at_least(column: str, least: int) -> CheckConstraint:
    """Return a check that the number is not below `least`."""
    return CheckConstraint(f"{column} >= {least}", name=column)


def whole_flow(prefix: str) -> CheckConstraint:
    """Return a check that the columns of a flow are all there or all missing."""
    first, *others = (f"{prefix}_{field}" for field in FLOW_FIELDS)
    return CheckConstraint(
        " AND ".join(f"({first} IS NULL) = ({other} IS NULL)" for other in others), name=f"{prefix}_whole"
    )
