"""The tables of what accounts keep: orders in every state, inquiries, links, keys, and where news goes."""

from datetime import datetime

from sqlalchemy import CheckConstraint, ForeignKeyConstraint, Index, PrimaryKeyConstraint, UniqueConstraint
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


class OrderBatchRow(Row, table=True):
    """One file; `worker` judges its orders until `lease_ends`, and may have it longer for the asking."""

    __tablename__ = "order_batch"
    __table_args__ = (ForeignKeyConstraint(["revision"], ["revision.number"]), Index(None, "created_at"))

    id: str = Field(primary_key=True)
    revision: int
    created_at: datetime = Field(sa_type=UtcDateTime)
    worker: str
    lease_ends: datetime = Field(sa_type=UtcDateTime)
    account: str = ""


class BatchOrderRow(Row, table=True):
    """One order of a file at its place in it; `sheet_order` and `outcome` are JSON, no outcome: not judged yet."""

    __tablename__ = "batch_order"
    __table_args__ = (
        PrimaryKeyConstraint("batch", "position"),
        ForeignKeyConstraint(["batch"], ["order_batch.id"], ondelete="CASCADE"),
        Index(None, "batch", "verdict"),
    )

    batch: str
    position: int
    sheet_order: str
    verdict: str | None
    outcome: str | None


class OrderReadingRow(Row, table=True):
    """An order that was read; `document` has its lines and wishes, and the text only where that was asked."""

    __tablename__ = "order_reading"

    id: str = Field(primary_key=True)
    created_at: datetime = Field(sa_type=UtcDateTime, index=True)
    document: str
    account: str = ""


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


class ShortLinkRow(Row, table=True):
    """One short link. Keys are told apart by `key_digest`: they are too long for an index."""

    __tablename__ = "short_link"
    __table_args__ = (UniqueConstraint("key_digest"), Index(None, "created_at"))

    code: str = Field(primary_key=True)
    key: str
    key_digest: str
    created_at: datetime = Field(sa_type=UtcDateTime)


class AccessKeyRow(Row, table=True):
    """One key; `salt` and `digest` are all that is kept of its secret."""

    __tablename__ = "access_key"
    __table_args__ = (Index(None, "created_at"),)

    id: str = Field(primary_key=True)
    account: str
    role: str
    salt: bytes
    digest: bytes
    created_at: datetime = Field(sa_type=UtcDateTime)
    expires_at: datetime | None = Field(sa_type=UtcDateTime, nullable=True)
    revoked_at: datetime | None = Field(sa_type=UtcDateTime, nullable=True)
    used_at: datetime | None = Field(sa_type=UtcDateTime, nullable=True)


class SignInRow(Row, table=True):
    """One entry of the record of sign-ins: when, with which key, and whether it was taken."""

    __tablename__ = "sign_in"
    __table_args__ = (Index(None, "at"),)

    number: int | None = Field(default=None, primary_key=True)
    at: datetime = Field(sa_type=UtcDateTime)
    key: str
    account: str
    what: str


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
