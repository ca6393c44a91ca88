"""The table of keys: who may ask, by a digest of what they show."""

from datetime import datetime

from sqlalchemy import Index
from sqlmodel import Field

from service.storage.tables.base import Row, UtcDateTime


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
