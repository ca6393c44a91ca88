"""The tables of fuels and of the materials that they touch."""

from typing import get_args

from service.documents.catalog import Rating
from service.storage.tables.base import CatalogRow, key, of_revision, one_of, refers


class FuelRow(CatalogRow, table=True):
    """A fuel with its properties; BSFC naturally aspirated and boosted."""

    __tablename__ = "fuel"
    __table_args__ = (key("id"), of_revision())

    id: str
    name: str
    density_kg_m3: float
    viscosity_mpa_s: float
    stoich_afr: float
    bsfc_na_g_kwh: float
    bsfc_boosted_g_kwh: float
    lhv_mj_kg: float | None
    heat_capacity_j_kg_k: float | None
    source: str


class FuelCautionRow(CatalogRow, table=True):
    """What to mind with a fuel."""

    __tablename__ = "fuel_caution"
    __table_args__ = (key("fuel", "position"), refers("fuel", "fuel", "id"))

    fuel: str
    text: str


class MaterialRow(CatalogRow, table=True):
    """A material with its range of temperature."""

    __tablename__ = "material"
    __table_args__ = (key("id"), of_revision())

    id: str
    name: str
    min_c: float
    max_c: float
    conductivity_w_m_k: float | None
    expansion_1_k: float | None
    shear_mpa: float | None
    source: str


class MaterialRatingRow(CatalogRow, table=True):
    """How a material stands a fuel."""

    __tablename__ = "material_rating"
    __table_args__ = (
        key("material", "fuel"),
        refers("material", "material", "id"),
        refers("fuel", "fuel", "id"),
        one_of("rating", get_args(Rating)),
    )

    material: str
    fuel: str
    rating: str
