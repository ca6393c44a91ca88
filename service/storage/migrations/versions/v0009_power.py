"""Regulators, a reserve of power, injectors without a most duty, bills ordered by power.

Constraints get their names from the naming convention of the metadata.
"""

from collections.abc import Iterable
from typing import Any

import sqlalchemy as sa
from alembic import op

revision = "0009"
down_revision = "0008"
branch_labels = None
depends_on = None

ORDERS = ("price", "pieces", "drop", "lead", "margin")
_FOLLOWS = ("manifold", "atmosphere")
_QUESTION = "contract_case_question"


def upgrade() -> None:
    """Add column and tables, widen what may be told."""
    op.add_column("revision", sa.Column("power_reserve", sa.Float(), nullable=True))
    with op.batch_alter_table("chassis_injectors") as batch:
        batch.alter_column("max_duty", existing_type=sa.Float(), nullable=True)
    _order_by((*ORDERS, "power"))
    _create("item_regulates", "item", "item", "sku", [*_real("min_kpa", "max_kpa"), *_text("follows")], "follows")
    places = _text("at", "follows", nullable=True)
    _create("chassis_regulator", "chassis", "chassis", "id", places, "follows", at=("tank", "rail"))
    case = ("contract_case", "contract_case", "id")
    told = [*_real("set_kpa", nullable=True), *_text("follows", nullable=True)]
    _create("contract_case_regulator", *case, told, "follows")
    injectors = [*_real("static_l_h", "rated_kpa"), *_real("max_duty", nullable=True)]
    _create("contract_case_injectors", *case, injectors)


def _order_by(orders: Iterable[str]) -> None:
    """Let the orders of a case be these."""
    with op.batch_alter_table(_QUESTION) as batch:
        batch.drop_constraint(op.f(f"ck_{_QUESTION}_order_by"), type_="check")
        batch.create_check_constraint("order_by", _listed("order_by", orders))


def _create(
    table: str,
    column: str,
    target: str,
    target_column: str,
    columns: Iterable[sa.Column[Any]],
    *follows: str,
    **enums: Iterable[str],
) -> None:
    """Make a table whose rows each tell of another table's row."""
    texts = {**dict.fromkeys(follows, _FOLLOWS), **enums}
    op.create_table(
        table,
        sa.Column("revision", sa.Integer(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        *_text(column),
        *columns,
        sa.PrimaryKeyConstraint("revision", column),
        sa.ForeignKeyConstraint(["revision", column], [f"{target}.revision", f"{target}.{target_column}"]),
        *(sa.CheckConstraint(_listed(name, values), name=name) for name, values in texts.items()),
    )


def _listed(column: str, values: Iterable[str]) -> str:
    return f'"{column}" IN ({", ".join(f"{chr(39)}{value}{chr(39)}" for value in values)})'


def _real(*names: str, nullable: bool = False) -> list[sa.Column[Any]]:
    return [sa.Column(name, sa.Float(), nullable=nullable) for name in names]


def _text(*names: str, nullable: bool = False) -> list[sa.Column[Any]]:
    return [sa.Column(name, sa.String(), nullable=nullable) for name in names]
