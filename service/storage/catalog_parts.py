"""Where each part of the catalog document is kept. A new field or list of the document is told here and in `tables`."""

from collections.abc import Mapping, Sequence
from itertools import chain
from typing import Any

from service.storage.parts import ITSELF, Part, Path, PlainRow, dig, flatten, gather, put, tables
from service.storage.tables import METADATA
from service.storage.tables.base import FLOW_FIELDS


def _flow(*path: str) -> dict[str, Path]:
    return {"_".join((*path, field)): (*path, field) for field in FLOW_FIELDS}


_CLEARANCES_AND_MOUNTING = {
    owner: (Part(f"{owner}_clearance", "clearances"), Part(f"{owner}_mounting", "mounting"))
    for owner in ("chassis", "addon")
}


def _told(table: str, field: str, **nested: Path) -> Part:
    """An object that may be told, in a row of its own."""
    return Part(table, field, nested=nested, optional=True, single=True)


def _aliases(owner: str) -> Part:
    return Part(f"{owner}_alias", "aliases", value="text", optional=True)


ONCE = {
    "format": ("format",),
    "maker_name": ("maker", "name"),
    "maker_currency": ("maker", "currency"),
    **{
        column: ("policies", column)
        for column in (
            "max_chain",
            "flow_margin",
            "max_feed_drop_kpa",
            "max_return_drop_kpa",
            "max_velocity_m_s",
            "recirculation",
            "vapour_margin_kpa",
            "seal_insertion_mm",
            "max_gland_fill",
            "max_proof_part",
            "max_spread_percent",
            "power_reserve",
        )
    },
    "squeeze_min": ("policies", "squeeze", "min"),
    "squeeze_max": ("policies", "squeeze", "max"),
}
"""What the catalog has once: columns of the revision itself."""

