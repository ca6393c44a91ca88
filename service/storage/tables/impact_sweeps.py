"""The tables of sweeps: every standing question asked of two catalogs, kept bit by bit so that a sweep can go on."""

from datetime import datetime

from sqlalchemy import CheckConstraint, ForeignKeyConstraint, Index, PrimaryKeyConstraint
from sqlmodel import Field

from service.storage.tables.base import Row, UtcDateTime


class ImpactSweepRow(Row, table=True):
    """One sweep; `before` and `after` are the digests of its catalogs, the names those by which they were given.

    `worker` works at it until `lease_ends`, and may have it longer for the asking. `total`: how many bits there are, as
    far as that is known.
    """

    __tablename__ = "impact_sweep"
    __table_args__ = (
        CheckConstraint("status IN ('running', 'done', 'cancelled')", name="status"),
        Index(None, "created_at"),
        Index(None, "before", "after"),
    )

    id: str = Field(primary_key=True)
    before: str
    after: str
    before_name: str
    after_name: str
    created_at: datetime = Field(sa_type=UtcDateTime)
    status: str
    total: int | None
    worker: str
    lease_ends: datetime = Field(sa_type=UtcDateTime)


class ImpactPartRow(Row, table=True):
    """What was found of one question, or of one change undone, as JSON; `key` names it."""

    __tablename__ = "impact_part"
    __table_args__ = (
        PrimaryKeyConstraint("sweep", "key"),
        ForeignKeyConstraint(["sweep"], ["impact_sweep.id"], ondelete="CASCADE"),
    )

    sweep: str
    key: str
    found: str
