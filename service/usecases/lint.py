"""Look over a catalog without faults for what is odd: each remark has its place and says what to look at."""

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator
from statistics import median

from service.documents.catalog import Item
from service.documents.pointers import pointer_to
from service.documents.remarks import Remark, remarks
from service.domain.parts import OPPOSITE_END
from service.domain.request import Request
from service.domain.work import Meter, TooCostlyError, metered
from service.reading.folding import folded
from service.settings import WORK_LIMIT
from service.usecases.library import Edition

_SCREWED_IN = frozenset({"fitting", "plug", "gauge", "line", "regulator"})
_ODD_TIMES = 10
"""A price so many times its family's, or so small a part of it, is taken for a slip."""
_STEADY_PART = 0.75
"""The most that steady pressure takes of a gauge's scale [-]. Source: EN 837-2."""
_FIT_SEALS = ("A", "B")
_End = tuple[str, str]


def lint(edition: Edition) -> Iterator[Remark]:
    """Yield the remarks on the catalog of an edition, subject by subject."""
    yield from _unmet_parts(edition)
    yield from _cars_without_a_bill(edition)
    yield from _spots_closed_elsewhere(edition)
    yield from _wide_bores(edition)
    yield from _odd_prices(edition)
    yield from _scant_gauges(edition)
    yield from _seals_that_suit_no_fuel(edition)
    yield from remarks(edition.catalog)
    yield from _alike_names(edition)


def _unmet_parts(edition: Edition) -> Iterator[Remark]:
    """Parts with a port that no other part, car or hose of a layout meets."""
    offered = Counter(_ends(edition))
    for index, item in enumerate(edition.catalog.items):
        if item.kind not in _SCREWED_IN:
            continue
        own = Counter[_End]((port.standard, port.end) for port in item.ports)
        unmet = [
            place
            for place, port in enumerate(item.ports)
            if offered[port.standard, OPPOSITE_END[port.end]] == own[port.standard, OPPOSITE_END[port.end]]
        ]
        if unmet and len(unmet) == len(item.ports):
            yield Remark(pointer_to(("items", index)), f"nothing meets {item.sku}: no other part, car or hose mates")
            continue
        for place in unmet:
            port = item.ports[place]
            pointer = pointer_to(("items", index, "ports", place))
            yield Remark(pointer, f"nothing meets the {port.end} {port.standard} port of {item.sku}")


def _ends(edition: Edition) -> Iterator[_End]:
    """Every end that something has: parts, cars, and the hoses of layouts."""
    catalog = edition.catalog
    yield from ((port.standard, port.end) for item in catalog.items for port in item.ports)
    yield from ((hookup.standard, hookup.end) for chassis in catalog.chassis for hookup in chassis.hookups)
    for layout in catalog.layouts:
        for entry in (entry for placement in layout.placements for entry in placement.values()):
            if entry.hookup is not None and entry.hookup.standard is not None and entry.hookup.end is not None:
                yield entry.hookup.standard, entry.hookup.end


def _cars_without_a_bill(edition: Edition) -> Iterator[Remark]:
    revision = edition.revision
    fuel = next(iter(revision.fuels.values()))
    for index, chassis in enumerate(revision.chassis.values()):
        layouts = [layout for layout in revision.layouts.values() if layout.banks == chassis.banks]
        asked = (Request(chassis, layout, fuel, chassis.stock_kw) for layout in layouts)
        if not any(_has_bill(edition, request) for request in asked):
            text = f"no layout gives {chassis.id} a bill" if layouts else f"no layout has the banks of {chassis.id}"
            yield Remark(pointer_to(("chassis", index)), text)


def _has_bill(edition: Edition, request: Request) -> bool:
    """Whether a request has a bill; one that takes too much work has many."""
    try:
        with metered(Meter(WORK_LIMIT)):
            return edition.engine.count(request) > 0
    except TooCostlyError:
        return True


def _spots_closed_elsewhere(edition: Edition) -> Iterator[Remark]:
    """Spots of rails that only plugs from elsewhere close, or none at all."""
    plugs: defaultdict[_End, list[Item]] = defaultdict(list)
    for item in edition.catalog.items:
        for port in item.ports if item.kind == "plug" and item.status == "active" else ():
            plugs[port.standard, OPPOSITE_END[port.end]].append(item)
    for index, rail in enumerate(edition.catalog.items):
        if rail.kind != "rail" or rail.status != "active":
            continue
        in_the_box = {supplied.spot for supplied in rail.supplied or () if supplied.spot is not None}
        for place, port in enumerate(rail.ports):
            closing = plugs[port.standard, port.end]
            if port.spot in in_the_box or any(plug.sold for plug in closing):
                continue
            by = f"only bought elsewhere ({', '.join(plug.sku for plug in closing)})" if closing else "by no plug"
            yield Remark(
                pointer_to(("items", index, "ports", place)), f"the {port.spot} spot of {rail.sku} is closed {by}"
            )


