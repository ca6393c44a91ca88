"""A catalog with edits laid over it: what becomes of its objects, whether it holds together, how edits move to another
revision. An object is its canonical JSON; where there is none, that is None.
"""

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from json import loads
from typing import Any, Literal

from service.documents.catalog import FORMAT
from service.documents.faults import Fault
from service.documents.fuel_order import FUEL_ORDER, document_in, in_order, is_moved
from service.documents.integrity import integrity_faults
from service.documents.packed import ONCE, SECTIONS, PackedCatalog, id_of
from service.documents.pointers import pointer_to, segments_of

WhatBecame = Literal["added", "changed", "removed"]
Sections = Mapping[str, Mapping[str, str]]
_AT_LEAST_ONE = ("fuels",)
_STUBS = ("items", "chassis")
"""Sections that may be long, of whose objects the others look at the id alone, and at `_LOOKED_AT`."""
_LOOKED_AT = ("superseded_by", "gtin")
_FEW = 50
"""Of more edits everything is looked at."""


@dataclass(frozen=True)
class Edit:
    """An object that is otherwise than in the base; `version` is the draft's own when that was done."""

    section: str
    key: str
    what: WhatBecame
    document: str | None
    version: int
    author: str | None
    changed_at: datetime


@dataclass(frozen=True)
class ObjectFault:
    """A fault of one object; `pointer` leads on from it. `key` is empty where a whole section is at fault."""

    section: str
    key: str
    pointer: str
    found: str
    expected: str


@dataclass(frozen=True)
class Conflict:
    """An object that a draft and newer revisions have both changed, and not alike; None: it is not there."""

    section: str
    key: str
    in_base: str | None
    in_draft: str | None
    in_newest: str | None


def became(before: str | None, after: str | None) -> WhatBecame | None:
    """What an object became; None where it is the same."""
    if before == after:
        return None
    return "added" if before is None else "removed" if after is None else "changed"


def overlaid(base: Sections, edits: Iterable[Edit]) -> dict[str, dict[str, str]]:
    """The objects of a catalog with edits: those that are added stand behind the others of their section, but for fuels
    whose order is an edit."""
    sections = {section: dict(texts) for section, texts in base.items()}
    order: str | None = None
    for edit in edits:
        if edit.section == FUEL_ORDER:
            order = edit.document
            continue
        texts = sections.setdefault(edit.section, {})
        if edit.document is None:
            texts.pop(edit.key, None)
        else:
            texts[edit.key] = edit.document
    if order is not None:
        sections["fuels"] = in_order(sections.get("fuels", {}), order)
    return sections


def between(before: Sections, after: Sections) -> Iterator[tuple[str, str, WhatBecame]]:
    """Yield what changed from one catalog to another: section, key and what became of it."""
    for section in {**before, **after}:
        old, new = before.get(section, {}), after.get(section, {})
        for key in {**old, **new}:
            what = became(old.get(key), new.get(key))
            if what is not None:
                yield section, key, what
    if is_moved(before, after):
        yield FUEL_ORDER, "", "changed"


def fields_between(before: str | None, after: str | None) -> tuple[str, ...]:
    """The top-level fields in which an object differs; none where it is in one place alone."""
    if before is None or after is None:
        return ()
    old, new = loads(before), loads(after)
    return tuple(name for name in {**old, **new} if old.get(name) != new.get(name))


def conflicts_of(base: Sections, newest: Sections, edits: Iterable[Edit]) -> list[Conflict]:
    """What keeps edits from moving from their base to the newest revision."""
    found = []
    for edit in edits:
        old, new = (document_in(sections, edit.section, edit.key) for sections in (base, newest))
        if new not in (old, edit.document):
            found.append(Conflict(edit.section, edit.key, old, edit.document, new))
    return found


def faults_over(sections: Sections) -> list[ObjectFault]:
    """All that does not hold between the objects of a catalog, each of which has its right shape."""
    return _faults_in(sections, lambda _section, _key, text: loads(text))


def faults_since(base: PackedCatalog, sections: Sections) -> list[ObjectFault]:
    """All that does not hold in a catalog that edits made of `base`: as `faults_over`, but only what they can touch is
    looked at, unless the base has faults itself.

    What holds of an item or a car hangs on its own text, on the ids that it names, and on where an item's replacements
    lead and which GTINs there are. So of one that neither came nor changed, and names nothing that did or went, its id
    with those two does.
    """
    touched = {key for _, key, _ in between(base.texts, sections) if key}
    if len(touched) > _FEW or base.once(_has_faults):
        return faults_over(sections)
    names = re.compile("|".join(f'"{re.escape(key)}"' for key in sorted(touched)) or "(?!)")

    def read(section: str, key: str, text: str) -> Any:
        if section not in _STUBS or key in touched or names.search(text):
            return loads(text)
        stub: dict[str, Any] = {id_of(section): key}
        if any(f'"{name}"' in text for name in _LOOKED_AT):
            told = loads(text)
            stub |= {name: told[name] for name in _LOOKED_AT if name in told}
        return stub

    return _faults_in(sections, read)


def _has_faults(catalog: PackedCatalog) -> bool:
    return bool(faults_over(catalog.texts))


def _faults_in(sections: Sections, read: Callable[[str, str, str], Any]) -> list[ObjectFault]:
    found = [
        ObjectFault(section, "", "", "nothing", "at least 1 element(s)")
        for section in _AT_LEAST_ONE
        if not sections.get(section)
    ]
    document: dict[str, Any] = {"format": FORMAT}
    for section in SECTIONS:
        document[section] = [read(section, key, text) for key, text in sections.get(section, {}).items()]
    document |= {section: loads(sections[section][""]) for section in ONCE}
    keys = {section: tuple(sections.get(section, {})) for section in SECTIONS}
    return found + [_within(fault, keys) for fault in integrity_faults(document)]


def catalog_over(sections: Sections) -> PackedCatalog:
    """The catalog of objects without a fault."""
    return PackedCatalog(sections).knowing(_has_faults, made=False)


def _within(fault: Fault, keys: Mapping[str, tuple[str, ...]]) -> ObjectFault:
    """A fault of the whole, told of the object in which it is."""
    section, *path = segments_of(fault.pointer)
    known = keys.get(section)
    if known is None:  # what the catalog has once
        return ObjectFault(section, "", pointer_to(path), fault.found, fault.expected)
    place, *rest = path or ["0"]
    return ObjectFault(section, known[int(place)], pointer_to(rest), fault.found, fault.expected)
