"""What a workshop asks for: several spare seals a joint, tool sizes, cautions and heating values of fuels.

A joint's one spare seal becomes the first of its list.
"""

import sqlalchemy as sa
from alembic import op

revision = "0010"
down_revision = "0009"
branch_labels = None
depends_on = None

_ITEM_COLUMNS = {"hex_mm": sa.Float, "drive": sa.String}


def upgrade() -> None:
    """Make the tables and columns; move the spare seals."""
    _create("joint_spare_seal", "joint", "sku", ("sku", "item", "sku"))
    _create("fuel_caution", "fuel", "text")
    op.execute(
        "INSERT INTO joint_spare_seal (revision, position, joint, sku) "
        "SELECT revision, 0, id, spare_seal FROM joint WHERE spare_seal IS NOT NULL"
    )
    with op.batch_alter_table("joint") as batch:
        batch.drop_constraint("fk_joint_revision_spare_seal", type_="foreignkey")
        batch.drop_column("spare_seal")
    for name, kind in _ITEM_COLUMNS.items():
        op.add_column("item", sa.Column(name, kind(), nullable=True))
    op.add_column("fuel", sa.Column("lhv_mj_kg", sa.Float(), nullable=True))
    op.add_column("port_gland", sa.Column("source", sa.String(), nullable=True))


def _create(table: str, owner: str, told: str, reference: tuple[str, str, str] | None = None) -> None:
    """Make the table of a list of texts or ids that an owner has."""
    constraints = [sa.ForeignKeyConstraint(["revision", owner], [f"{owner}.revision", f"{owner}.id"])]
    if reference is not None:
        column, other, key = reference
        constraints.append(sa.ForeignKeyConstraint(["revision", column], [f"{other}.revision", f"{other}.{key}"]))
    op.create_table(
        table,
        sa.Column("revision", sa.Integer(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column(owner, sa.String(), nullable=False),
        sa.Column(told, sa.String(), nullable=False),
        sa.PrimaryKeyConstraint("revision", owner, "position"),
        *constraints,
    )
