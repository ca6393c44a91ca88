"""The tables of the catalog: revisions, drafts and what was done to them, sweeps, and standing questions."""

from datetime import datetime

from sqlalchemy import CheckConstraint, ForeignKeyConstraint, Index, PrimaryKeyConstraint, UniqueConstraint
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


class ImpactSweepRow(Row, table=True):
    """One sweep; `before` and `after` are the digests of its catalogs, the names those by which they were given.

    `worker` works at it until `lease_ends`, and may have it longer for the asking. `total`: how many bits there are, as
    far as that is known.
    """

    __tablename__ = "impact_sweep"
    __table_args__ = (
        CheckConstraint("status IN ('running', 'done', 'cancelled')", name="status"),
        Index(None, "created_at"),
        Index(None, "before", "after"),
    )

    id: str = Field(primary_key=True)
    before: str
    after: str
    before_name: str
    after_name: str
    created_at: datetime = Field(sa_type=UtcDateTime)
    status: str
    total: int | None
    worker: str
    lease_ends: datetime = Field(sa_type=UtcDateTime)


class ImpactPartRow(Row, table=True):
    """What was found of one question, or of one change undone, as JSON; `key` names it."""

    __tablename__ = "impact_part"
    __table_args__ = (
        PrimaryKeyConstraint("sweep", "key"),
        ForeignKeyConstraint(["sweep"], ["impact_sweep.id"], ondelete="CASCADE"),
    )

    sweep: str
    key: str
    found: str


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
