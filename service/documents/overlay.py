"""A catalog with edits laid over it: what becomes of its objects, whether it holds together, how edits move to another
revision. An object is its canonical JSON; where there is none, that is None.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from json import loads
from typing import Any, Literal

from service.documents.catalog import FORMAT
from service.documents.faults import Fault
from service.documents.integrity import integrity_faults
from service.documents.packed import ONCE, SECTIONS, PackedCatalog
from service.documents.pointers import pointer_to, segments_of

WhatBecame = Literal["added", "changed", "removed"]
Sections = Mapping[str, Mapping[str, str]]
_AT_LEAST_ONE = ("fuels",)


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
    """The objects of a catalog with edits: those that are added stand behind the others of their section."""
    sections = {section: dict(texts) for section, texts in base.items()}
    for edit in edits:
        texts = sections.setdefault(edit.section, {})
        if edit.document is None:
            texts.pop(edit.key, None)
        else:
            texts[edit.key] = edit.document
    return sections


def between(before: Sections, after: Sections) -> Iterator[tuple[str, str, WhatBecame]]:
    """Yield what changed from one catalog to another: section, key and what became of it."""
    for section in {**before, **after}:
        old, new = before.get(section, {}), after.get(section, {})
        for key in {**old, **new}:
            what = became(old.get(key), new.get(key))
            if what is not None:
                yield section, key, what


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
        old, new = (sections.get(edit.section, {}).get(edit.key) for sections in (base, newest))
        if new not in (old, edit.document):
            found.append(Conflict(edit.section, edit.key, old, edit.document, new))
    return found


def faults_over(sections: Sections) -> list[ObjectFault]:
    """All that does not hold between the objects of a catalog, each of which has its right shape."""
    found = [
        ObjectFault(section, "", "", "nothing", "at least 1 element(s)")
        for section in _AT_LEAST_ONE
        if not sections.get(section)
    ]
    document: dict[str, Any] = {"format": FORMAT}
    for section in SECTIONS:
        document[section] = [loads(text) for text in sections.get(section, {}).values()]
    document |= {section: loads(sections[section][""]) for section in ONCE}
    keys = {section: tuple(sections.get(section, {})) for section in SECTIONS}
    return found + [_within(fault, keys) for fault in integrity_faults(document)]


def catalog_over(sections: Sections) -> PackedCatalog:
    """The catalog of objects without a fault."""
    return PackedCatalog(sections)


def _within(fault: Fault, keys: Mapping[str, tuple[str, ...]]) -> ObjectFault:
    """A fault of the whole, told of the object in which it is."""
    section, *path = segments_of(fault.pointer)
    known = keys.get(section)
    if known is None:  # what the catalog has once
        return ObjectFault(section, "", pointer_to(path), fault.found, fault.expected)
    place, *rest = path or ["0"]
    return ObjectFault(section, known[int(place)], pointer_to(rest), fault.found, fault.expected)
