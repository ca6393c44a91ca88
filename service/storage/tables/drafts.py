"""The tables of drafts: edits that stand beside the revision that they start from, and the trail of who did what."""

from datetime import datetime

from sqlalchemy import CheckConstraint, ForeignKeyConstraint, Index, PrimaryKeyConstraint, UniqueConstraint
from sqlmodel import Field

from service.storage.tables.base import Row, UtcDateTime


class DraftRow(Row, table=True):
    """A named working copy of the revision `base`; `published` is the revision that it became.

    `version` counts what was done to it.
    """

    __tablename__ = "draft"
    __table_args__ = (
        UniqueConstraint("id"),
        ForeignKeyConstraint(["base"], ["revision.number"]),
        ForeignKeyConstraint(["published"], ["revision.number"]),
        CheckConstraint("version >= 0", name="version"),
    )

    number: int = Field(primary_key=True)
    id: str
    name: str
    author: str | None
    base: int
    version: int
    created_at: datetime = Field(sa_type=UtcDateTime)
    changed_at: datetime = Field(sa_type=UtcDateTime)
    published: int | None
    account: str = ""


class DraftObjectRow(Row, table=True):
    """An object that a draft has otherwise than its base; `document` is its canonical JSON, null where it is removed.

    `version` is the draft's own when this was written.
    """

    __tablename__ = "draft_object"
    __table_args__ = (
        PrimaryKeyConstraint("draft", "section", "key"),
        ForeignKeyConstraint(["draft"], ["draft.number"], ondelete="CASCADE"),
        CheckConstraint("what IN ('added', 'changed', 'removed')", name="what"),
    )

    draft: int
    section: str
    key: str
    what: str
    document: str | None
    version: int
    author: str | None
    changed_at: datetime = Field(sa_type=UtcDateTime)


class TrailRow(Row, table=True):
    """Something that was done to a draft or made a revision; rows are only ever added, and outlive their draft.

    `fields` are those of the object that were changed, as a JSON list.
    """

    __tablename__ = "catalog_trail"
    __table_args__ = (Index(None, "draft", "number"),)

    number: int = Field(primary_key=True)
    done_at: datetime = Field(sa_type=UtcDateTime)
    author: str | None
    what: str
    reason: str | None
    draft: str | None
    version: int | None
    section: str | None
    key: str | None
    fields: str | None
    document: str | None
    revision: int | None
