"""What is served by page: the sections of the catalog, whose documents can be had one by one, and other lists."""

from dataclasses import dataclass
from typing import Generic, TypeVar
from urllib.parse import quote

from pydantic import BaseModel

from service.documents import catalog
from service.documents.uses import Use

D = TypeVar("D")


class Page(BaseModel, Generic[D]):
    """A page of a list; `next` is the path of the next one, None on the last; the rest where a list has it."""

    revision: int
    results: list[D]
    next: str | None = None
    currency: str | None = None
    tax: str | None = None
    sku: str | None = None
    not_found: list[str] | None = None


class Detail(BaseModel, Generic[D]):
    """One document of a section, with the revision that it stands in."""

    revision: int
    result: D


@dataclass(frozen=True)
class Listed(Generic[D]):
    """A list: its path, and how its pages are read."""

    path: str
    page: type[Page[D]]


@dataclass(frozen=True)
class Section(Listed[D]):
    """A section: a list of documents, and how one of them is read."""

    detail: type[Detail[D]]


ITEMS = Section("/v1/items", Page[catalog.Item], Detail[catalog.Item])
CHASSIS = Section("/v1/chassis", Page[catalog.Chassis], Detail[catalog.Chassis])
LAYOUTS = Section("/v1/layouts", Page[catalog.Layout], Detail[catalog.Layout])
ADDONS = Section("/v1/addons", Page[catalog.Addon], Detail[catalog.Addon])
FUELS = Section("/v1/fuels", Page[catalog.Fuel], Detail[catalog.Fuel])
MATERIALS = Section("/v1/materials", Page[catalog.Material], Detail[catalog.Material])
PORT_STANDARDS = Section("/v1/port-standards", Page[catalog.PortStandard], Detail[catalog.PortStandard])
SECTIONS = (ITEMS, CHASSIS, LAYOUTS, ADDONS, FUELS, MATERIALS, PORT_STANDARDS)


def uses_of(sku: str) -> Listed[Use]:
    """The cars, layouts and spots that a part could be used for."""
    return Listed(f"{ITEMS.path}/{quote(sku)}/uses", Page[Use])
