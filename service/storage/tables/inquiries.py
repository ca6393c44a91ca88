"""The table of inquiries: questions sent to the workshop, with the contact lines of those who asked."""

from datetime import datetime

from sqlalchemy import CheckConstraint, ForeignKeyConstraint, Index, UniqueConstraint
from sqlmodel import Field

from service.storage.tables.base import Row, UtcDateTime


class InquiryRow(Row, table=True):
    """One inquiry; `document` is JSON and has nothing personal, `missing` is what inquiries are grouped by.

    `reply` is what the workshop answered, at `answered_at`.
    """

    __tablename__ = "inquiry"
    __table_args__ = (
        ForeignKeyConstraint(["revision"], ["revision.number"]),
        UniqueConstraint("account", "idempotency_key"),
        CheckConstraint("status IN ('open', 'answered', 'closed')", name="status"),
        Index(None, "created_at", "id"),
        Index(None, "missing"),
    )

    id: str = Field(primary_key=True)
    revision: int
    document: str
    missing: str
    contact: str
    note: str
    created_at: datetime = Field(sa_type=UtcDateTime)
    idempotency_key: str | None
    body_digest: str
    account: str = ""
    status: str
    reply: str | None
    answered_at: datetime | None = Field(sa_type=UtcDateTime, nullable=True)
