"""The tables of layouts: which spots have which duties, and to which hookups."""

from typing import get_args

from service.documents.catalog import DutyEntry, HookupKind, Kind
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

DUTIES = get_args(DutyEntry.model_fields["duty"].annotation)


class LayoutRow(CatalogRow, table=True):
    """How fuel runs."""

    __tablename__ = "layout"
    __table_args__ = (key("id"), of_revision(), at_least("banks", 1))

    id: str
    name: str
    summary: str
    banks: int


class LayoutPlacementRow(CatalogRow, table=True):
    """One of the ways to place a layout's duties, counted from 0."""

    __tablename__ = "layout_placement"
    __table_args__ = (key("layout", "position"), refers("layout", "layout", "id"))

    layout: str


class LayoutDutyRow(CatalogRow, table=True):
    """The duty of one spot in one placement; `has_via` tells an empty list from none."""

    __tablename__ = "layout_duty"
    __table_args__ = (
        key("layout", "placement", "spot"),
        refers("layout placement", "layout_placement", "layout position"),
        refers("hookup_standard", "port_standard", "id"),
        one_of("spot", SPOTS),
        one_of("duty", DUTIES),
        one_of("hookup_kind", get_args(HookupKind)),
        one_of("hookup_end", get_args(End)),
        one_of("to_spot", SPOTS),
        whole_flow("hookup_flow"),
    )

    layout: str
    placement: int
    spot: str
    duty: str
    hookup_kind: str | None
    hookup_standard: str | None
    hookup_end: str | None
    hookup_flow_bore_mm: float | None
    hookup_flow_length_mm: float | None
    hookup_flow_loss_k: float | None
    hookup_flow_roughness_mm: float | None
    to_spot: str | None
    has_via: bool


class LayoutDutyViaRow(CatalogRow, table=True):
    """A kind of which the chain of a duty must contain exactly one."""

    __tablename__ = "layout_duty_via"
    __table_args__ = (
        key("layout", "placement", "spot", "position"),
        refers("layout placement spot", "layout_duty", "layout placement spot"),
        one_of("kind", get_args(Kind)),
    )

    layout: str
    placement: int
    spot: str
    kind: str
