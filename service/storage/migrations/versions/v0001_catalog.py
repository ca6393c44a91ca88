"""The tables of the first version: revisions and all parts of their catalogs."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None

TABLES = (
    "revision",
    "addon",
    "chassis",
    "fuel",
    "item",
    "layout",
    "material",
    "addon_chassis",
    "addon_clearance",
    "addon_mounting",
    "chassis_clearance",
    "chassis_mounting",
    "item_pattern",
    "item_supplied",
    "item_wetted",
    "joint",
    "layout_placement",
    "material_rating",
    "joint_caution",
    "joint_consumable",
    "port_standard",
    "chassis_hookup",
    "item_port",
    "layout_duty",
    "chassis_hookup_reach",
    "layout_duty_via",
)


def upgrade() -> None:
    """Make the tables, those that others refer to first."""
    _create_revisions()
    _create_substances()
    _create_items()
    _create_connections()
    _create_ports()
    _create_chassis()
    _create_addons()
    _create_layouts()


def downgrade() -> None:
    """Drop the tables, those that refer to others first."""
    for table in reversed(TABLES):
        op.drop_table(table)


def _create_revisions() -> None:
    op.create_table(
        "revision",
        *integer("number"),
        *moment("created_at"),
        *text("digest", "format", "maker_name", "maker_currency"),
        *integer("max_chain"),
        *real("flow_margin", "max_feed_drop_kpa", "max_return_drop_kpa", "max_velocity_m_s", "recirculation"),
        *integer(
            "port_standard_count",
            "joint_count",
            "fuel_count",
            "material_count",
            "item_count",
            "chassis_count",
            "addon_count",
            "layout_count",
        ),
        sa.PrimaryKeyConstraint("number", name="pk_revision"),
        sa.CheckConstraint("number BETWEEN 1 AND 2147483647", name="ck_revision_number"),
    )


def _create_substances() -> None:
    op.create_table(
        "fuel",
        *integer("revision", "position"),
        *text("id", "name"),
        *real("density_kg_m3", "viscosity_mpa_s", "stoich_afr", "bsfc_na_g_kwh", "bsfc_boosted_g_kwh"),
        *text("source"),
        sa.PrimaryKeyConstraint("revision", "id", name="pk_fuel"),
        sa.ForeignKeyConstraint(["revision"], ["revision.number"], name="fk_fuel_revision"),
    )
    op.create_table(
        "material",
        *integer("revision", "position"),
        *text("id", "name"),
        *real("min_c", "max_c"),
        *text("source"),
        sa.PrimaryKeyConstraint("revision", "id", name="pk_material"),
        sa.ForeignKeyConstraint(["revision"], ["revision.number"], name="fk_material_revision"),
    )
    op.create_table(
        "material_rating",
        *integer("revision", "position"),
        *text("material", "fuel", "rating"),
        sa.PrimaryKeyConstraint("revision", "material", "fuel", name="pk_material_rating"),
        sa.ForeignKeyConstraint(
            ["revision", "material"], ["material.revision", "material.id"], name="fk_material_rating_revision_material"
        ),
        sa.ForeignKeyConstraint(
            ["revision", "fuel"], ["fuel.revision", "fuel.id"], name="fk_material_rating_revision_fuel"
        ),
        sa.CheckConstraint("\"rating\" IN ('A', 'B', 'C', 'D')", name="ck_material_rating_rating"),
    )


def _create_items() -> None:
    op.create_table(
        "item",
        *integer("revision", "position"),
        *text("sku", "name", "kind"),
        *text("family", "finish", missing=True),
        *flag("sold"),
        *text("status"),
        *text("superseded_by", missing=True),
        *big_integer("price"),
        *integer("stock", "lead_days"),
        *real("mass_g"),
        *real(
            "max_kpa",
            "standout_mm",
            "across_mm",
            "flow_bore_mm",
            "flow_length_mm",
            "flow_loss_k",
            "flow_roughness_mm",
            missing=True,
        ),
        *flag("has_patterns", "has_supplied"),
        sa.PrimaryKeyConstraint("revision", "sku", name="pk_item"),
        sa.ForeignKeyConstraint(["revision"], ["revision.number"], name="fk_item_revision"),
        sa.ForeignKeyConstraint(
            ["revision", "superseded_by"],
            ["item.revision", "item.sku"],
            name="fk_item_revision_superseded_by",
            deferrable=True,
            initially="DEFERRED",
        ),
        sa.CheckConstraint(
            "\"kind\" IN ('rail', 'fitting', 'plug', 'gauge', 'line', 'regulator', 'seal', 'fastener', 'spacer', 'clip', 'bracket', 'consumable')",
            name="ck_item_kind",
        ),
        sa.CheckConstraint("\"status\" IN ('active', 'retired')", name="ck_item_status"),
        sa.CheckConstraint("price >= 0", name="ck_item_price"),
        sa.CheckConstraint("stock >= 0", name="ck_item_stock"),
        sa.CheckConstraint("lead_days >= 0", name="ck_item_lead_days"),
        sa.CheckConstraint(
            "(flow_bore_mm IS NULL) = (flow_length_mm IS NULL) AND (flow_bore_mm IS NULL) = (flow_loss_k IS NULL) AND (flow_bore_mm IS NULL) = (flow_roughness_mm IS NULL)",
            name="ck_item_flow_whole",
        ),
    )
    op.create_table(
        "item_pattern",
        *integer("revision", "position"),
        *text("item", "pattern"),
        sa.PrimaryKeyConstraint("revision", "item", "position", name="pk_item_pattern"),
        sa.ForeignKeyConstraint(
            ["revision", "item"], ["item.revision", "item.sku"], name="fk_item_pattern_revision_item"
        ),
    )
    op.create_table(
        "item_supplied",
        *integer("revision", "position"),
        *text("item", "sku"),
        *integer("qty"),
        *text("spot", "role", missing=True),
        sa.PrimaryKeyConstraint("revision", "item", "position", name="pk_item_supplied"),
        sa.ForeignKeyConstraint(
            ["revision", "item"], ["item.revision", "item.sku"], name="fk_item_supplied_revision_item"
        ),
        sa.ForeignKeyConstraint(
            ["revision", "sku"], ["item.revision", "item.sku"], name="fk_item_supplied_revision_sku"
        ),
        sa.CheckConstraint("qty >= 1", name="ck_item_supplied_qty"),
        sa.CheckConstraint("\"spot\" IN ('left', 'centre', 'right', 'top')", name="ck_item_supplied_spot"),
    )
    op.create_table(
        "item_wetted",
        *integer("revision", "position"),
        *text("item", "material"),
        sa.PrimaryKeyConstraint("revision", "item", "position", name="pk_item_wetted"),
        sa.ForeignKeyConstraint(
            ["revision", "item"], ["item.revision", "item.sku"], name="fk_item_wetted_revision_item"
        ),
        sa.ForeignKeyConstraint(
            ["revision", "material"], ["material.revision", "material.id"], name="fk_item_wetted_revision_material"
        ),
    )


def _create_connections() -> None:
    op.create_table(
        "joint",
        *integer("revision", "position"),
        *text("id", "method"),
        *real("min_nm", "max_nm", "min_deg", "max_deg", "min_threads", "max_threads", "turns_past_hand", missing=True),
        *text("spare_seal", missing=True),
        *text("source"),
        sa.PrimaryKeyConstraint("revision", "id", name="pk_joint"),
        sa.ForeignKeyConstraint(["revision"], ["revision.number"], name="fk_joint_revision"),
        sa.ForeignKeyConstraint(
            ["revision", "spare_seal"], ["item.revision", "item.sku"], name="fk_joint_revision_spare_seal"
        ),
        sa.CheckConstraint(
            "\"method\" IN ('torque', 'past-hand-tight', 'flange-to-face', 'turns-engaged', 'push-to-click')",
            name="ck_joint_method",
        ),
    )
    op.create_table(
        "joint_caution",
        *integer("revision", "position"),
        *text("joint", "text"),
        sa.PrimaryKeyConstraint("revision", "joint", "position", name="pk_joint_caution"),
        sa.ForeignKeyConstraint(
            ["revision", "joint"], ["joint.revision", "joint.id"], name="fk_joint_caution_revision_joint"
        ),
    )
    op.create_table(
        "joint_consumable",
        *integer("revision", "position"),
        *text("joint", "sku"),
        sa.PrimaryKeyConstraint("revision", "joint", "position", name="pk_joint_consumable"),
        sa.ForeignKeyConstraint(
            ["revision", "joint"], ["joint.revision", "joint.id"], name="fk_joint_consumable_revision_joint"
        ),
        sa.ForeignKeyConstraint(
            ["revision", "sku"], ["item.revision", "item.sku"], name="fk_joint_consumable_revision_sku"
        ),
    )
    op.create_table(
        "port_standard",
        *integer("revision", "position"),
        *text("id", "name", "family", "size", "seal", "published", "joint"),
        sa.PrimaryKeyConstraint("revision", "id", name="pk_port_standard"),
        sa.ForeignKeyConstraint(["revision"], ["revision.number"], name="fk_port_standard_revision"),
        sa.ForeignKeyConstraint(
            ["revision", "joint"], ["joint.revision", "joint.id"], name="fk_port_standard_revision_joint"
        ),
        sa.CheckConstraint("\"seal\" IN ('o-ring', 'cone', 'taper', 'bead')", name="ck_port_standard_seal"),
    )


def _create_ports() -> None:
    op.create_table(
        "item_port",
        *integer("revision", "position"),
        *text("item", "id", "standard", "end"),
        *text("spot", missing=True),
        sa.PrimaryKeyConstraint("revision", "item", "id", name="pk_item_port"),
        sa.ForeignKeyConstraint(["revision", "item"], ["item.revision", "item.sku"], name="fk_item_port_revision_item"),
        sa.ForeignKeyConstraint(
            ["revision", "standard"],
            ["port_standard.revision", "port_standard.id"],
            name="fk_item_port_revision_standard",
        ),
        sa.CheckConstraint("\"end\" IN ('male', 'female')", name="ck_item_port_end"),
        sa.CheckConstraint("\"spot\" IN ('left', 'centre', 'right', 'top')", name="ck_item_port_spot"),
    )


def _create_chassis() -> None:
    op.create_table(
        "chassis",
        *integer("revision", "position"),
        *text("id", "name", "engine"),
        *integer("cylinders", "banks"),
        *text("pattern"),
        *real("base_kpa", "stock_kw"),
        sa.PrimaryKeyConstraint("revision", "id", name="pk_chassis"),
        sa.ForeignKeyConstraint(["revision"], ["revision.number"], name="fk_chassis_revision"),
        sa.CheckConstraint("cylinders >= 1", name="ck_chassis_cylinders"),
        sa.CheckConstraint("banks >= 1", name="ck_chassis_banks"),
    )
    op.create_table(
        "chassis_clearance",
        *integer("revision", "position"),
        *text("chassis", "spot"),
        *real("axial_mm", "across_mm", missing=True),
        sa.PrimaryKeyConstraint("revision", "chassis", "position", name="pk_chassis_clearance"),
        sa.ForeignKeyConstraint(
            ["revision", "chassis"], ["chassis.revision", "chassis.id"], name="fk_chassis_clearance_revision_chassis"
        ),
        sa.CheckConstraint(
            "\"spot\" IN ('left', 'centre', 'right', 'top', '1.left', '1.centre', '1.right', '1.top', '2.left', '2.centre', '2.right', '2.top')",
            name="ck_chassis_clearance_spot",
        ),
    )
    op.create_table(
        "chassis_mounting",
        *integer("revision", "position"),
        *text("chassis", "role", "sku"),
        *integer("qty"),
        *flag("optional", missing=True),
        sa.PrimaryKeyConstraint("revision", "chassis", "position", name="pk_chassis_mounting"),
        sa.ForeignKeyConstraint(
            ["revision", "chassis"], ["chassis.revision", "chassis.id"], name="fk_chassis_mounting_revision_chassis"
        ),
        sa.ForeignKeyConstraint(
            ["revision", "sku"], ["item.revision", "item.sku"], name="fk_chassis_mounting_revision_sku"
        ),
        sa.CheckConstraint("qty >= 1", name="ck_chassis_mounting_qty"),
    )
    op.create_table(
        "chassis_hookup",
        *integer("revision", "position"),
        *text("chassis", "id", "standard", "end"),
        *real("flow_bore_mm", "flow_length_mm", "flow_loss_k", "flow_roughness_mm", missing=True),
        *flag("has_spots"),
        sa.PrimaryKeyConstraint("revision", "chassis", "id", name="pk_chassis_hookup"),
        sa.ForeignKeyConstraint(
            ["revision", "chassis"], ["chassis.revision", "chassis.id"], name="fk_chassis_hookup_revision_chassis"
        ),
        sa.ForeignKeyConstraint(
            ["revision", "standard"],
            ["port_standard.revision", "port_standard.id"],
            name="fk_chassis_hookup_revision_standard",
        ),
        sa.CheckConstraint("\"end\" IN ('male', 'female')", name="ck_chassis_hookup_end"),
        sa.CheckConstraint(
            "(flow_bore_mm IS NULL) = (flow_length_mm IS NULL) AND (flow_bore_mm IS NULL) = (flow_loss_k IS NULL) AND (flow_bore_mm IS NULL) = (flow_roughness_mm IS NULL)",
            name="ck_chassis_hookup_flow_whole",
        ),
    )
    op.create_table(
        "chassis_hookup_reach",
        *integer("revision", "position"),
        *text("chassis", "hookup", "spot"),
        *real("min_mm", "max_mm"),
        sa.PrimaryKeyConstraint("revision", "chassis", "hookup", "spot", name="pk_chassis_hookup_reach"),
        sa.ForeignKeyConstraint(
            ["revision", "chassis", "hookup"],
            ["chassis_hookup.revision", "chassis_hookup.chassis", "chassis_hookup.id"],
            name="fk_chassis_hookup_reach_revision_chassis_hookup",
        ),
        sa.CheckConstraint(
            "\"spot\" IN ('left', 'centre', 'right', 'top', '1.left', '1.centre', '1.right', '1.top', '2.left', '2.centre', '2.right', '2.top')",
            name="ck_chassis_hookup_reach_spot",
        ),
    )


def _create_addons() -> None:
    op.create_table(
        "addon",
        *integer("revision", "position"),
        *text("id", "name"),
        *real("boost_kpa"),
        sa.PrimaryKeyConstraint("revision", "id", name="pk_addon"),
        sa.ForeignKeyConstraint(["revision"], ["revision.number"], name="fk_addon_revision"),
    )
    op.create_table(
        "addon_chassis",
        *integer("revision", "position"),
        *text("addon", "chassis"),
        sa.PrimaryKeyConstraint("revision", "addon", "position", name="pk_addon_chassis"),
        sa.ForeignKeyConstraint(
            ["revision", "addon"], ["addon.revision", "addon.id"], name="fk_addon_chassis_revision_addon"
        ),
        sa.ForeignKeyConstraint(
            ["revision", "chassis"], ["chassis.revision", "chassis.id"], name="fk_addon_chassis_revision_chassis"
        ),
    )
    op.create_table(
        "addon_clearance",
        *integer("revision", "position"),
        *text("addon", "spot"),
        *real("axial_mm", "across_mm", missing=True),
        sa.PrimaryKeyConstraint("revision", "addon", "position", name="pk_addon_clearance"),
        sa.ForeignKeyConstraint(
            ["revision", "addon"], ["addon.revision", "addon.id"], name="fk_addon_clearance_revision_addon"
        ),
        sa.CheckConstraint(
            "\"spot\" IN ('left', 'centre', 'right', 'top', '1.left', '1.centre', '1.right', '1.top', '2.left', '2.centre', '2.right', '2.top')",
            name="ck_addon_clearance_spot",
        ),
    )
    op.create_table(
        "addon_mounting",
        *integer("revision", "position"),
        *text("addon", "role", "sku"),
        *integer("qty"),
        sa.PrimaryKeyConstraint("revision", "addon", "position", name="pk_addon_mounting"),
        sa.ForeignKeyConstraint(
            ["revision", "addon"], ["addon.revision", "addon.id"], name="fk_addon_mounting_revision_addon"
        ),
        sa.ForeignKeyConstraint(
            ["revision", "sku"], ["item.revision", "item.sku"], name="fk_addon_mounting_revision_sku"
        ),
        sa.CheckConstraint("qty >= 1", name="ck_addon_mounting_qty"),
    )


def _create_layouts() -> None:
    op.create_table(
        "layout",
        *integer("revision", "position"),
        *text("id", "name", "summary"),
        *integer("banks"),
        sa.PrimaryKeyConstraint("revision", "id", name="pk_layout"),
        sa.ForeignKeyConstraint(["revision"], ["revision.number"], name="fk_layout_revision"),
        sa.CheckConstraint("banks >= 1", name="ck_layout_banks"),
    )
    op.create_table(
        "layout_placement",
        *integer("revision", "position"),
        *text("layout"),
        sa.PrimaryKeyConstraint("revision", "layout", "position", name="pk_layout_placement"),
        sa.ForeignKeyConstraint(
            ["revision", "layout"], ["layout.revision", "layout.id"], name="fk_layout_placement_revision_layout"
        ),
    )
    op.create_table(
        "layout_duty",
        *integer("revision", "position"),
        *text("layout"),
        *integer("placement"),
        *text("spot", "duty"),
        *text("hookup_kind", "hookup_standard", "hookup_end", missing=True),
        *real(
            "hookup_flow_bore_mm",
            "hookup_flow_length_mm",
            "hookup_flow_loss_k",
            "hookup_flow_roughness_mm",
            missing=True,
        ),
        *text("to_spot", missing=True),
        *flag("has_via"),
        sa.PrimaryKeyConstraint("revision", "layout", "placement", "spot", name="pk_layout_duty"),
        sa.ForeignKeyConstraint(
            ["revision", "layout", "placement"],
            ["layout_placement.revision", "layout_placement.layout", "layout_placement.position"],
            name="fk_layout_duty_revision_layout_placement",
        ),
        sa.ForeignKeyConstraint(
            ["revision", "hookup_standard"],
            ["port_standard.revision", "port_standard.id"],
            name="fk_layout_duty_revision_hookup_standard",
        ),
        sa.CheckConstraint(
            "\"spot\" IN ('left', 'centre', 'right', 'top', '1.left', '1.centre', '1.right', '1.top', '2.left', '2.centre', '2.right', '2.top')",
            name="ck_layout_duty_spot",
        ),
        sa.CheckConstraint("\"duty\" IN ('feed', 'return', 'link')", name="ck_layout_duty_duty"),
        sa.CheckConstraint(
            "\"hookup_kind\" IN ('factory-line', 'bulkhead', 'own-hose')", name="ck_layout_duty_hookup_kind"
        ),
        sa.CheckConstraint("\"hookup_end\" IN ('male', 'female')", name="ck_layout_duty_hookup_end"),
        sa.CheckConstraint(
            "\"to_spot\" IN ('left', 'centre', 'right', 'top', '1.left', '1.centre', '1.right', '1.top', '2.left', '2.centre', '2.right', '2.top')",
            name="ck_layout_duty_to_spot",
        ),
        sa.CheckConstraint(
            "(hookup_flow_bore_mm IS NULL) = (hookup_flow_length_mm IS NULL) AND (hookup_flow_bore_mm IS NULL) = (hookup_flow_loss_k IS NULL) AND (hookup_flow_bore_mm IS NULL) = (hookup_flow_roughness_mm IS NULL)",
            name="ck_layout_duty_hookup_flow_whole",
        ),
    )
    op.create_table(
        "layout_duty_via",
        *integer("revision", "position"),
        *text("layout"),
        *integer("placement"),
        *text("spot", "kind"),
        sa.PrimaryKeyConstraint("revision", "layout", "placement", "spot", "position", name="pk_layout_duty_via"),
        sa.ForeignKeyConstraint(
            ["revision", "layout", "placement", "spot"],
            ["layout_duty.revision", "layout_duty.layout", "layout_duty.placement", "layout_duty.spot"],
            name="fk_layout_duty_via_revision_layout_placement_spot",
        ),
        sa.CheckConstraint(
            "\"kind\" IN ('rail', 'fitting', 'plug', 'gauge', 'line', 'regulator', 'seal', 'fastener', 'spacer', 'clip', 'bracket', 'consumable')",
            name="ck_layout_duty_via_kind",
        ),
    )


def integer(*names: str, missing: bool = False) -> list[sa.Column]:
    return [sa.Column(name, sa.Integer(), nullable=missing) for name in names]


def big_integer(*names: str, missing: bool = False) -> list[sa.Column]:
    return [sa.Column(name, sa.BigInteger(), nullable=missing) for name in names]


def real(*names: str, missing: bool = False) -> list[sa.Column]:
    return [sa.Column(name, sa.Float(), nullable=missing) for name in names]


def flag(*names: str, missing: bool = False) -> list[sa.Column]:
    return [sa.Column(name, sa.Boolean(), nullable=missing) for name in names]


def text(*names: str, missing: bool = False) -> list[sa.Column]:
    return [sa.Column(name, sa.String(), nullable=missing) for name in names]


def moment(*names: str, missing: bool = False) -> list[sa.Column]:
    return [sa.Column(name, sa.DateTime(timezone=True), nullable=missing) for name in names]
