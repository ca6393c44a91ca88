"""The tables of standing questions that are kept beside the catalogs: partners' cases, and what was really asked."""

from datetime import datetime

from sqlalchemy import CheckConstraint, Index, PrimaryKeyConstraint
from sqlmodel import Field

from service.storage.tables.base import Row, UtcDateTime


class PartnerCaseRow(Row, table=True):
    """A case of a partner; `document` is its JSON, `body` that of the very bill that its key promises."""

    __tablename__ = "partner_case"
    __table_args__ = (PrimaryKeyConstraint("account", "id"),)

    account: str
    id: str
    document: str
    body: str | None
    created_at: datetime = Field(sa_type=UtcDateTime)


class AskedQuestionRow(Row, table=True):
    """A question that was asked so many times: its canonical request, known by the digest of that."""

    __tablename__ = "asked_question"
    __table_args__ = (CheckConstraint("times > 0", name="times"), Index(None, "asked_at", "digest"))

    digest: str = Field(primary_key=True)
    request: str
    times: int
    asked_at: datetime = Field(sa_type=UtcDateTime)
