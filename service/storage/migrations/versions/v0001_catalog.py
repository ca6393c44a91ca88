"""The tables of the first version: revisions and all parts of their catalogs.

Constraints get their names from the naming convention of the metadata.
"""

from collections.abc import Iterable
from datetime import datetime

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None

KINDS = (
    "rail",
    "fitting",
    "plug",
    "gauge",
    "line",
    "regulator",
    "seal",
    "fastener",
    "spacer",
    "clip",
    "bracket",
    "consumable",
)
PLACES = ("left", "centre", "right", "top")
ENDS = ("male", "female")
SPOTS = (*PLACES, *(f"{bank}.{place}" for bank in (1, 2) for place in PLACES))


def upgrade() -> None:
    """Make the tables."""
    _create_revisions()
    _create_substances()
    _create_items()
    _create_connections()
    _create_ports()
    _create_chassis()
    _create_addons()
    _create_layouts()


def _create_revisions() -> None:
    op.create_table(
        "revision",
        sa.Column("number", sa.Integer(), autoincrement=False, nullable=False),
        *_moment("created_at"),
        *_text("digest", "format", "maker_name", "maker_currency"),
        *_integer("max_chain"),
        *_real("flow_margin", "max_feed_drop_kpa", "max_return_drop_kpa", "max_velocity_m_s", "recirculation"),
        *_integer(
            "port_standard_count",
            "joint_count",
            "fuel_count",
            "material_count",
            "item_count",
            "chassis_count",
            "addon_count",
            "layout_count",
        ),
        sa.PrimaryKeyConstraint("number"),
        sa.CheckConstraint("number BETWEEN 1 AND 2147483647", name="number"),
    )


def _create_substances() -> None:
    op.create_table(
        "fuel",
        *_integer("revision", "position"),
        *_text("id", "name"),
        *_real("density_kg_m3", "viscosity_mpa_s", "stoich_afr", "bsfc_na_g_kwh", "bsfc_boosted_g_kwh"),
        *_text("source"),
        sa.PrimaryKeyConstraint("revision", "id"),
        _refers("revision", "revision", "number"),
    )
    op.create_table(
        "material",
        *_integer("revision", "position"),
        *_text("id", "name"),
        *_real("min_c", "max_c"),
        *_text("source"),
        sa.PrimaryKeyConstraint("revision", "id"),
        _refers("revision", "revision", "number"),
    )
    op.create_table(
        "material_rating",
        *_integer("revision", "position"),
        *_text("material", "fuel", "rating"),
        sa.PrimaryKeyConstraint("revision", "material", "fuel"),
        _refers("revision material", "material", "revision id"),
        _refers("revision fuel", "fuel", "revision id"),
        _one_of("rating", ("A", "B", "C", "D")),
    )


def _create_items() -> None:
    op.create_table(
        "item",
        *_integer("revision", "position"),
        *_text("sku", "name", "kind"),
        *_text("family", "finish", missing=True),
        *_flag("sold"),
        *_text("status"),
        *_text("superseded_by", missing=True),
        *_big_integer("price"),
        *_integer("stock", "lead_days"),
        *_real("mass_g"),
        *_real(
            "max_kpa",
            "standout_mm",
            "across_mm",
            "flow_bore_mm",
            "flow_length_mm",
            "flow_loss_k",
            "flow_roughness_mm",
            missing=True,
        ),
        *_flag("has_patterns", "has_supplied"),
        sa.PrimaryKeyConstraint("revision", "sku"),
        _refers("revision", "revision", "number"),
        _refers("revision superseded_by", "item", "revision sku", later=True),
        _one_of("kind", KINDS),
        _one_of("status", ("active", "retired")),
        sa.CheckConstraint("price >= 0", name="price"),
        sa.CheckConstraint("stock >= 0", name="stock"),
        sa.CheckConstraint("lead_days >= 0", name="lead_days"),
        _whole_flow("flow"),
    )
    op.create_table(
        "item_pattern",
        *_integer("revision", "position"),
        *_text("item", "pattern"),
        sa.PrimaryKeyConstraint("revision", "item", "position"),
        _refers("revision item", "item", "revision sku"),
    )
    op.create_table(
        "item_supplied",
        *_integer("revision", "position"),
        *_text("item", "sku"),
        *_integer("qty"),
        *_text("spot", "role", missing=True),
        sa.PrimaryKeyConstraint("revision", "item", "position"),
        _refers("revision item", "item", "revision sku"),
        _refers("revision sku", "item", "revision sku"),
        sa.CheckConstraint("qty >= 1", name="qty"),
        _one_of("spot", PLACES),
    )
    op.create_table(
        "item_wetted",
        *_integer("revision", "position"),
        *_text("item", "material"),
        sa.PrimaryKeyConstraint("revision", "item", "position"),
        _refers("revision item", "item", "revision sku"),
        _refers("revision material", "material", "revision id"),
    )


