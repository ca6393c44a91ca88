"""A catalog with some of its changes undone, and what has to be undone with a change so that the rest can stand."""

from collections.abc import Iterable, Iterator, Mapping
from functools import lru_cache
from typing import Any

from pydantic import BaseModel

from service.documents.catalog import IN_TRADE, Catalog, Fuel
from service.documents.faults import Fault
from service.documents.integrity import integrity_faults
from service.documents.pointers import segments_of
from service.impact.changes import ALONE, FUEL_ORDER, SECTIONS, Change, Section, changes_between, objects

_BY_FIELD = {section.field: section for section in SECTIONS}
_STANDS_BY_ITSELF = frozenset(
    {
        "across_mm",
        "base_kpa",
        "clearances",
        "family",
        "finish",
        "lead_days",
        "mass_g",
        "max_kpa",
        "name",
        "price",
        "sold",
        "standout_mm",
        "status",
        "stock",
        "stock_kw",
    }
) | (IN_TRADE - {"gtin"})
"""Fields that no other object has to agree with: a change of these alone is undone alone."""


class Undoing:
    """Undoes changes between two valid catalogs, some at a time."""

    def __init__(self, before: Catalog, after: Catalog) -> None:
        self.before = before
        self.after = after
        self.changes = changes_between(before, after)
        self._by_object = {(change.kind, change.id): change for change in self.changes}
        self._was = {section.field: objects(before, section) for section in SECTIONS}
        self._is = {section.field: objects(after, section) for section in SECTIONS}
        self.with_what_hangs_on = lru_cache(None)(self._with_what_hangs_on)

    def without(self, undone: Iterable[Change]) -> Catalog:
        """Return the later catalog with these changes undone, whether or not it is valid so."""
        gone = {(change.kind, change.id) for change in undone}
        update: dict[str, Any] = {name: getattr(self.before, name) for name in ALONE if (name, name) in gone}
        for section in SECTIONS:
            if any(kind == section.kind for kind, _ in gone):
                found = list(self._objects(section, {id_ for kind, id_ in gone if kind == section.kind}))
                update[section.field] = found or (None if section.field == "contract_cases" else [])
        if (FUEL_ORDER, "fuels") in gone:
            update["fuels"] = self._in_old_order(update.get("fuels", self.after.fuels))
        return self.after.model_copy(update=update)

    def _with_what_hangs_on(self, change: Change) -> frozenset[Change] | None:
        """Return a change with all others that cannot stand without it; None where it cannot be undone at all."""
        undone = {change}
        if change.what == "changed" and _STANDS_BY_ITSELF.issuperset(change.fields) and change.fields:
            return frozenset(undone)
        while True:
            document = self.without(undone).model_dump(mode="json", exclude_none=True)
            more = {other for fault in integrity_faults(document) for other in self._to_blame(fault, document, undone)}
            if not more:
                stands = next(iter(integrity_faults(document)), None) is None and document["fuels"]
                return frozenset(undone) if stands else None
            undone |= more

    def _to_blame(self, fault: Fault, document: Mapping[str, Any], undone: set[Change]) -> Iterator[Change]:
        """Yield what has to be undone as well for a fault: the change of the object that has it, or, where that is
        as it was before, the change of what it names."""
        segments = segments_of(fault.pointer)
        section = _BY_FIELD.get(segments[0]) if segments else None
        if section is not None and len(segments) > 1:
            holder = document[section.field][int(segments[1])]
            own = self._by_object.get((section.kind, str(holder[section.id_field])))
            if own is not None and own not in undone:
                yield own
                return
        names = {segments[-1], str(_value_at(document, segments))} if segments else set()
        yield from (change for change in self.changes if change.id in names and change not in undone)

    def _objects(self, section: Section, gone: set[str]) -> Iterator[BaseModel]:
        """Yield the objects of a section with these changes undone; one that comes back stands where it stood."""
        was, is_ = self._was[section.field], self._is[section.field]
        order = [id_ for id_ in is_ if id_ in was or id_ not in gone]
        before: list[str] = []
        for id_ in was:
            if id_ not in is_ and id_ in gone:
                behind = next((order.index(other) + 1 for other in reversed(before) if other in order), 0)
                order.insert(behind, id_)
            before.append(id_)
        yield from (was[id_] if id_ in gone else is_[id_] for id_ in order)

    def _in_old_order(self, fuels: list[Fuel]) -> list[Fuel]:
        """Return fuels with those that were there before in their former order, in the places that these take."""
        places = {fuel.id: place for place, fuel in enumerate(self.before.fuels)}
        former = iter(sorted((fuel for fuel in fuels if fuel.id in places), key=lambda fuel: places[fuel.id]))
        return [next(former) if fuel.id in places else fuel for fuel in fuels]


def _value_at(document: Any, segments: Iterable[str]) -> object:
    for segment in segments:
        if isinstance(document, list) and segment.isdecimal() and int(segment) < len(document):
            document = document[int(segment)]
        elif isinstance(document, dict):
            document = document.get(segment)
        else:
            return None
    return document
