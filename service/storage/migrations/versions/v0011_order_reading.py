"""The tables of aliases and of orders that were read."""

import sqlalchemy as sa
from alembic import op

revision = "0011"
down_revision = "0010"
branch_labels = None
depends_on = None

_OWNERS = {"item": "sku", "chassis": "id", "addon": "id", "layout": "id", "fuel": "id", "material": "id"}


def upgrade() -> None:
    """Make the tables."""
    for owner, id_ in _OWNERS.items():
        op.create_table(
            f"{owner}_alias",
            sa.Column("revision", sa.Integer(), nullable=False),
            sa.Column("position", sa.Integer(), nullable=False),
            sa.Column(owner, sa.String(), nullable=False),
            sa.Column("text", sa.String(), nullable=False),
            sa.PrimaryKeyConstraint("revision", owner, "position"),
            sa.ForeignKeyConstraint(["revision", owner], [f"{owner}.revision", f"{owner}.{id_}"]),
        )
    op.create_table(
        "order_reading",
        sa.Column("id", sa.String(), nullable=False),
        sa.Column("created_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("document", sa.String(), nullable=False),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_index(None, "order_reading", ["created_at"])
