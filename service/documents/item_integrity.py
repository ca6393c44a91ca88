"""What must hold within an item and between items: rails and their spots, boxes, replacements."""

from collections.abc import Iterable, Iterator

from service.documents.arriving import Part
from service.documents.faults import Fault
from service.documents.fields import PLACES
from service.documents.rendering import printable
from service.domain.gtin import check_digit, is_gtin, same_number
from service.domain.parts import OWN_RAIL

_PLACE_WORDS = f"{', '.join(PLACES[:-1])} or {PLACES[-1]}"
_SKUS_TOLD = 4
_ENDS = 2


def item_faults(catalog: Part) -> Iterator[Fault]:
    """Yield the faults of each item, then those of replacements that run in a circle."""
    for item in catalog.parts("items"):
        if item.text("sku") == OWN_RAIL:
            yield item.fault(f"another SKU: {OWN_RAIL} stands for a rail of the customer's own", "sku")
        if item.text("kind") == "rail":
            yield from _rail(item)
        elif item.text("kind") is not None:
            yield from _no_rail(item)
        if item.has("outlet_deg") and len(item.parts("ports")) < _ENDS:
            yield item.fault("no outlet_deg: the item has no second port", "outlet_deg")
        for supplied in item.parts("supplied"):
            if supplied.has("spot") and supplied.has("role"):
                yield supplied.fault("a spot or a role, not both")
    yield from _gtins(catalog.parts("items"))
    yield from _circles(catalog.parts("items"))


def _gtins(items: Iterable[Part]) -> Iterator[Fault]:
    """Yield what is no GTIN by its check digit, and each that another item has before."""
    known: dict[str, str] = {}
    for item in items:
        gtin = item.text("gtin")
        if gtin is None or not is_gtin(gtin):
            continue
        right = check_digit(gtin[:-1])
        if gtin[-1] != str(right):
            yield item.fault(f"{right} as the last digit, which checks the others: {gtin[:-1]}{right}", "gtin")
            continue
        other = known.setdefault(same_number(gtin), item.text("sku") or "")
        if other != item.text("sku"):
            yield item.fault(f"a GTIN of its own: {printable(other)} has this one", "gtin")


def _rail(rail: Part) -> Iterator[Fault]:
    if not rail.fields.get("patterns", ()):
        yield rail.fault("a list of at least one pattern: the item is a rail", "patterns")
    if rail.fields.get("ports") == []:
        yield rail.fault("at least one port: the item is a rail", "ports")
    ports = rail.parts("ports")
    taken: set[str] = set()
    for port in ports:
        spot = port.text("spot")
        if not port.has("spot"):
            yield port.fault(f"{_PLACE_WORDS}: the port of a rail tells its spot", "spot")
        elif spot in taken:
            yield port.fault("a spot of its own: another port of this rail is there", "spot")
        elif spot is not None:
            taken.add(spot)
    # A port without a readable spot may be the one that a box is meant for.
    if all(port.text("spot") in PLACES for port in ports):
        yield from _supplied_spots(rail, taken)


def _supplied_spots(rail: Part, spots: set[str]) -> Iterator[Fault]:
    for supplied in rail.parts("supplied"):
        if supplied.has("spot") and supplied.text("spot") not in spots:
            known = ", ".join(place for place in PLACES if place in spots) or "none"
            yield supplied.fault(f"a spot that this rail has: {known}", "spot")


def _no_rail(item: Part) -> Iterator[Fault]:
    for port in item.parts("ports"):
        if port.has("spot"):
            yield port.fault("no spot: only the ports of a rail have one", "spot")
    for supplied in item.parts("supplied"):
        if supplied.has("spot"):
            yield supplied.fault("no spot: only the box of a rail is meant for spots", "spot")


def _circles(items: list[Part]) -> Iterator[Fault]:
    """Yield one fault for each circle of replacements, at its first item in the document."""
    by_sku: dict[str, Part] = {}
    for item in items:
        if (own_sku := item.text("sku")) is not None:
            by_sku.setdefault(own_sku, item)
    settled: set[str] = set()
    for start in by_sku:
        trail: dict[str, None] = {}
        sku: str | None = start
        while sku in by_sku and sku not in settled and sku not in trail:
            trail[sku] = None
            sku = by_sku[sku].text("superseded_by")
        settled.update(trail)
        if sku is not None and sku in trail:
            yield _circle(list(trail)[list(trail).index(sku) :], by_sku)


def _circle(skus: list[str], by_sku: dict[str, Part]) -> Fault:
    first = min(skus, key=lambda sku: by_sku[sku].path[-1])
    turned = [*skus[skus.index(first) :], *skus[: skus.index(first)]]
    told = [printable(sku) for sku in turned[:_SKUS_TOLD]] + ["…"] * (len(turned) > _SKUS_TOLD)
    found = "a circle: " + " > ".join([*told, printable(first)])
    return by_sku[first].fault("a replacement that does not lead back to the item", "superseded_by", found=found)
