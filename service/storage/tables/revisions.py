"""The table of revisions: one row each, with what the catalog has once: its maker and its policies."""

from datetime import datetime

from sqlalchemy import CheckConstraint
from sqlmodel import Field

from service.storage.tables.base import LAST_REVISION, Row, UtcDateTime


class RevisionRow(Row, table=True):
    """A published state of the whole catalog; `digest` proves that it is still the same.

    `contract_case_count` is null where the revision is older than cases.
    """

    __tablename__ = "revision"
    __table_args__ = (CheckConstraint(f"number BETWEEN 1 AND {LAST_REVISION}", name="number"),)

    number: int = Field(primary_key=True, sa_column_kwargs={"autoincrement": False})
    created_at: datetime = Field(sa_type=UtcDateTime)
    digest: str
    format: str
    maker_name: str
    maker_currency: str
    max_chain: int
    flow_margin: float
    max_feed_drop_kpa: float
    max_return_drop_kpa: float
    max_velocity_m_s: float
    recirculation: float
    vapour_margin_kpa: float | None
    seal_insertion_mm: float | None
    squeeze_min: float | None
    squeeze_max: float | None
    max_gland_fill: float | None
    max_proof_part: float | None
    max_spread_percent: float | None
    power_reserve: float | None
    port_standard_count: int
    joint_count: int
    fuel_count: int
    material_count: int
    item_count: int
    chassis_count: int
    addon_count: int
    layout_count: int
    contract_case_count: int | None
