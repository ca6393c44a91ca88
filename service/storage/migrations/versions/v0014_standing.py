"""Inquiries that are answered; partners' cases; the questions that were asked; sweeps of all standing questions."""

import sqlalchemy as sa
from alembic import op

revision = "0014"
down_revision = "0013"


def upgrade() -> None:
    """Make the columns and the tables; every inquiry that is there is open."""
    op.add_column("inquiry", sa.Column("status", sa.String(), nullable=True))
    op.add_column("inquiry", sa.Column("reply", sa.String(), nullable=True))
    op.add_column("inquiry", sa.Column("answered_at", sa.DateTime(timezone=True), nullable=True))
    inquiries = sa.table("inquiry", sa.column("status", sa.String()))
    op.execute(inquiries.update().values(status="open"))
    with op.batch_alter_table("inquiry") as batch:
        batch.alter_column("status", existing_type=sa.String(), nullable=False)
        batch.create_check_constraint("status", "status IN ('open', 'answered', 'closed')")
    op.create_table(
        "partner_case",
        sa.Column("account", sa.String(), nullable=False),
        sa.Column("id", sa.String(), nullable=False),
        sa.Column("document", sa.String(), nullable=False),
        sa.Column("body", sa.String(), nullable=True),
        sa.Column("created_at", sa.DateTime(timezone=True), nullable=False),
        sa.PrimaryKeyConstraint("account", "id"),
    )
    op.create_table(
        "asked_question",
        sa.Column("digest", sa.String(), nullable=False),
        sa.Column("request", sa.String(), nullable=False),
        sa.Column("times", sa.Integer(), nullable=False),
        sa.Column("asked_at", sa.DateTime(timezone=True), nullable=False),
        sa.PrimaryKeyConstraint("digest"),
        sa.CheckConstraint("times > 0", name="times"),
    )
    op.create_index(None, "asked_question", ["asked_at", "digest"])
    op.create_table(
        "impact_sweep",
        sa.Column("id", sa.String(), nullable=False),
        sa.Column("before", sa.String(), nullable=False),
        sa.Column("after", sa.String(), nullable=False),
        sa.Column("before_name", sa.String(), nullable=False),
        sa.Column("after_name", sa.String(), nullable=False),
        sa.Column("created_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("status", sa.String(), nullable=False),
        sa.Column("total", sa.Integer(), nullable=True),
        sa.Column("worker", sa.String(), nullable=False),
        sa.Column("lease_ends", sa.DateTime(timezone=True), nullable=False),
        sa.PrimaryKeyConstraint("id"),
        sa.CheckConstraint("status IN ('running', 'done', 'cancelled')", name="status"),
    )
    op.create_index(None, "impact_sweep", ["created_at"])
    op.create_index(None, "impact_sweep", ["before", "after"])
    op.create_table(
        "impact_part",
        sa.Column("sweep", sa.String(), nullable=False),
        sa.Column("key", sa.String(), nullable=False),
        sa.Column("found", sa.String(), nullable=False),
        sa.PrimaryKeyConstraint("sweep", "key"),
        sa.ForeignKeyConstraint(["sweep"], ["impact_sweep.id"], ondelete="CASCADE"),
    )
