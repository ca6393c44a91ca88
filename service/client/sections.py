"""The sections of the catalog, as they are served by page and one by one."""

from dataclasses import dataclass
from typing import Generic, TypeVar

from pydantic import BaseModel, TypeAdapter

from service.documents import catalog

D = TypeVar("D")


class Page(BaseModel, Generic[D]):
    """A page of a section; `next` is the path of the next one, None on the last."""

    revision: int
    results: list[D]
    next: str | None = None


class Detail(BaseModel, Generic[D]):
    """One document of a section, with the revision that it stands in."""

    revision: int
    result: D


@dataclass(frozen=True)
class Section(Generic[D]):
    """A section: its path, and how its pages and documents are read."""

    path: str
    page: TypeAdapter[Page[D]]
    detail: TypeAdapter[Detail[D]]


ITEMS = Section("/v1/items", TypeAdapter(Page[catalog.Item]), TypeAdapter(Detail[catalog.Item]))
CHASSIS = Section("/v1/chassis", TypeAdapter(Page[catalog.Chassis]), TypeAdapter(Detail[catalog.Chassis]))
LAYOUTS = Section("/v1/layouts", TypeAdapter(Page[catalog.Layout]), TypeAdapter(Detail[catalog.Layout]))
ADDONS = Section("/v1/addons", TypeAdapter(Page[catalog.Addon]), TypeAdapter(Detail[catalog.Addon]))
FUELS = Section("/v1/fuels", TypeAdapter(Page[catalog.Fuel]), TypeAdapter(Detail[catalog.Fuel]))
MATERIALS = Section("/v1/materials", TypeAdapter(Page[catalog.Material]), TypeAdapter(Detail[catalog.Material]))
PORT_STANDARDS = Section(
    "/v1/port-standards", TypeAdapter(Page[catalog.PortStandard]), TypeAdapter(Detail[catalog.PortStandard])
)
SECTIONS = (ITEMS, CHASSIS, LAYOUTS, ADDONS, FUELS, MATERIALS, PORT_STANDARDS)
