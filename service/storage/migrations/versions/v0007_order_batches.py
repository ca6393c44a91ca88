"""The tables of order batches."""

import sqlalchemy as sa
from alembic import op

revision = "0007"
down_revision = "0006"


def upgrade() -> None:
    """Make the tables."""
    op.create_table(
        "order_batch",
        sa.Column("id", sa.String(), nullable=False),
        sa.Column("revision", sa.Integer(), nullable=False),
        sa.Column("created_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("worker", sa.String(), nullable=False),
        sa.Column("lease_ends", sa.DateTime(timezone=True), nullable=False),
        sa.PrimaryKeyConstraint("id"),
        sa.ForeignKeyConstraint(["revision"], ["revision.number"]),
    )
    op.create_index(None, "order_batch", ["created_at"])
    op.create_table(
        "batch_order",
        sa.Column("batch", sa.String(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("sheet_order", sa.String(), nullable=False),
        sa.Column("verdict", sa.String(), nullable=True),
        sa.Column("outcome", sa.String(), nullable=True),
        sa.PrimaryKeyConstraint("batch", "position"),
        sa.ForeignKeyConstraint(["batch"], ["order_batch.id"], ondelete="CASCADE"),
    )
    op.create_index(None, "batch_order", ["batch", "verdict"])
