"""What a workshop asks for: several spare seals a joint, of which its one becomes the first; and more that no older
catalog tells."""

import sqlalchemy as sa
from alembic import op

revision = "0010"
down_revision = "0009"


def upgrade() -> None:
    """Move the spare seals into a table of their own."""
    op.create_table(
        "joint_spare_seal",
        *(sa.Column(name, sa.Integer(), nullable=False) for name in ("revision", "position")),
        *(sa.Column(name, sa.String(), nullable=False) for name in ("joint", "sku")),
    )
    op.execute(
        "INSERT INTO joint_spare_seal (revision, position, joint, sku) "
        "SELECT revision, 0, id, spare_seal FROM joint WHERE spare_seal IS NOT NULL"
    )
