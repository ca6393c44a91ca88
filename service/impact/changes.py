"""The changes between two catalogs: each is one object, with those of its top-level fields that differ."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Literal, NamedTuple

from pydantic import BaseModel

from service.documents.catalog import Catalog

What = Literal["added", "removed", "changed"]


class Section(NamedTuple):
    """A list of objects in a catalog: what one of them is called, and the field that names it."""

    field: str
    kind: str
    id_field: str


SECTIONS = (
    Section("port_standards", "port_standard", "id"),
    Section("joints", "joint", "id"),
    Section("fuels", "fuel", "id"),
    Section("materials", "material", "id"),
    Section("items", "item", "sku"),
    Section("chassis", "chassis", "id"),
    Section("addons", "addon", "id"),
    Section("layouts", "layout", "id"),
    Section("contract_cases", "contract_case", "id"),
)
"""In the order of the document, which is that of telling."""
ALONE = ("maker", "policies")
"""Sections that are one object."""
FUEL_ORDER = "fuel_order"
"""The kind of the change of the order of fuels: the first is what is asked where no fuel is told."""


@dataclass(frozen=True, slots=True)
class Change:
    """One object that is in one of two catalogs alone, or differs; `fields`: those that differ, where it is in both."""

    kind: str
    id: str
    what: What
    fields: tuple[str, ...] = ()


def changes_between(before: Catalog, after: Catalog) -> tuple[Change, ...]:
    """Return every change that leads from one catalog to the other, section by section, by id."""
    return tuple(_changes(before, after))


def objects(catalog: Catalog, section: Section) -> dict[str, BaseModel]:
    """Return the objects of a section by id, in catalog order."""
    return {getattr(one, section.id_field): one for one in getattr(catalog, section.field) or ()}


def _changes(before: Catalog, after: Catalog) -> Iterator[Change]:
    for name in ALONE:
        fields = _differing(getattr(before, name), getattr(after, name))
        if fields:
            yield Change(name, name, "changed", fields)
    for section in SECTIONS:
        yield from _of_section(section, objects(before, section), objects(after, section))
        if section.field == "fuels" and _fuel_order(before, after) != _fuel_order(after, before):
            yield Change(FUEL_ORDER, "fuels", "changed")


def _of_section(section: Section, before: Mapping[str, BaseModel], after: Mapping[str, BaseModel]) -> Iterator[Change]:
    for id_ in sorted({*before, *after}):
        old, new = before.get(id_), after.get(id_)
        if old is None or new is None:
            yield Change(section.kind, id_, "added" if old is None else "removed")
        elif old is not new and (fields := _differing(old, new)):
            yield Change(section.kind, id_, "changed", fields)


def _differing(old: BaseModel, new: BaseModel) -> tuple[str, ...]:
    was, is_ = _plain(old), _plain(new)
    return tuple(name for name in sorted({*was, *is_}) if was.get(name) != is_.get(name))


def _plain(one: BaseModel) -> dict[str, Any]:
    return one.model_dump(mode="json", exclude_none=True)


def _fuel_order(catalog: Catalog, other: Catalog) -> list[str]:
    """The fuels that both have, in the order of the first."""
    shared = {fuel.id for fuel in other.fuels}
    return [fuel.id for fuel in catalog.fuels if fuel.id in shared]
