"""The table of inquiries."""

import sqlalchemy as sa
from alembic import op

revision = "0005"
down_revision = "0004"


def upgrade() -> None:
    """Make the table."""
    op.create_table(
        "inquiry",
        sa.Column("id", sa.String(), nullable=False),
        sa.Column("revision", sa.Integer(), nullable=False),
        sa.Column("document", sa.String(), nullable=False),
        sa.Column("missing", sa.String(), nullable=False),
        sa.Column("contact", sa.String(), nullable=False),
        sa.Column("note", sa.String(), nullable=False),
        sa.Column("created_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("idempotency_key", sa.String(), nullable=True),
        sa.Column("body_digest", sa.String(), nullable=False),
        sa.PrimaryKeyConstraint("id"),
        sa.ForeignKeyConstraint(["revision"], ["revision.number"]),
        sa.UniqueConstraint("idempotency_key"),
    )
    op.create_index(None, "inquiry", ["created_at", "id"])
    op.create_index(None, "inquiry", ["missing"])
