"""What is in an object of the catalog, and what an edit changes in it, in plain words."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from json import loads
from typing import Any

from service.documents.fuel_order import FUEL_ORDER, document_in
from service.documents.overlay import Sections, became, between
from service.documents.packed import ONCE
from service.domain.money import priced
from service.web.pages.workshop_shapes import Shape, shape_of

SECTION_WORDS = {
    "items": "Parts",
    "chassis": "Cars",
    "layouts": "Layouts",
    "addons": "Add-ons",
    "fuels": "Fuels",
    "materials": "Materials",
    "port_standards": "Port standards",
    "joints": "Joints",
    "contract_cases": "Standing cases",
    "policies": "Policies",
    "maker": "The maker",
}
"""The sections of a catalog as people call them, in the order of use."""
ONE_OF = {
    "items": "part",
    "chassis": "car",
    "layouts": "layout",
    "addons": "add-on",
    "fuels": "fuel",
    "materials": "material",
    "port_standards": "port standard",
    "joints": "joint",
    "contract_cases": "standing case",
    "policies": "policies",
    "maker": "maker",
    FUEL_ORDER: "order of fuels",
}
OUTCOMES = {
    "broken": ("promise broken", "promises broken"),
    "lost": ("bill lost", "bills lost"),
    "gained": ("bill gained", "bills gained"),
    "new": ("new question", "new questions"),
    "gone": ("question gone", "questions gone"),
    "other best": ("other best bill", "other best bills"),
    "price": ("other price", "other prices"),
    "power": ("other power", "other powers"),
    "count": ("time other bills besides", "times other bills besides"),
    "same": ("the same", "the same"),
}
"""The outcomes of standing questions in the order of telling, as counts name them."""
NOTHING = "nothing"
_MOST_ROWS = 12


def when(at: datetime) -> str:
    """A moment for people, to the minute."""
    return f"{at.astimezone(UTC):%Y-%m-%d %H:%M} UTC"


class Names:
    """What the objects of one catalog, or of the later of two, are called."""

    def __init__(self, *catalogs: Sections) -> None:
        self._catalogs = catalogs
        self.currency = str(loads(catalogs[-1]["maker"][""])["currency"])

    def of(self, section: str, key: str) -> str:
        """The name of an object; its key where it has none."""
        if section in ONCE:
            return SECTION_WORDS[section]
        if section == FUEL_ORDER:
            return "Which fuel is the first"
        for catalog in reversed(self._catalogs):
            text = catalog.get(section, {}).get(key)
            if text is not None:
                return name_in(text, key)
        return key


def name_in(text: str, key: str) -> str:
    """What an object is called, by its JSON."""
    told = loads(text)
    return str(told.get("name") or told.get("says") or key)


@dataclass(frozen=True)
class Difference:
    """A field that is another, in words; `nothing` where it is not told."""

    title: str
    before: str
    after: str


@dataclass(frozen=True)
class ToldChange:
    """What became of an object."""

    section: str
    key: str
    name: str
    what: str
    differences: tuple[Difference, ...]


def changes_told(before: Sections, after: Sections) -> list[ToldChange]:
    """All that differs between two catalogs, section by section."""
    names = Names(before, after)
    found = [change_told(section, key, before, after, names) for section, key, _ in between(before, after)]
    return sorted(found, key=lambda one: list(ONE_OF).index(one.section))


def change_told(section: str, key: str, before: Sections, after: Sections, names: Names) -> ToldChange:
    """What became of one object from one catalog to another."""
    old, new = document_in(before, section, key), document_in(after, section, key)
    differing: tuple[Difference, ...] = ()
    if section == FUEL_ORDER:
        differing = (Difference("Order", order_worded(old, names), order_worded(new, names)),)
    elif old is not None and new is not None:
        differing = tuple(differences(shape_of(section), loads(old), loads(new), names))
    return ToldChange(section, key, names.of(section, key), became(old, new) or "the same", differing)


def order_worded(text: str | None, names: Names) -> str:
    """An order of fuels in words, the first one first."""
    return ", ".join(names.of("fuels", id_) for id_ in loads(text or '{"fuels":[]}')["fuels"])


def differences(shape: Shape, before: Any, after: Any, names: Names, above: str = "") -> Iterator[Difference]:
    """Yield each field that is another, those within a group each by itself."""
    told = shape.of_variant(str((after or before or {}).get(shape.tag, "")))
    for part in told.parts:
        old, new = (before or {}).get(part.name), (after or {}).get(part.name)
        if old == new:
            continue
        title = f"{above}, {part.title.lower()}" if above else part.title
        if part.kind == "group" and old is not None and new is not None:
            yield from differences(part, old, new, names, title)
        elif part.kind in ("rows", "keyed"):
            yield from _of_rows(part, title, old, new, names)
        else:
            yield Difference(title, worded(part, old, names), worded(part, new, names))


def _of_rows(shape: Shape, title: str, before: Any, after: Any, names: Names) -> Iterator[Difference]:
    """Yield the rows that went and those that came; where only their order is another, all of them."""
    old, new = rows_worded(shape, before, names), rows_worded(shape, after, names)
    went, came = [row for row in old if row not in new], [row for row in new if row not in old]
    if not went and not came:
        went, came = old, new
    yield Difference(title, _listed(went), _listed(came))


def rows_worded(shape: Shape, value: Any, names: Names) -> list[str]:
    """The rows of a list, or the values by key of an object, each in words."""
    item = shape.item or shape
    if shape.kind == "keyed":
        key = shape.key or shape
        return [f"{worded(key, name, names)}: {worded(item, inner, names)}" for name, inner in (value or {}).items()]
    values = [value] if isinstance(value, str) else value or []
    return [worded(item, inner, names) for inner in values]


def worded(shape: Shape, value: Any, names: Names) -> str:
    """A value in words."""
    if value is None:
        return NOTHING
    if shape.kind == "group":
        told = shape.of_variant(str(value.get(shape.tag, "")))
        inner = ((part, value.get(part.name)) for part in told.parts)
        return ", ".join(_in_group(part, one, names) for part, one in inner if one is not None)
    if shape.kind in ("rows", "keyed"):
        return _listed(rows_worded(shape, value, names))
    if shape.kind == "money":
        return priced(value, names.currency)
    if shape.kind == "yes":
        return "yes" if value else "no"
    if shape.refers is not None:
        return names.of(shape.refers, value)
    number = f"{value:.15g}" if isinstance(value, float) else str(value)
    return f"{number} {shape.unit}".strip()


def _in_group(part: Shape, value: Any, names: Names) -> str:
    told = worded(part, value, names)
    return told if part.refers or part.kind in ("choice", "text") else f"{part.title.lower()} {told}"


def _listed(rows: list[str]) -> str:
    more = len(rows) - _MOST_ROWS
    return "; ".join(rows[:_MOST_ROWS]) + (f"; {more} more" if more > 0 else "") or NOTHING


def counted(counts: Mapping[str, int]) -> list[tuple[str, int, str]]:
    """The questions by outcome, what is broken or lost first: outcome, how many, in words."""
    return [(name, n, one if n == 1 else many) for name, (one, many) in OUTCOMES.items() if (n := counts.get(name))]
