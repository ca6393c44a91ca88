"""Keys, the record of sign-ins, and whose each kept thing is; what was kept before belongs to no account."""

import sqlalchemy as sa
from alembic import op

revision = "0015"
down_revision = "0014"

_ONCE = ("order_check", "inquiry")
_KEPT = (*_ONCE, "order_batch", "order_reading", "draft")


def upgrade() -> None:
    """Make the tables and the columns; an idempotency key is its account's own."""
    op.create_table(
        "access_key",
        sa.Column("id", sa.String(), nullable=False),
        sa.Column("account", sa.String(), nullable=False),
        sa.Column("role", sa.String(), nullable=False),
        sa.Column("salt", sa.LargeBinary(), nullable=False),
        sa.Column("digest", sa.LargeBinary(), nullable=False),
        sa.Column("created_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("expires_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("revoked_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("used_at", sa.DateTime(timezone=True), nullable=True),
        sa.PrimaryKeyConstraint("id"),
    )
    op.create_index(None, "access_key", ["created_at"])
    op.create_table(
        "sign_in",
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("key", sa.String(), nullable=False),
        sa.Column("account", sa.String(), nullable=False),
        sa.Column("what", sa.String(), nullable=False),
        sa.PrimaryKeyConstraint("number"),
    )
    op.create_index(None, "sign_in", ["at"])
    for table in _KEPT:
        op.add_column(table, sa.Column("account", sa.String(), nullable=False, server_default=""))
        with op.batch_alter_table(table) as batch:
            batch.alter_column("account", existing_type=sa.String(), server_default=None)
            if table in _ONCE:
                batch.drop_constraint(f"uq_{table}_idempotency_key", type_="unique")
                batch.create_unique_constraint(f"uq_{table}_account_idempotency_key", ["account", "idempotency_key"])
