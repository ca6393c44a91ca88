"""The table of short links: a short code for the long key of a bill."""

from sqlalchemy import UniqueConstraint
from sqlmodel import Field

from service.storage.tables.base import Row


class ShortLinkRow(Row, table=True):
    """One short link. Keys are told apart by `key_digest`: they are too long for an index."""

    __tablename__ = "short_link"
    __table_args__ = (UniqueConstraint("key_digest"),)

    code: str = Field(primary_key=True)
    key: str
    key_digest: str
