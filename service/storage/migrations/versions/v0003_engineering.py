"""What a catalog may tell for engineering: new tables, and columns that older catalogs leave empty.

Constraints get their names from the naming convention of the metadata.
"""

from collections.abc import Iterable

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None

PLACES = ("left", "centre", "right", "top")
FORMS = ("metric", "unified")
CLASSES = ("8.8", "10.9")
NEW_COLUMNS = {
    "revision": (
        "vapour_margin_kpa",
        "seal_insertion_mm",
        "squeeze_min",
        "squeeze_max",
        "max_gland_fill",
        "max_proof_part",
        "max_spread_percent",
    ),
    "fuel": ("heat_capacity_j_kg_k",),
    "material": ("conductivity_w_m_k", "expansion_1_k", "shear_mpa"),
    "addon": ("raises_seat_mm",),
}


def upgrade() -> None:
    """Add the columns, make the tables."""
    for table, columns in NEW_COLUMNS.items():
        for column in columns:
            op.add_column(table, sa.Column(column, sa.Float(), nullable=True))
    _create_ports()
    _create("fuel_vapour", "fuel", "fuel", "id", _real("c", "kpa_abs"), key=("fuel", "position"))
    _create_items()
    _create_chassis()


def _create_ports() -> None:
    of = ("standard", "port_standard", "id")
    _create("port_thread", *of, [*_real("diameter_mm", "pitch_mm"), *_text("form")], _one_of("form", FORMS))
    gland = ("inside_mm", "outside_mm", "depth_mm", "diameter_tol_mm", "depth_tol_mm")
    _create("port_gland", *of, _real(*gland))
    _create("port_taper", *of, _real("outside_mm", "pitch_mm", "hand_tight_mm"))


def _create_items() -> None:
    of = ("item", "item", "sku")
    _create("item_ring", *of, _real("inside_mm", "section_mm", "inside_tol_mm", "section_tol_mm"))
    screw = ("length_mm", "torque_min_nm", "torque_max_nm", "nut_factor_min", "nut_factor_max")
    _create(
        "item_screw",
        *of,
        [
            *_real("thread_diameter_mm", "thread_pitch_mm"),
            *_text("thread_form", "strength_class"),
            *_real(*screw),
            *_text("material"),
        ],
        _material(),
        _one_of("thread_form", FORMS),
        _one_of("strength_class", CLASSES),
    )
    spacer = ("height_mm", "height_tol_mm", "outside_mm", "inside_mm")
    _create("item_spacer", *of, [*_real(*spacer), *_text("material")], _material())
    seats = ("roof_mm", "roof_tol_mm", "cup_depth_mm", "foot_mm")
    _create("item_seats", *of, [*_real(*seats), *_text("material")], _material())
    _create("item_injector_position", *of, _real("mm"), key=("item", "position"))
    _create("item_spot_position", *of, [*_text("spot"), *_real("mm")], _one_of("spot", PLACES), key=("item", "spot"))


def _create_chassis() -> None:
    of = ("chassis", "chassis", "id")
    _create("chassis_pump_point", *of, _real("kpa", "l_h"), key=("chassis", "position"))
    _create("chassis_pump_volts", *of, _real("rated", "fed"))
    injectors = ("static_l_h", "rated_kpa", "max_duty", "length_mm", "length_tol_mm")
    rings = ("upper_ring_mm", "lower_ring_mm", "bore_mm")
    _create("chassis_injectors", *of, [*_real(*injectors, *rings), *_text("material")], _material())
    manifold = [*_real("seat_mm", "seat_tol_mm", "thread_mm"), *_text("material"), *_real("cold_c", "hot_c")]
    _create("chassis_manifold", *of, manifold, _material())
    _create("chassis_tank", *of, _real("fuel_c", "soak_c", "lift_m", "inlet_loss_kpa", "rest_kpa"))


def _create(
    table: str,
    column: str,
    owner: str,
    owner_key: str,
    columns: Iterable[sa.Column[object]],
    *constraints: sa.Constraint,
    key: tuple[str, ...] = (),
) -> None:
    """Make a table whose rows tell of `owner`; without a key of its own, one row each."""
    op.create_table(
        table,
        sa.Column("revision", sa.Integer(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        *_text(column),
        *columns,
        sa.PrimaryKeyConstraint("revision", *(key or (column,))),
        sa.ForeignKeyConstraint(["revision", column], [f"{owner}.revision", f"{owner}.{owner_key}"]),
        *constraints,
    )


def _real(*names: str) -> list[sa.Column[object]]:
    return [sa.Column(name, sa.Float(), nullable=False) for name in names]


def _text(*names: str) -> list[sa.Column[object]]:
    return [sa.Column(name, sa.String(), nullable=False) for name in names]


def _material() -> sa.Constraint:
    return sa.ForeignKeyConstraint(["revision", "material"], ["material.revision", "material.id"])


def _one_of(column: str, values: Iterable[str]) -> sa.Constraint:
    listed = ", ".join(f"'{value}'" for value in values)
    return sa.CheckConstraint(f'"{column}" IN ({listed})', name=column)