def _wide_bores(edition: Edition) -> Iterator[Remark]:
    """Bores that are wider than a thread that they run through."""
    threads = {x.id: x.thread.diameter_mm for x in edition.catalog.port_standards if x.thread is not None}
    tapers = {x.id: x.taper.outside_mm for x in edition.catalog.port_standards if x.taper is not None}
    outside = threads | tapers
    for index, item in enumerate(edition.catalog.items):
        if item.flow is None or item.kind == "rail":
            continue
        for port in item.ports:
            thread_mm = outside.get(port.standard)
            if port.end == "male" and thread_mm is not None and item.flow.bore_mm >= thread_mm:
                pointer = pointer_to(("items", index, "flow", "bore_mm"))
                yield Remark(pointer, f"{item.flow.bore_mm:g} mm is wider than its {port.standard} ({thread_mm:g} mm)")


def _odd_prices(edition: Edition) -> Iterator[Remark]:
    families: defaultdict[str, list[tuple[int, Item]]] = defaultdict(list)
    for index, item in enumerate(edition.catalog.items):
        if item.family is not None:
            families[item.family].append((index, item))
    for kin in families.values():
        for index, item in kin:
            others = [other.price for _, other in kin if other is not item]
            usual = median(others) if others else 0
            if usual > 0 and (item.price >= _ODD_TIMES * usual or item.price * _ODD_TIMES <= usual):
                text = f"{item.price} minor units, while others of {item.family} cost {usual:g}"
                yield Remark(pointer_to(("items", index, "price")), text)


def _scant_gauges(edition: Edition) -> Iterator[Remark]:
    """Gauges without an end of scale, or with one that no car's pressure leaves room below."""
    least_kpa = min((chassis.base_kpa for chassis in edition.catalog.chassis), default=0.0)
    for index, item in enumerate(edition.catalog.items):
        if item.kind != "gauge":
            continue
        pointer = pointer_to(("items", index, "max_kpa"))
        if item.max_kpa is None:
            yield Remark(pointer, f"no end of scale is told of {item.sku}: what it stands is not judged")
        elif _STEADY_PART * item.max_kpa < least_kpa:
            yield Remark(pointer, f"{item.max_kpa:g} kPa: every car's base pressure is above three quarters of it")


def _seals_that_suit_no_fuel(edition: Edition) -> Iterator[Remark]:
    """Joints whose spare seals leave a fuel without one that is rated A or B."""
    ratings = {material.id: material.ratings for material in edition.catalog.materials}
    for index, joint in enumerate(edition.catalog.joints):
        seals = [edition.items[sku] for sku in joint.spare_seal or ()]
        for fuel in edition.catalog.fuels if seals else ():
            rated = (all(ratings[material][fuel.id] in _FIT_SEALS for material in seal.wetted) for seal in seals)
            if not any(rated):
                pointer = pointer_to(("joints", index, "spare_seal"))
                yield Remark(pointer, f"none of its seals is rated A or B for {fuel.id}")


def _alike_names(edition: Edition) -> Iterator[Remark]:
    """Names that are the same but for case and signs, or differ in one letter: of parts, cars and layouts."""
    catalog = edition.catalog
    sections: tuple[tuple[str, Iterable[tuple[str, str]]], ...] = (
        ("items", ((item.sku, item.name) for item in catalog.items)),
        ("chassis", ((chassis.id, chassis.name) for chassis in catalog.chassis)),
        ("layouts", ((layout.id, layout.name) for layout in catalog.layouts)),
    )
    for section, named in sections:
        known: dict[str, tuple[str, str]] = {}
        for index, (id_, name) in enumerate(named):
            plain = "".join(sign for sign in folded(name) if sign.isalnum())
            near = {plain, *_with_a_letter_less(plain)}
            other = next((known[text] for text in sorted(near) if text in known), None)
            if other is not None and _numbers(other[1]) == _numbers(plain) and _is_near(other[1], plain):
                text = f"{name!r} is nearly the name of {other[0]}"
                yield Remark(pointer_to((section, index, "name")), text)
            for text in near:
                known.setdefault(text, (id_, plain))


def _with_a_letter_less(text: str) -> Iterator[str]:
    return (text[:place] + text[place + 1 :] for place in range(len(text)) if not text[place].isdigit())


def _is_near(one: str, other: str) -> bool:
    """Whether two texts are the same but for one letter that is another, more or less."""
    if len(one) == len(other):
        return sum(a != b for a, b in zip(one, other, strict=True)) <= 1
    short, long = sorted((one, other), key=len)
    return len(long) - len(short) == 1 and any(long[:x] + long[x + 1 :] == short for x in range(len(long)))


def _numbers(text: str) -> str:
    return "".join(sign for sign in text if sign.isdigit())
