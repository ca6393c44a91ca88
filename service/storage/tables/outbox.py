"""The tables of news: where it is sent to, and what waits to be sent."""

from datetime import datetime

from sqlalchemy import ForeignKeyConstraint, Index
from sqlmodel import Field

from service.storage.tables.base import Row, UtcDateTime


class WebhookRow(Row, table=True):
    """One endpoint of an account; `events` are split by spaces, behind `paused` where nothing is sent. `secret` signs
    what is sent there; behind a space stands the one before it, @ and the second at which that ends."""

    __tablename__ = "webhook"
    __table_args__ = (Index(None, "account"),)

    id: str = Field(primary_key=True)
    account: str
    url: str
    events: str
    secret: str
    created_at: datetime = Field(sa_type=UtcDateTime)


class WebhookMessageRow(Row, table=True):
    """One message for one endpoint; `due_at` is when it is tried next, None where it is done with."""

    __tablename__ = "webhook_message"
    __table_args__ = (
        ForeignKeyConstraint(["webhook"], ["webhook.id"]),
        Index(None, "webhook"),
        Index(None, "due_at"),
        Index(None, "created_at"),
    )

    number: int | None = Field(default=None, primary_key=True)
    id: str
    webhook: str
    event: str
    payload: str
    created_at: datetime = Field(sa_type=UtcDateTime)
    due_at: datetime | None = Field(sa_type=UtcDateTime, nullable=True)
    tries: int
    outcome: str
