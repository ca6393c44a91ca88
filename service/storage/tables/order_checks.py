"""The table of order checks: what was asked and what was answered, word for word."""

from datetime import datetime

from sqlalchemy import ForeignKeyConstraint, Index, UniqueConstraint
from sqlmodel import Field

from service.storage.tables.base import Row, UtcDateTime


class OrderCheckRow(Row, table=True):
    """One checked order; `request` and `result` are JSON, `body_digest` tells one request from another."""

    __tablename__ = "order_check"
    __table_args__ = (
        ForeignKeyConstraint(["revision"], ["revision.number"]),
        UniqueConstraint("account", "idempotency_key"),
        Index(None, "created_at"),
    )

    id: str = Field(primary_key=True)
    revision: int
    request: str
    result: str
    created_at: datetime = Field(sa_type=UtcDateTime)
    idempotency_key: str | None
    body_digest: str
    account: str = ""
