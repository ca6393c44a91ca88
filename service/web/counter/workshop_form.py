"""An object of a draft as a form: each field with what was typed, what is wrong with it and what others made of it."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from json import loads
from typing import Any

from service.documents.overlay import Sections
from service.usecases.errors import RequestFault
from service.web.counter.workshop_typed import Read, Typed
from service.web.pages.workshop_shapes import Shape
from service.web.pages.workshop_words import ONE_OF, name_in

MOST_CHOICES = 40
"""So many objects stand in a box to choose from; of more, a part of the name is typed."""
MOST_SUGGESTED = 400
_MOST_READ = 3_000
"""The words of so many objects are gathered."""
_UNTOLD = "nothing"


@dataclass(frozen=True)
class Notes:
    """What stands beside fields: by name what is wrong, and what others made of it meanwhile."""

    faults: Mapping[str, list[str]] = field(default_factory=dict)
    theirs: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class Entry:
    """A field, a group or rows in a form; `parts` are what it holds, `key` that of a keyed row."""

    shape: Shape
    name: str
    text: str = ""
    is_there: bool = True
    parts: tuple["Entry", ...] = ()
    key: "Entry | None" = None
    faults: tuple[str, ...] = ()
    theirs: str | None = None

    @property
    def id(self) -> str:
        """The id of its field on the page."""
        return f"f{self.name}"

    @property
    def described_by(self) -> str:
        """The ids of what is said beside its field."""
        told = [f"{self.id}-hint"] if self.shape.purpose or self.shape.bounds else []
        return " ".join(told + ([f"{self.id}-fault"] if self.faults else []))

    def names(self) -> Iterator[str]:
        """Yield the names of all that is shown."""
        yield self.name
        for part in self.parts:
            yield from part.names()


def entry_of(shape: Shape, typed: Typed, notes: Notes | None = None, name: str = "") -> Entry:
    """The form of what was typed; a list of plain values has an empty row at its end."""
    notes = notes or Notes()
    told: dict[str, Any] = {"faults": tuple(notes.faults.get(name, ())), "theirs": notes.theirs.get(name)}
    if shape.is_leaf:
        return Entry(shape, name, typed or "", **told)
    if shape.kind == "group":
        group = shape.of_variant(str((typed or {}).get(shape.tag, "")))
        parts = [entry_of(part, (typed or {}).get(part.name), notes, f"{name}/{part.name}") for part in group.parts]
        return Entry(shape, name, is_there=typed is not None, parts=tuple(parts if typed is not None else ()), **told)
    item, rows = shape.item or shape, list(typed or ())
    told["is_there"] = bool(rows) or shape.is_required
    if shape.kind == "rows":
        rows += [""] if item.is_leaf else []
        parts = [entry_of(item, row, notes, f"{name}/{place}") for place, row in enumerate(rows)]
    else:
        parts = [_keyed(shape, row, notes, f"{name}/{place}") for place, row in enumerate(rows)]
    return Entry(shape, name, parts=tuple(parts), **told)


def _keyed(shape: Shape, row: Typed, notes: Notes, name: str) -> Entry:
    inner = entry_of(shape.item or shape, row["value"], notes, f"{name}/value")
    key = entry_of(shape.key or shape, row["key"], notes, f"{name}/key")
    return Entry(shape, name, parts=(inner,), key=key, faults=tuple(notes.faults.get(name, ())))


def notes_of(faults: Iterable[RequestFault], read: Read, shown: Iterable[str]) -> dict[str, list[str]]:
    """By the name of each field the faults that are to stand beside it: of what is not shown, beside what is above."""
    told: dict[str, list[str]] = {}
    names = set(shown)
    for name, words in read.faults:
        told.setdefault(name, []).append(words)
    unread = {name for name, _ in read.faults}
    for fault in faults:
        name = _place_of(fault.pointer, read, names)
        if name not in unread:
            told.setdefault(name, []).append(fault_told(fault))
    return told


def _place_of(pointer: str, read: Read, shown: set[str]) -> str:
    """The field of a pointer, or the nearest above it that is shown."""
    while pointer and pointer not in read.places:
        above, _, last = pointer.rpartition("/")
        if above in read.places and f"{read.places[above]}/{last}" in shown:
            return f"{read.places[above]}/{last}"
        pointer = above
    name = read.places.get(pointer, "")
    while name and name not in shown:
        name = name.rpartition("/")[0]
    return name


def fault_told(fault: RequestFault) -> str:
    """A fault in a sentence for people."""
    expected = fault.expected
    for section, word in ONE_OF.items():
        expected = expected.replace(f"an element of {section}", f"a {word} of the catalog")
    if fault.found == _UNTOLD and "required" in expected:
        return "This has to be told."
    nearest = f" Nearest: {', '.join(fault.nearest)}." if fault.nearest else ""
    return f"Expected {expected}; found {fault.found}.{nearest}"


@dataclass(frozen=True)
class Choices:
    """What may be chosen: by section its objects with their names; by what words are shared, those that are in use."""

    objects: Mapping[str, list[tuple[str, str]]]
    words: Mapping[str, list[str]]

    def are_few(self, section: str) -> bool:
        """Whether all objects of a section stand in one box."""
        return len(self.objects[section]) <= MOST_CHOICES


def choices_in(texts: Sections, shape: Shape) -> Choices:
    """What a form over a shape lets people choose in a catalog."""
    leaves = list(_leaves(shape))
    sections = {leaf.refers for leaf in leaves if leaf.refers is not None}
    wanted = {leaf.words for leaf in leaves if leaf.words is not None}
    objects = {
        section: [(key, name_in(text, key)) for key, text in list(texts.get(section, {}).items())[:MOST_SUGGESTED]]
        for section in sections
    }
    return Choices(objects, _words_in(texts, wanted))


def _leaves(shape: Shape) -> Iterator[Shape]:
    if shape.is_leaf:
        yield shape
    inner = [part for _, variant in shape.variants for part in variant.parts]
    for one in (*shape.parts, *inner, shape.item, shape.key):
        if one is not None:
            yield from _leaves(one)


def _words_in(texts: Sections, wanted: set[str]) -> dict[str, list[str]]:
    found: dict[str, set[str]] = {name: set() for name in wanted}
    for section in ("items", "chassis", "addons"):
        for text in list(texts.get(section, {}).values())[:_MOST_READ]:
            for name, value in _told_in(loads(text)):
                if name in found:
                    found[name].add(value)
    return {name: sorted(values)[:MOST_SUGGESTED] for name, values in found.items()}


def _told_in(document: Mapping[str, Any]) -> Iterator[tuple[str, str]]:
    """Yield the free words of an object, each with what it is shared as."""
    for name in ("family", "finish"):
        if document.get(name):
            yield name, document[name]
    for pattern in [*document.get("patterns", ()), *filter(None, [document.get("pattern")])]:
        yield "patterns", pattern
    for held in [*document.get("mounting", ()), *document.get("supplied", ())]:
        if held.get("role"):
            yield "role", held["role"]
