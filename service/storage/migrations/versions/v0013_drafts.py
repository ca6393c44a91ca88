"""The tables of drafts with their trail; who published a revision, and why."""

import sqlalchemy as sa
from alembic import op

revision = "0013"
down_revision = "0012"


def upgrade() -> None:
    """Make the tables and the columns."""
    for name in ("author", "reason", "accept"):
        op.add_column("revision", sa.Column(name, sa.String(), nullable=True))
    op.create_table(
        "draft",
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("id", sa.String(), nullable=False),
        sa.Column("name", sa.String(), nullable=False),
        sa.Column("author", sa.String(), nullable=True),
        sa.Column("base", sa.Integer(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("created_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("changed_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("published", sa.Integer(), nullable=True),
        sa.PrimaryKeyConstraint("number"),
        sa.UniqueConstraint("id"),
        sa.ForeignKeyConstraint(["base"], ["revision.number"]),
        sa.ForeignKeyConstraint(["published"], ["revision.number"]),
        sa.CheckConstraint("version >= 0", name="version"),
    )
    op.create_table(
        "draft_object",
        sa.Column("draft", sa.Integer(), nullable=False),
        sa.Column("section", sa.String(), nullable=False),
        sa.Column("key", sa.String(), nullable=False),
        sa.Column("what", sa.String(), nullable=False),
        sa.Column("document", sa.String(), nullable=True),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("author", sa.String(), nullable=True),
        sa.Column("changed_at", sa.DateTime(timezone=True), nullable=False),
        sa.PrimaryKeyConstraint("draft", "section", "key"),
        sa.ForeignKeyConstraint(["draft"], ["draft.number"], ondelete="CASCADE"),
        sa.CheckConstraint("what IN ('added', 'changed', 'removed')", name="what"),
    )
    op.create_table(
        "catalog_trail",
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("done_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("author", sa.String(), nullable=True),
        sa.Column("what", sa.String(), nullable=False),
        sa.Column("reason", sa.String(), nullable=True),
        sa.Column("draft", sa.String(), nullable=True),
        sa.Column("version", sa.Integer(), nullable=True),
        sa.Column("section", sa.String(), nullable=True),
        sa.Column("key", sa.String(), nullable=True),
        sa.Column("fields", sa.String(), nullable=True),
        sa.Column("document", sa.String(), nullable=True),
        sa.Column("revision", sa.Integer(), nullable=True),
        sa.PrimaryKeyConstraint("number"),
    )
    op.create_index(None, "catalog_trail", ["draft", "number"])
