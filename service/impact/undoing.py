"""A catalog with some of its changes undone, and what has to be undone with a change so that the rest can stand."""

from collections.abc import Iterable, Iterator
from functools import lru_cache
from json import loads
from typing import Any

from service.documents.catalog import IN_TRADE
from service.documents.overlay import ObjectFault, faults_since
from service.documents.packed import PackedCatalog, Texts
from service.documents.pointers import segments_of
from service.impact.changes import ALONE, FUEL_ORDER, SECTIONS, Change, Section, changes_between

_KINDS = {section.field: section.kind for section in SECTIONS}
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

    def __init__(self, before: PackedCatalog, after: PackedCatalog) -> None:
        self.before = before
        self.after = after
        self.changes = changes_between(before, after)
        self._by_object = {(change.kind, change.id): change for change in self.changes}
        self.with_what_hangs_on = lru_cache(None)(self._with_what_hangs_on)

    def without(self, undone: Iterable[Change]) -> PackedCatalog:
        """Return the later catalog with these changes undone, whether or not it is valid so."""
        gone = {(change.kind, change.id) for change in undone}
        texts = dict(self.after.texts)
        texts |= {name: self.before.texts[name] for name in ALONE if (name, name) in gone}
        for section in SECTIONS:
            ids = {id_ for kind, id_ in gone if kind == section.kind}
            if ids:
                texts[section.field] = self._objects(section, ids)
        if (FUEL_ORDER, "fuels") in gone:
            texts["fuels"] = self._in_old_order(texts["fuels"])
        return PackedCatalog(texts)

    def _with_what_hangs_on(self, change: Change) -> frozenset[Change] | None:
        """Return a change with all others that cannot stand without it; None where it cannot be undone at all."""
        undone = {change}
        if change.what == "changed" and _STANDS_BY_ITSELF.issuperset(change.fields) and change.fields:
            return frozenset(undone)
        while True:
            catalog = self.without(undone)
            faults = faults_since(self.after, catalog.texts)
            more = {other for fault in faults for other in self._to_blame(fault, catalog, undone)}
            if not more:
                return None if faults else frozenset(undone)
            undone |= more

    def _to_blame(self, fault: ObjectFault, catalog: PackedCatalog, undone: set[Change]) -> Iterator[Change]:
        """Yield what has to be undone as well for a fault: the change of the object that has it, or, where that is
        as it was before, the change of what it names."""
        own = self._by_object.get((_KINDS.get(fault.section, ""), fault.key))
        if own is not None and own not in undone:
            yield own
            return
        if fault.pointer:
            segments = segments_of(fault.pointer)
            names = {segments[-1], str(_value_at(loads(catalog.texts[fault.section][fault.key]), segments))}
            yield from (change for change in self.changes if change.id in names and change not in undone)

    def _objects(self, section: Section, gone: set[str]) -> Texts:
        """Return the objects of a section with these changes undone; one that comes back stands where it stood."""
        was, is_ = self.before.texts[section.field], self.after.texts[section.field]
        order = [id_ for id_ in is_ if id_ in was or id_ not in gone]
        before: list[str] = []
        for id_ in was if gone - is_.keys() else ():
            if id_ not in is_ and id_ in gone:
                behind = next((order.index(other) + 1 for other in reversed(before) if other in order), 0)
                order.insert(behind, id_)
            before.append(id_)
        return {id_: was[id_] if id_ in gone else is_[id_] for id_ in order}

    def _in_old_order(self, fuels: Texts) -> Texts:
        """Return fuels with those that were there before in their former order, in the places that these take."""
        places = {id_: place for place, id_ in enumerate(self.before.texts["fuels"])}
        former = iter(sorted((id_ for id_ in fuels if id_ in places), key=places.__getitem__))
        order = [next(former) if id_ in places else id_ for id_ in fuels]
        return {id_: fuels[id_] for id_ in order}


def _value_at(document: Any, segments: Iterable[str]) -> object:
    for segment in segments:
        if isinstance(document, list) and segment.isdecimal() and int(segment) < len(document):
            document = document[int(segment)]
        elif isinstance(document, dict):
            document = document.get(segment)
        else:
            return None
    return document
