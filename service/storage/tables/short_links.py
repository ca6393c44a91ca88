"""The table of short links: a short code for the long key of a bill."""

from datetime import datetime

from sqlalchemy import Index, UniqueConstraint
from sqlmodel import Field

from service.storage.tables.base import Row, UtcDateTime


class ShortLinkRow(Row, table=True):
    """One short link. Keys are told apart by `key_digest`: they are too long for an index."""

    __tablename__ = "short_link"
    __table_args__ = (UniqueConstraint("key_digest"), Index(None, "created_at"))

    code: str = Field(primary_key=True)
    key: str
    key_digest: str
    created_at: datetime = Field(sa_type=UtcDateTime)
