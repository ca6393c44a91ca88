"""The tables of chassis and add-ons: the ends that the car offers, the room at its spots, the parts on it."""

from typing import get_args

from service.documents.fields import End
from service.storage.tables.base import (
    SPOTS,
    CatalogRow,
    at_least,
    key,
    of_revision,
    one_of,
    refers,
    whole_flow,
)


class ChassisRow(CatalogRow, table=True):
    """A vehicle application."""

    __tablename__ = "chassis"
    __table_args__ = (key("id"), of_revision(), at_least("cylinders", 1), at_least("banks", 1))

    id: str
    name: str
    engine: str
    cylinders: int
    banks: int
    pattern: str
    base_kpa: float
    stock_kw: float


class ChassisHookupRow(CatalogRow, table=True):
    """An end that the car offers; `has_spots` tells a reach of no spot from a reach that is not limited."""

    __tablename__ = "chassis_hookup"
    __table_args__ = (
        key("chassis", "id"),
        refers("chassis", "chassis", "id"),
        refers("standard", "port_standard", "id"),
        one_of("end", get_args(End)),
        whole_flow("flow"),
    )

    chassis: str
    id: str
    standard: str
    end: str
    flow_bore_mm: float | None
    flow_length_mm: float | None
    flow_loss_k: float | None
    flow_roughness_mm: float | None
    has_spots: bool


class ChassisHookupReachRow(CatalogRow, table=True):
    """The window, in standout from a spot, in which a hookup can be reached."""

    __tablename__ = "chassis_hookup_reach"
    __table_args__ = (
        key("chassis", "hookup", "spot"),
        refers("chassis hookup", "chassis_hookup", "chassis id"),
        one_of("spot", SPOTS),
    )

    chassis: str
    hookup: str
    spot: str
    min_mm: float
    max_mm: float


class ChassisClearanceRow(CatalogRow, table=True):
    """The room at a spot of the car."""

    __tablename__ = "chassis_clearance"
    __table_args__ = (
        key("chassis", "position"),
        refers("chassis", "chassis", "id"),
        one_of("spot", SPOTS),
    )

    chassis: str
    spot: str
    axial_mm: float | None
    across_mm: float | None


class ChassisMountingRow(CatalogRow, table=True):
    """A mounting part on the car."""

    __tablename__ = "chassis_mounting"
    __table_args__ = (
        key("chassis", "position"),
        refers("chassis", "chassis", "id"),
        refers("sku", "item", "sku"),
        at_least("qty", 1),
    )

    chassis: str
    role: str
    sku: str
    qty: int
    optional: bool | None


class AddonRow(CatalogRow, table=True):
    """Equipment on the car that changes the rules."""

    __tablename__ = "addon"
    __table_args__ = (key("id"), of_revision())

    id: str
    name: str
    boost_kpa: float
    raises_seat_mm: float | None


class AddonChassisRow(CatalogRow, table=True):
    """A chassis that an add-on is for."""

    __tablename__ = "addon_chassis"
    __table_args__ = (
        key("addon", "position"),
        refers("addon", "addon", "id"),
        refers("chassis", "chassis", "id"),
    )

    addon: str
    chassis: str


class AddonClearanceRow(CatalogRow, table=True):
    """The room that an add-on leaves at a spot."""

    __tablename__ = "addon_clearance"
    __table_args__ = (key("addon", "position"), refers("addon", "addon", "id"), one_of("spot", SPOTS))

    addon: str
    spot: str
    axial_mm: float | None
    across_mm: float | None


class AddonMountingRow(CatalogRow, table=True):
    """A mounting part that comes with an add-on."""

    __tablename__ = "addon_mounting"
    __table_args__ = (
        key("addon", "position"),
        refers("addon", "addon", "id"),
        refers("sku", "item", "sku"),
        at_least("qty", 1),
    )

    addon: str
    role: str
    sku: str
    qty: int
