"""The tables of items: what has a SKU, its ports, materials, patterns and what comes in its box."""

from typing import get_args

from sqlalchemy import BigInteger
from sqlmodel import Field

from service.documents.catalog import Item, Kind
from service.documents.fields import PLACES, End
from service.storage.tables.base import (
    CatalogRow,
    at_least,
    key,
    of_revision,
    one_of,
    refers,
    whole_flow,
)

STATUSES = get_args(Item.model_fields["status"].annotation)


class ItemRow(CatalogRow, table=True):
    """Anything with a SKU; `has_patterns` and `has_supplied` tell an empty list from none."""

    __tablename__ = "item"
    __table_args__ = (
        key("sku"),
        of_revision(),
        refers("superseded_by", "item", "sku", later=True),
        one_of("kind", get_args(Kind)),
        one_of("status", STATUSES),
        at_least("price", 0),
        at_least("stock", 0),
        at_least("lead_days", 0),
        whole_flow("flow"),
    )

    sku: str
    name: str
    kind: str
    family: str | None
    finish: str | None
    sold: bool
    status: str
    superseded_by: str | None
    price: int = Field(sa_type=BigInteger)
    stock: int
    lead_days: int
    mass_g: float
    max_kpa: float | None
    standout_mm: float | None
    across_mm: float | None
    hex_mm: float | None
    drive: str | None
    flow_bore_mm: float | None
    flow_length_mm: float | None
    flow_loss_k: float | None
    flow_roughness_mm: float | None
    has_patterns: bool
    has_supplied: bool


class ItemPortRow(CatalogRow, table=True):
    """A port of an item."""

    __tablename__ = "item_port"
    __table_args__ = (
        key("item", "id"),
        refers("item", "item", "sku"),
        refers("standard", "port_standard", "id"),
        one_of("end", get_args(End)),
        one_of("spot", PLACES),
    )

    item: str
    id: str
    standard: str
    end: str
    spot: str | None


class ItemWettedRow(CatalogRow, table=True):
    """A material of an item that the fuel touches."""

    __tablename__ = "item_wetted"
    __table_args__ = (
        key("item", "position"),
        refers("item", "item", "sku"),
        refers("material", "material", "id"),
    )

    item: str
    material: str


class ItemPatternRow(CatalogRow, table=True):
    """A rail pattern that an item is for."""

    __tablename__ = "item_pattern"
    __table_args__ = (key("item", "position"), refers("item", "item", "sku"))

    item: str
    pattern: str


class ItemSuppliedRow(CatalogRow, table=True):
    """What comes in the box of an item."""

    __tablename__ = "item_supplied"
    __table_args__ = (
        key("item", "position"),
        refers("item", "item", "sku"),
        refers("sku", "item", "sku"),
        at_least("qty", 1),
        one_of("spot", PLACES),
    )

    item: str
    sku: str
    qty: int
    spot: str | None
    role: str | None
