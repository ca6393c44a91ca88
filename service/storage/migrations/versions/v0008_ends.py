"""Ends for all that is kept: order checks and short links are found by age."""

import secrets
from datetime import UTC, datetime

import sqlalchemy as sa
from alembic import op

revision = "0008"
down_revision = "0007"


def upgrade() -> None:
    """Make the indexes and the column."""
    connection = op.get_bind()
    op.create_index(None, "order_check", ["created_at"])
    op.add_column("short_link", sa.Column("created_at", sa.DateTime(timezone=True), nullable=True))
    links = sa.table("short_link", sa.column("created_at", sa.DateTime(timezone=True)))
    op.execute(links.update().values(created_at=datetime.now(UTC)))
    with op.batch_alter_table("short_link") as batch:
        batch.alter_column("created_at", existing_type=sa.DateTime(timezone=True), nullable=False)
    op.create_index(None, "short_link", ["created_at"])
    if connection.dialect.name == "sqlite":
        _name(connection)


def _name(connection: sa.Connection) -> None:
    """Give an SQLite file a number by which it is told from others; it stands in the header of the file."""
    if connection.exec_driver_sql("PRAGMA user_version").scalar_one() == 0:
        connection.exec_driver_sql(f"PRAGMA user_version={1 + secrets.randbelow(2**31 - 1)}")
