"""What a question may be about: the cars, fuels, add-ons, layouts and finishes of a catalog, by all they are called."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from service.domain.parts import Item
from service.domain.revision import Revision, Standard
from service.domain.vehicles import Addon, Chassis, DutyEntry, Hookup, Layout, bank_of, place_of
from service.reading.vocabulary import Vocabulary

_MM = re.compile(r"(\d+(?:\.\d+)?)\s*mm\b")
_TUBE = re.compile(r"(?:tube|hose|pipe|line)s?\s+(?:of\s+|od\s+|id\s+)?(\d+(?:\.\d+)?)\s*mm\b")
_INCHES = re.compile(r"\b(\d+)/(\d+)(?=\s*(?:in|inch|\"))")
_DASH = re.compile(r"(?:\bsize\s*-?|\b(?:an|jic|dash)\s*-?\s*|(?<![\w.])-)(\d{1,2})(?![\d./]|\s*mm)")
_CALLED = re.compile(r"([a-z]{1,6})[\s-]*\d{1,2}\b", re.IGNORECASE)
_ENDING = re.compile(r"[a-z][-_.]?(\d{1,2})$", re.IGNORECASE)
_SHORTENED = re.compile(r"\b[A-Z]{3,}\b")
"""What a thread is called in capitals in the size of a port standard."""
_NO_CALLED = frozenset(("size", "mm", "id", "od", "for", "no"))
_MM_PER_DASH = 25.4 / 16
"""A dash number counts sixteenths of an inch."""


@dataclass(frozen=True, slots=True)
class Called:
    """A thing of the catalog by its id, its name, and what else people call it."""

    id: str
    name: str
    aliases: tuple[str, ...] = ()

    @property
    def names(self) -> tuple[str, ...]:
        return (self.id, self.name, *self.aliases)


@dataclass(frozen=True, slots=True)
class Car:
    """A car, what it is called, its engine, and the spots of its rails."""

    called: Called
    engine: str
    chassis: Chassis
    places: frozenset[str]
    finishes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Sizes:
    """What the size of a hose's end may be told by: its number, or the diameters in mm that people measure.

    `called`: the catalog's own word before the number, as in `DN 10`.
    """

    numbers: frozenset[int] = frozenset()
    dashes: frozenset[int] = frozenset()
    mm: frozenset[float] = frozenset()
    called: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Traits:
    """How fuel runs in a layout, as people tell it. `feeds`, `returns`: the places of each placement."""

    kinds: frozenset[str]
    feed_sizes: tuple[Sizes, ...]
    return_sizes: tuple[Sizes, ...]
    feeds: tuple[tuple[str, ...], ...]
    returns: tuple[tuple[str, ...], ...]
    has_return: bool
    has_regulator: bool
    has_link: bool
    is_each: bool
    is_both_ends: bool
    banks: int

    @property
    def paths(self) -> tuple[object, ...]:
        """Where fuel is led in and out, and by which hoses."""
        return self.kinds, self.feed_sizes, self.return_sizes, self.feeds, self.returns


@dataclass(frozen=True, slots=True)
class LayoutWords:
    called: Called
    banks: int
    traits: Traits


@dataclass(frozen=True)
class Lexicon:
    """All that the readers of a question know of a catalog.

    `parts` by what they are called, `kinds` by SKU; `rail_ends`: in which ends the spots of rails have each standard;
    `wetted`: by material the active parts in which fuel touches it.
    """

    cars: tuple[Car, ...]
    fuels: tuple[Called, ...]
    addons: tuple[tuple[Called, Addon], ...]
    layouts: tuple[LayoutWords, ...]
    finishes: tuple[str, ...]
    standards: tuple[Called, ...]
    materials: tuple[Called, ...]
    currency: str
    parts: Vocabulary
    kinds: Mapping[str, str] = field(default_factory=dict)
    rail_ends: Mapping[str, frozenset[str]] = field(default_factory=dict)
    wetted: Mapping[str, tuple[str, ...]] = field(default_factory=dict)


def lexicon_of(
    revision: Revision,
    parts: Vocabulary,
    engines: Mapping[str, str],
    aliases: Mapping[str, Mapping[str, tuple[str, ...]]],
) -> Lexicon:
    """The lexicon of a revision; `engines` by chassis; `aliases` by section and id."""

    def called(section: str, id_: str, name: str) -> Called:
        return Called(id_, name, aliases.get(section, {}).get(id_, ()))

    items = revision.items.values()
    return Lexicon(
        cars=tuple(
            _car(called("chassis", x.id, x.name), engines[x.id], x, revision) for x in revision.chassis.values()
        ),
        fuels=tuple(called("fuels", x.id, x.name) for x in revision.fuels.values()),
        addons=tuple((called("addons", x.id, x.name), x) for x in revision.addons.values()),
        layouts=tuple(
            LayoutWords(called("layouts", x.id, x.name), x.banks, traits_of(x, revision.standards))
            for x in revision.layouts.values()
        ),
        finishes=tuple(dict.fromkeys(x.finish for x in items if x.finish)),
        standards=tuple(Called(x.id, x.name, tuple(_SHORTENED.findall(x.size))) for x in revision.standards.values()),
        materials=tuple(called("materials", x.id, x.name) for x in revision.materials.values()),
        currency=revision.currency,
        parts=parts,
        kinds={x.sku: x.kind for x in items if x.active},
        rail_ends=_rail_ends(items),
        wetted=_wetted(items),
    )


def _car(called: Called, engine: str, chassis: Chassis, revision: Revision) -> Car:
    shapes = revision.shapes.get(chassis.pattern, ())
    places = frozenset(place for shape in shapes for place in shape.spots)
    return Car(called, engine, chassis, places, _finishes(rail for shape in shapes for rail in shape.rails))


def _rail_ends(items: Iterable[Item]) -> dict[str, frozenset[str]]:
    ends: dict[str, frozenset[str]] = {}
    for port in (port for item in items if item.kind == "rail" for port in item.ports if port.spot):
        ends[port.opening.standard] = ends.get(port.opening.standard, frozenset()) | {port.opening.end}
    return ends


def _wetted(items: Iterable[Item]) -> dict[str, tuple[str, ...]]:
    found: dict[str, list[str]] = {}
    for sku, material in ((item.sku, x) for item in items if item.active for x in item.wetted):
        found.setdefault(material, []).append(sku)
    return {material: tuple(skus) for material, skus in found.items()}


def _finishes(items: Iterable[Item]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(x.finish for x in items if x.finish and x.active))


def traits_of(layout: Layout, standards: Mapping[str, Standard]) -> Traits:
    """How fuel runs in a layout, of all its placements."""
    entries = [entry for placement in layout.placements for entry in placement.values()]
    fed = [entry for entry in entries if entry.duty == "feed"]
    back = [entry for entry in entries if entry.duty == "return"]
    feeds = tuple(_places(placement, "feed") for placement in layout.placements)
    banks = [{bank_of(s) for s, e in placement.items() if e.duty == "feed"} for placement in layout.placements]
    return Traits(
        kinds=frozenset(entry.hookup_kind for entry in fed if entry.hookup_kind),
        feed_sizes=_sizes(fed, standards),
        return_sizes=_sizes(back, standards),
        feeds=feeds,
        returns=tuple(_places(placement, "return") for placement in layout.placements),
        has_return=bool(back),
        has_regulator=any("regulator" in entry.via for entry in back),
        has_link=any(entry.duty == "link" for entry in entries),
        is_each=bool(banks) and all(len(one) > 1 for one in banks),
        is_both_ends=any(len(places) > len(on) for places, on in zip(feeds, banks, strict=True)),
        banks=layout.banks,
    )


def _places(placement: Mapping[str, DutyEntry], duty: str) -> tuple[str, ...]:
    return tuple(place_of(spot) for spot, entry in placement.items() if entry.duty == duty)


def _sizes(entries: Iterable[DutyEntry], standards: Mapping[str, Standard]) -> tuple[Sizes, ...]:
    hoses = [entry.own_hose for entry in entries if entry.own_hose is not None]
    return tuple(dict.fromkeys(_size(hose, standards.get(hose.opening.standard)) for hose in hoses))


def _size(hose: Hookup, standard: Standard | None) -> Sizes:
    told = "" if standard is None else f"{standard.id} ; {standard.name} ; {standard.size}".casefold()
    own = _MM.findall(told.partition(";")[2].split(";")[0])
    mm = {float(one) for one in (*own, *_TUBE.findall(told))}
    mm |= {25.4 * int(over) / int(under) for over, under in _INCHES.findall(told) if int(under)}
    dashes = {int(one) for one in _DASH.findall(told)}
    mm |= {dash * _MM_PER_DASH for dash in dashes}
    if not mm and standard is not None and (ending := _ENDING.search(standard.id)):
        dashes = {int(ending[1])}  # a number that may count anything
    begun = None if standard is None else _CALLED.match(standard.size)
    if hose.passage is not None:
        mm.add(1000 * hose.passage.bore_m)
    numbers = dashes | {int(float(one)) for one in own}
    called = frozenset((begun[1].casefold(),)) - _NO_CALLED if begun else frozenset()
    return Sizes(frozenset(numbers), frozenset(dashes), frozenset(mm), called)