SECTIONS = (
    Part(
        "port_standard",
        "port_standards",
        identity={"standard": "id"},
        children=(_told("port_thread", "thread"), _told("port_gland", "gland"), _told("port_taper", "taper")),
    ),
    Part(
        "joint",
        "joints",
        identity={"joint": "id"},
        children=(
            Part("joint_consumable", "consumables", value="sku", flag="has_consumables"),
            Part("joint_spare_seal", "spare_seal", value="sku", optional=True),
            Part("joint_caution", "cautions", value="text"),
        ),
    ),
    Part(
        "fuel",
        "fuels",
        nested={"bsfc_na_g_kwh": ("bsfc_g_kwh", "na"), "bsfc_boosted_g_kwh": ("bsfc_g_kwh", "boosted")},
        identity={"fuel": "id"},
        children=(
            Part("fuel_vapour", "vapour", optional=True),
            Part("fuel_caution", "cautions", value="text", optional=True),
            _aliases("fuel"),
        ),
    ),
    Part(
        "material",
        "materials",
        identity={"material": "id"},
        children=(Part("material_rating", "ratings", key="fuel", value="rating"), _aliases("material")),
    ),
    Part(
        "item",
        "items",
        nested=_flow("flow"),
        identity={"item": "sku"},
        children=(
            Part("item_port", "ports"),
            Part("item_wetted", "wetted", value="material"),
            Part("item_pattern", "patterns", value="pattern", flag="has_patterns"),
            Part("item_supplied", "supplied", flag="has_supplied"),
            _told("item_ring", "ring"),
            _told(
                "item_screw",
                "screw",
                **{f"thread_{name}": ("thread", name) for name in ("diameter_mm", "pitch_mm", "form")},
                torque_min_nm=("torque_nm", "min"),
                torque_max_nm=("torque_nm", "max"),
                nut_factor_min=("nut_factor", "min"),
                nut_factor_max=("nut_factor", "max"),
            ),
            _told("item_spacer", "spacer"),
            _told("item_seats", "seats"),
            _told("item_regulates", "regulates"),
            Part("item_injector_position", "injector_positions_mm", value="mm", optional=True),
            Part("item_spot_position", "spot_positions_mm", key="spot", value="mm", optional=True),
            _aliases("item"),
        ),
    ),
    Part(
        "chassis",
        "chassis",
        identity={"chassis": "id"},
        children=(
            Part(
                "chassis_hookup",
                "hookups",
                nested=_flow("flow"),
                identity={"hookup": "id"},
                children=(Part("chassis_hookup_reach", "spots", key="spot", flag="has_spots"),),
            ),
            *_CLEARANCES_AND_MOUNTING["chassis"],
            Part("chassis_pump_point", "pump", optional=True),
            _told("chassis_pump_volts", "pump_v"),
            _told("chassis_injectors", "injectors"),
            _told("chassis_regulator", "regulator"),
            _told("chassis_manifold", "manifold"),
            _told("chassis_tank", "tank"),
            _aliases("chassis"),
        ),
    ),
    Part(
        "addon",
        "addons",
        identity={"addon": "id"},
        children=(
            Part("addon_chassis", "chassis", value="chassis"),
            *_CLEARANCES_AND_MOUNTING["addon"],
            _aliases("addon"),
        ),
    ),
    Part(
        "layout",
        "layouts",
        identity={"layout": "id"},
        children=(
            _aliases("layout"),
            Part(
                "layout_placement",
                "placements",
                identity={"placement": "position"},
                children=(
                    Part(
                        "layout_duty",
                        ITSELF,
                        key="spot",
                        nested={f"hookup_{name}": ("hookup", name) for name in ("kind", "standard", "end")}
                        | _flow("hookup", "flow"),
                        identity={"spot": "spot"},
                        children=(Part("layout_duty_via", "via", value="kind", flag="has_via"),),
                    ),
                ),
            ),
        ),
    ),
    Part(
        "contract_case",
        "contract_cases",
        identity={"contract_case": "id"},
        optional=True,
        children=(
            Part(
                "contract_case_question",
                "request",
                nested={
                    "bill_limit": ("limit",),
                    "pump_v_rated": ("pump_v", "rated"),
                    "pump_v_fed": ("pump_v", "fed"),
                },
                single=True,
                children=(
                    Part("contract_case_addon", "addons", value="addon"),
                    Part("contract_case_clearance", "clearances"),
                    Part("contract_case_exclude", "exclude", value="sku"),
                    Part("contract_case_have", "have"),
                    Part("contract_case_own_spot", "own_rail", key="spot", optional=True),
                    Part("contract_case_pump_point", "pump", optional=True),
                    _told("contract_case_regulator", "regulator"),
                    _told("contract_case_injectors", "injectors"),
                ),
            ),
            Part(
                "contract_case_promises",
                "promises",
                nested={"price_at_least": ("price", "at_least"), "price_at_most": ("price", "at_most")},
                single=True,
                children=(
                    Part("contract_case_contains", "contains", value="sku", optional=True),
                    Part("contract_case_never", "never_contains", value="sku", optional=True),
                ),
            ),
        ),
    ),
)

_KEPT = set(chain.from_iterable(tables(section) for section in SECTIONS))
CATALOG_TABLES = tuple(table for table in METADATA.sorted_tables if table.name in _KEPT)
"""The tables of the sections, those that others refer to first."""


def catalog_to_rows(document: Mapping[str, Any]) -> dict[str, list[dict[str, Any]]]:
    """Return the rows of every table of `CATALOG_TABLES` for a plain document, without their revision."""
    rows: dict[str, list[dict[str, Any]]] = {table.name: [] for table in CATALOG_TABLES}
    for section in SECTIONS:
        for table, row in flatten(section, document.get(section.field, [])):
            rows[table].append(row)
    return rows


def catalog_once(document: Mapping[str, Any]) -> dict[str, Any]:
    """Return the columns of the revision: what the catalog has once, and how many elements each section has."""
    once = {column: dig(document, path) for column, path in ONCE.items()}
    return once | {f"{section.table}_count": len(document.get(section.field, [])) for section in SECTIONS}


def rows_to_catalog(revision: PlainRow, rows: Mapping[str, Sequence[PlainRow]]) -> dict[str, Any]:
    """Return the plain document of a revision's row and its catalog's rows, each table's rows by position."""
    document: dict[str, Any] = {}
    for column, path in ONCE.items():
        if revision[column] is not None:
            put(document, path, revision[column])
    for section in SECTIONS:
        found = gather(section, rows).get((), [])
        if found or not section.optional:
            document[section.field] = found
    return document