def _create_connections() -> None:
    op.create_table(
        "joint",
        *_integer("revision", "position"),
        *_text("id", "method"),
        *_real("min_nm", "max_nm", "min_deg", "max_deg", "min_threads", "max_threads", "turns_past_hand", missing=True),
        *_text("spare_seal", missing=True),
        *_flag("has_consumables"),
        *_text("source"),
        sa.PrimaryKeyConstraint("revision", "id"),
        _refers("revision", "revision", "number"),
        _refers("revision spare_seal", "item", "revision sku"),
        _one_of("method", ("torque", "past-hand-tight", "flange-to-face", "turns-engaged", "push-to-click")),
    )
    op.create_table(
        "joint_caution",
        *_integer("revision", "position"),
        *_text("joint", "text"),
        sa.PrimaryKeyConstraint("revision", "joint", "position"),
        _refers("revision joint", "joint", "revision id"),
    )
    op.create_table(
        "joint_consumable",
        *_integer("revision", "position"),
        *_text("joint", "sku"),
        sa.PrimaryKeyConstraint("revision", "joint", "position"),
        _refers("revision joint", "joint", "revision id"),
        _refers("revision sku", "item", "revision sku"),
    )
    op.create_table(
        "port_standard",
        *_integer("revision", "position"),
        *_text("id", "name", "family", "size", "seal", "published", "joint"),
        sa.PrimaryKeyConstraint("revision", "id"),
        _refers("revision", "revision", "number"),
        _refers("revision joint", "joint", "revision id"),
        _one_of("seal", ("o-ring", "cone", "taper", "bead")),
    )


def _create_ports() -> None:
    op.create_table(
        "item_port",
        *_integer("revision", "position"),
        *_text("item", "id", "standard", "end"),
        *_text("spot", missing=True),
        sa.PrimaryKeyConstraint("revision", "item", "id"),
        _refers("revision item", "item", "revision sku"),
        _refers("revision standard", "port_standard", "revision id"),
        _one_of("end", ENDS),
        _one_of("spot", PLACES),
    )


def _create_chassis() -> None:
    op.create_table(
        "chassis",
        *_integer("revision", "position"),
        *_text("id", "name", "engine"),
        *_integer("cylinders", "banks"),
        *_text("pattern"),
        *_real("base_kpa", "stock_kw"),
        sa.PrimaryKeyConstraint("revision", "id"),
        _refers("revision", "revision", "number"),
        sa.CheckConstraint("cylinders >= 1", name="cylinders"),
        sa.CheckConstraint("banks >= 1", name="banks"),
    )
    op.create_table(
        "chassis_clearance",
        *_integer("revision", "position"),
        *_text("chassis", "spot"),
        *_real("axial_mm", "across_mm", missing=True),
        sa.PrimaryKeyConstraint("revision", "chassis", "position"),
        _refers("revision chassis", "chassis", "revision id"),
        _one_of("spot", SPOTS),
    )
    op.create_table(
        "chassis_mounting",
        *_integer("revision", "position"),
        *_text("chassis", "role", "sku"),
        *_integer("qty"),
        *_flag("optional", missing=True),
        sa.PrimaryKeyConstraint("revision", "chassis", "position"),
        _refers("revision chassis", "chassis", "revision id"),
        _refers("revision sku", "item", "revision sku"),
        sa.CheckConstraint("qty >= 1", name="qty"),
    )
    op.create_table(
        "chassis_hookup",
        *_integer("revision", "position"),
        *_text("chassis", "id", "standard", "end"),
        *_real("flow_bore_mm", "flow_length_mm", "flow_loss_k", "flow_roughness_mm", missing=True),
        *_flag("has_spots"),
        sa.PrimaryKeyConstraint("revision", "chassis", "id"),
        _refers("revision chassis", "chassis", "revision id"),
        _refers("revision standard", "port_standard", "revision id"),
        _one_of("end", ENDS),
        _whole_flow("flow"),
    )
    op.create_table(
        "chassis_hookup_reach",
        *_integer("revision", "position"),
        *_text("chassis", "hookup", "spot"),
        *_real("min_mm", "max_mm"),
        sa.PrimaryKeyConstraint("revision", "chassis", "hookup", "spot"),
        _refers("revision chassis hookup", "chassis_hookup", "revision chassis id"),
        _one_of("spot", SPOTS),
    )


