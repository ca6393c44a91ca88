"""Endpoints of accounts for news, and the outbox of what waits to be sent there."""

import sqlalchemy as sa
from alembic import op

revision = "0016"
down_revision = "0015"


def upgrade() -> None:
    """Make the tables."""
    op.create_table(
        "webhook",
        *(sa.Column(name, sa.String(), nullable=False) for name in ("id", "account", "url", "events", "secret")),
        sa.Column("created_at", sa.DateTime(timezone=True), nullable=False),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_index(None, "webhook", ["account"])
    op.create_table(
        "webhook_message",
        sa.Column("number", sa.Integer(), nullable=False),
        *(sa.Column(name, sa.String(), nullable=False) for name in ("id", "webhook", "event", "payload")),
        sa.Column("created_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("due_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("tries", sa.Integer(), nullable=False),
        sa.Column("outcome", sa.String(), nullable=False),
        sa.PrimaryKeyConstraint("number"),
        sa.ForeignKeyConstraint(["webhook"], ["webhook.id"]),
    )
    for column in ("webhook", "due_at", "created_at"):
        op.create_index(None, "webhook_message", [column])
