"""Standing cases of a catalog: what each asks and promises. Constraints get their names from the naming convention."""

from collections.abc import Iterable
from typing import Any

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"
branch_labels = None
depends_on = None

PLACES = ("left", "centre", "right", "top")
SPOTS = (*PLACES, *(f"{bank}.{place}" for bank in (1, 2) for place in PLACES))


def upgrade() -> None:
    """Add the column, make the tables."""
    op.add_column("revision", sa.Column("contract_case_count", sa.Integer(), nullable=True))
    op.create_table(
        "contract_case",
        sa.Column("revision", sa.Integer(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        *_text("id", "says"),
        sa.PrimaryKeyConstraint("revision", "id"),
        sa.ForeignKeyConstraint(["revision"], ["revision.number"]),
    )
    _create_question()
    _create("contract_case_addon", _text("addon"), _refers("addon", "addon", "id"), key="position")
    room = [*_text("spot"), *_real("axial_mm", "across_mm", nullable=True)]
    _create("contract_case_clearance", room, _one_of("spot", SPOTS), key="position")
    _create("contract_case_exclude", _text("sku"), _refers("sku", "item", "sku"), key="position")
    had: list[sa.Column[Any]] = [*_text("sku"), sa.Column("qty", sa.Integer(), nullable=False)]
    _create(
        "contract_case_have",
        had,
        _refers("sku", "item", "sku"),
        sa.CheckConstraint("qty >= 1", name="qty"),
        key="position",
    )
    _create(
        "contract_case_own_spot",
        _text("spot", "standard", "end"),
        _refers("standard", "port_standard", "id"),
        _one_of("spot", PLACES),
        _one_of("end", ("male", "female")),
        key="spot",
    )
    _create("contract_case_pump_point", _real("kpa", "l_h"), key="position")
    promised: list[sa.Column[Any]] = [
        sa.Column("has_bill", sa.Boolean(), nullable=False),
        sa.Column("price_at_least", sa.BigInteger(), nullable=True),
        sa.Column("price_at_most", sa.BigInteger(), nullable=True),
        sa.Column("keyed", sa.Boolean(), nullable=True),
    ]
    _create("contract_case_promises", promised)
    _create("contract_case_contains", _text("sku"), _refers("sku", "item", "sku"), key="position")
    _create("contract_case_never", _text("sku"), _refers("sku", "item", "sku"), key="position")


def _create_question() -> None:
    numbers = ("power_kw", "pump_l_h", "pump_v_rated", "pump_v_fed", "feed_hose_m", "return_hose_m")
    _create(
        "contract_case_question",
        [
            *_text("chassis", "layout"),
            *_text("fuel", nullable=True),
            *_real(*numbers, nullable=True),
            *_real("boost_kpa"),
            *_text("gauge"),
            *_text("finish", nullable=True),
            sa.Column("in_stock_only", sa.Boolean(), nullable=False),
            sa.Column("allow_unsold", sa.Boolean(), nullable=False),
            sa.Column("max_price", sa.BigInteger(), nullable=True),
            sa.Column("bill_limit", sa.Integer(), nullable=True),
            sa.Column("group_variants", sa.Boolean(), nullable=True),
            *_text("order_by", nullable=True),
        ],
        *(_refers(name, name, "id") for name in ("chassis", "layout", "fuel")),
        _one_of("order_by", ("price", "pieces", "drop", "lead", "margin")),
    )


def _create(table: str, columns: Iterable[sa.Column[Any]], *constraints: sa.Constraint, key: str | None = None) -> None:
    """Make a table whose rows tell of a case; without a key of its own, one row each."""
    op.create_table(
        table,
        sa.Column("revision", sa.Integer(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        *_text("contract_case"),
        *columns,
        sa.PrimaryKeyConstraint("revision", "contract_case", *([key] if key else [])),
        _refers("contract_case", "contract_case", "id"),
        *constraints,
    )


def _real(*names: str, nullable: bool = False) -> list[sa.Column[Any]]:
    return [sa.Column(name, sa.Float(), nullable=nullable) for name in names]


def _text(*names: str, nullable: bool = False) -> list[sa.Column[Any]]:
    return [sa.Column(name, sa.String(), nullable=nullable) for name in names]


def _refers(column: str, table: str, target: str) -> sa.ForeignKeyConstraint:
    return sa.ForeignKeyConstraint(["revision", column], [f"{table}.revision", f"{table}.{target}"])


def _one_of(column: str, values: Iterable[str]) -> sa.CheckConstraint:
    listed = ", ".join(f"'{value}'" for value in values)
    return sa.CheckConstraint(f'"{column}" IN ({listed})', name=column)
