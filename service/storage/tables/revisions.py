"""The tables of revisions and of what stands in them."""

from datetime import datetime

from sqlalchemy import CheckConstraint, ForeignKeyConstraint, Index, PrimaryKeyConstraint
from sqlmodel import Field

from service.storage.tables.base import LAST_REVISION, Row, UtcDateTime


class RevisionRow(Row, table=True):
    """A published state of the whole catalog; `digest` proves that it is still the same, `counts` is JSON.

    `accept` is why it was published although answers are lost with it.
    """

    __tablename__ = "revision"
    __table_args__ = (CheckConstraint(f"number BETWEEN 1 AND {LAST_REVISION}", name="number"),)

    number: int = Field(primary_key=True, sa_column_kwargs={"autoincrement": False})
    created_at: datetime = Field(sa_type=UtcDateTime)
    digest: str
    maker_name: str
    counts: str
    author: str | None = None
    reason: str | None = None
    accept: str | None = None


class CatalogObjectRow(Row, table=True):
    """An object of the catalog as it stands in the revisions from `since` to before `until`; in all newer ones where
    that is null.

    `document` is its canonical JSON, `key` its id; a section's objects stand in the order of `position`.
    """

    __tablename__ = "catalog_object"
    __table_args__ = (
        PrimaryKeyConstraint("section", "key", "since"),
        ForeignKeyConstraint(["since"], ["revision.number"]),
        ForeignKeyConstraint(["until"], ["revision.number"]),
        CheckConstraint("until > since", name="until"),
        Index(None, "until"),
    )

    section: str
    key: str
    since: int
    until: int | None
    position: float
    document: str
