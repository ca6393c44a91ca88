"""The changes between two catalogs: each is one object, with those of its top-level fields that differ."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal, NamedTuple

from service.documents.overlay import became, fields_between
from service.documents.packed import PackedCatalog, Texts

What = Literal["added", "removed", "changed"]


class Section(NamedTuple):
    """A list of objects in a catalog, and what one of them is called."""

    field: str
    kind: str


SECTIONS = (
    Section("port_standards", "port_standard"),
    Section("joints", "joint"),
    Section("fuels", "fuel"),
    Section("materials", "material"),
    Section("items", "item"),
    Section("chassis", "chassis"),
    Section("addons", "addon"),
    Section("layouts", "layout"),
    Section("contract_cases", "contract_case"),
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


def changes_between(before: PackedCatalog, after: PackedCatalog) -> tuple[Change, ...]:
    """Return every change that leads from one catalog to the other, section by section, by id."""
    return tuple(_changes(before, after))


def _changes(before: PackedCatalog, after: PackedCatalog) -> Iterator[Change]:
    for name in ALONE:
        fields = _differing(before.texts[name].get(""), after.texts[name].get(""))
        if fields:
            yield Change(name, name, "changed", fields)
    for section in SECTIONS:
        old, new = before.texts[section.field], after.texts[section.field]
        yield from _of_section(section.kind, old, new)
        if section.field == "fuels" and _shared(old, new) != _shared(new, old):
            yield Change(FUEL_ORDER, "fuels", "changed")


def _of_section(kind: str, before: Texts, after: Texts) -> Iterator[Change]:
    differing = {id_ for id_ in before if before[id_] != after.get(id_)} | after.keys() - before.keys()
    for id_ in sorted(differing):
        old, new = before.get(id_), after.get(id_)
        what = became(old, new)
        if what is not None:
            yield Change(kind, id_, what, _differing(old, new))


def _differing(old: str | None, new: str | None) -> tuple[str, ...]:
    return tuple(sorted(fields_between(old, new))) if old != new else ()


def _shared(ids: Texts, others: Texts) -> list[str]:
    """The ids that both have, in the order of the first."""
    return [id_ for id_ in ids if id_ in others]