def _create_addons() -> None:
    op.create_table(
        "addon",
        *_integer("revision", "position"),
        *_text("id", "name"),
        *_real("boost_kpa"),
        sa.PrimaryKeyConstraint("revision", "id"),
        _refers("revision", "revision", "number"),
    )
    op.create_table(
        "addon_chassis",
        *_integer("revision", "position"),
        *_text("addon", "chassis"),
        sa.PrimaryKeyConstraint("revision", "addon", "position"),
        _refers("revision addon", "addon", "revision id"),
        _refers("revision chassis", "chassis", "revision id"),
    )
    op.create_table(
        "addon_clearance",
        *_integer("revision", "position"),
        *_text("addon", "spot"),
        *_real("axial_mm", "across_mm", missing=True),
        sa.PrimaryKeyConstraint("revision", "addon", "position"),
        _refers("revision addon", "addon", "revision id"),
        _one_of("spot", SPOTS),
    )
    op.create_table(
        "addon_mounting",
        *_integer("revision", "position"),
        *_text("addon", "role", "sku"),
        *_integer("qty"),
        sa.PrimaryKeyConstraint("revision", "addon", "position"),
        _refers("revision addon", "addon", "revision id"),
        _refers("revision sku", "item", "revision sku"),
        sa.CheckConstraint("qty >= 1", name="qty"),
    )


def _create_layouts() -> None:
    op.create_table(
        "layout",
        *_integer("revision", "position"),
        *_text("id", "name", "summary"),
        *_integer("banks"),
        sa.PrimaryKeyConstraint("revision", "id"),
        _refers("revision", "revision", "number"),
        sa.CheckConstraint("banks >= 1", name="banks"),
    )
    op.create_table(
        "layout_placement",
        *_integer("revision", "position"),
        *_text("layout"),
        sa.PrimaryKeyConstraint("revision", "layout", "position"),
        _refers("revision layout", "layout", "revision id"),
    )
    op.create_table(
        "layout_duty",
        *_integer("revision", "position"),
        *_text("layout"),
        *_integer("placement"),
        *_text("spot", "duty"),
        *_text("hookup_kind", "hookup_standard", "hookup_end", missing=True),
        *_real(
            "hookup_flow_bore_mm",
            "hookup_flow_length_mm",
            "hookup_flow_loss_k",
            "hookup_flow_roughness_mm",
            missing=True,
        ),
        *_text("to_spot", missing=True),
        *_flag("has_via"),
        sa.PrimaryKeyConstraint("revision", "layout", "placement", "spot"),
        _refers("revision layout placement", "layout_placement", "revision layout position"),
        _refers("revision hookup_standard", "port_standard", "revision id"),
        _one_of("spot", SPOTS),
        _one_of("duty", ("feed", "return", "link")),
        _one_of("hookup_kind", ("factory-line", "bulkhead", "own-hose")),
        _one_of("hookup_end", ENDS),
        _one_of("to_spot", SPOTS),
        _whole_flow("hookup_flow"),
    )
    op.create_table(
        "layout_duty_via",
        *_integer("revision", "position"),
        *_text("layout"),
        *_integer("placement"),
        *_text("spot", "kind"),
        sa.PrimaryKeyConstraint("revision", "layout", "placement", "spot", "position"),
        _refers("revision layout placement spot", "layout_duty", "revision layout placement spot"),
        _one_of("kind", KINDS),
    )


def _integer(*names: str) -> list[sa.Column[int]]:
    return [sa.Column(name, sa.Integer(), nullable=False) for name in names]


def _big_integer(*names: str) -> list[sa.Column[int]]:
    return [sa.Column(name, sa.BigInteger(), nullable=False) for name in names]


def _real(*names: str, missing: bool = False) -> list[sa.Column[float]]:
    return [sa.Column(name, sa.Float(), nullable=missing) for name in names]


def _flag(*names: str, missing: bool = False) -> list[sa.Column[bool]]:
    return [sa.Column(name, sa.Boolean(), nullable=missing) for name in names]


def _text(*names: str, missing: bool = False) -> list[sa.Column[str]]:
    return [sa.Column(name, sa.String(), nullable=missing) for name in names]


def _moment(*names: str) -> list[sa.Column[datetime]]:
    return [sa.Column(name, sa.DateTime(timezone=True), nullable=False) for name in names]


def _refers(columns: str, table: str, targets: str, later: bool = False) -> sa.ForeignKeyConstraint:
    return sa.ForeignKeyConstraint(
        columns.split(),
        [f"{table}.{target}" for target in targets.split()],
        deferrable=later or None,
        initially="DEFERRED" if later else None,
    )


def _one_of(column: str, values: Iterable[str]) -> sa.CheckConstraint:
    listed = ", ".join(f"'{value}'" for value in values)
    return sa.CheckConstraint(f'"{column}" IN ({listed})', name=column)


def _whole_flow(prefix: str) -> sa.CheckConstraint:
    first, *others = (f"{prefix}_{field}" for field in ("bore_mm", "length_mm", "loss_k", "roughness_mm"))
    same = (f"({first} IS NULL) = ({other} IS NULL)" for other in others)
    return sa.CheckConstraint(" AND ".join(same), name=f"{prefix}_whole")
