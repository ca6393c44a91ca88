"""How catalogs were kept up to version 0011: every field a column, every list a table. Read by a migration alone."""

import dataclasses
from collections.abc import Iterable, Iterator, Mapping
from typing import Any

PlainRow = Mapping[Any, Any]
"""Values by column name."""
Path = tuple[str, ...]

ITSELF = ""
"""The field of a child that is not a field of its parent's object but the whole of it."""
FLOW_FIELDS = ("bore_mm", "length_mm", "loss_k", "roughness_mm")

_KEPT_BY_ALL = ("revision", "position")


class LackingError(Exception):
    """Raised for tables that lack a column of version 0011."""


@dataclasses.dataclass(frozen=True, eq=False)
class Part:
    """A list or an object of a document, kept in a table with one row an element, in order.

    A column is the field of the same name, but for those listed here:
    `field` is the part's name within its parent, or ITSELF;
    `key` is the column of an object's keys (None: the part is a list);
    `value` is the column of plain elements (None: the elements are objects);
    `nested` leads from a column to a field that lies deeper;
    `identity` names, for the children's rows, the columns that tell one row from another;
    `flag` is the parent's column that tells an empty part from a missing one (None: never missing);
    `optional`: missing where it has no row, as it is never empty;
    `single`: an object in one row.
    """

    table: str
    field: str
    key: str | None = None
    value: str | None = None
    nested: Mapping[str, Path] = dataclasses.field(default_factory=dict)
    identity: Mapping[str, str] = dataclasses.field(default_factory=dict)
    flag: str | None = None
    optional: bool = False
    single: bool = False
    children: tuple["Part", ...] = ()


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
                nested={"bill_limit": ("limit",), "pump_v_rated": ("pump_v", "rated"), "pump_v_fed": ("pump_v", "fed")},
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


def rows_to_catalog(revision: PlainRow, rows: Mapping[str, Iterable[PlainRow]]) -> dict[str, Any]:
    """Return the plain document of a revision's row and its catalog's rows, each table's rows by position.

    A table or a column that an older version did not have has nothing in it.
    """
    document: dict[str, Any] = {}
    for column, path in ONCE.items():
        if revision.get(column) is not None:
            put(document, path, revision[column])
    for section in SECTIONS:
        found = gather(section, rows).get((), [])
        if found or not section.optional:
            document[section.field] = found
    return document


def gather(
    part: Part, rows: Mapping[str, Iterable[PlainRow]], inherited: tuple[str, ...] = ()
) -> dict[tuple[Any, ...], Any]:
    """Return the part's lists or objects by the parents' identity; `rows` has each table's rows in order."""
    below = (*inherited, *part.identity)
    children = [(child, gather(child, rows, below)) for child in part.children]
    gathered: dict[tuple[Any, ...], Any] = {}
    paths: dict[str, Path] = {}
    for row in rows.get(part.table, ()):
        paths = paths or _paths(part, inherited, row)
        above = tuple(row[column] for column in inherited)
        here = (*above, *(row[column] for column in part.identity.values()))
        element = row[part.value] if part.value else _document(row, paths)
        for child, found in children:
            if child.field == ITSELF:
                element = found.get(here, _empty(child))
            elif here in found or (not child.optional and (child.flag is None or row[child.flag])):
                element[child.field] = found.get(here, _empty(child))
        if part.single:
            gathered[above] = element
        elif part.key:
            gathered.setdefault(above, {})[row[part.key]] = element
        else:
            gathered.setdefault(above, []).append(element)
    return gathered


def tables(part: Part) -> Iterator[str]:
    """Yield the names of the tables of a part and of its children."""
    yield part.table
    for child in part.children:
        yield from tables(child)


def put(document: dict[str, Any], path: Path, value: Any) -> None:
    """Lay a value down at the path; objects on the way appear as needed."""
    for name in path[:-1]:
        document = document.setdefault(name, {})
    document[path[-1]] = value


def _paths(part: Part, inherited: tuple[str, ...], row: PlainRow) -> dict[str, Path]:
    """Return the way to its field for each column that holds one; `inherited` are the columns of the parents."""
    others = {*_KEPT_BY_ALL, *inherited, part.key, part.value, *(child.flag for child in part.children)}
    return {column: part.nested.get(column, (column,)) for column in row if column not in others}


def _empty(part: Part) -> Any:
    return {} if part.key else []


def _document(row: PlainRow, paths: Mapping[str, tuple[str, ...]]) -> dict[str, Any]:
    """Return the object of a row; what is missing leaves no trace, so that a whole missing object is missing too."""
    document: dict[str, Any] = {}
    for column, path in paths.items():
        if (value := row[column]) is not None:
            put(document, path, value)
    return document
