"""The tables of aliases: what else people call an item, a car, a fuel."""

from service.storage.tables.base import CatalogRow, key, refers


class ItemAliasRow(CatalogRow, table=True):
    """What else people call an item."""

    __tablename__ = "item_alias"
    __table_args__ = (key("item", "position"), refers("item", "item", "sku"))

    item: str
    text: str


class ChassisAliasRow(CatalogRow, table=True):
    """What else people call a car."""

    __tablename__ = "chassis_alias"
    __table_args__ = (key("chassis", "position"), refers("chassis", "chassis", "id"))

    chassis: str
    text: str


class AddonAliasRow(CatalogRow, table=True):
    """What else people call an add-on."""

    __tablename__ = "addon_alias"
    __table_args__ = (key("addon", "position"), refers("addon", "addon", "id"))

    addon: str
    text: str


class LayoutAliasRow(CatalogRow, table=True):
    """What else people call a layout."""

    __tablename__ = "layout_alias"
    __table_args__ = (key("layout", "position"), refers("layout", "layout", "id"))

    layout: str
    text: str


class FuelAliasRow(CatalogRow, table=True):
    """What else people call a fuel."""

    __tablename__ = "fuel_alias"
    __table_args__ = (key("fuel", "position"), refers("fuel", "fuel", "id"))

    fuel: str
    text: str


class MaterialAliasRow(CatalogRow, table=True):
    """What else people call a material."""

    __tablename__ = "material_alias"
    __table_args__ = (key("material", "position"), refers("material", "material", "id"))

    material: str
    text: str
