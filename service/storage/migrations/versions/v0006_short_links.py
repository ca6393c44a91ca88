"""The table of short links."""

import sqlalchemy as sa
from alembic import op

revision = "0006"
down_revision = "0005"


def upgrade() -> None:
    """Make the table."""
    op.create_table(
        "short_link",
        sa.Column("code", sa.String(), nullable=False),
        sa.Column("key", sa.String(), nullable=False),
        sa.Column("key_digest", sa.String(), nullable=False),
        sa.PrimaryKeyConstraint("code"),
        sa.UniqueConstraint("key_digest"),
    )
