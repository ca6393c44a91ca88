"""What must hold of the spots of cars and layouts: the right banks, and duties that lead somewhere."""

from collections.abc import Iterator

from service.documents.arriving import Part
from service.documents.faults import Fault
from service.documents.fields import PLACES
from service.documents.rendering import printable, rendered

_FITTING_SPOTS = {1: PLACES, 2: tuple(f"{bank}.{place}" for bank in (1, 2) for place in PLACES)}
_SPOT_WORDS = {
    1: f"a spot of a one-bank engine: {', '.join(PLACES[:-1])} or {PLACES[-1]}",
    2: f"a spot of a two-bank engine: 1.{PLACES[0]} to 2.{PLACES[-1]}",
}


def spot_faults(catalog: Part) -> Iterator[Fault]:
    """Yield the faults of spots on chassis, then those of layouts."""
    for chassis in catalog.parts("chassis"):
        banks = _banks(chassis)
        for clearance in chassis.parts("clearances"):
            yield from _misfit(clearance, clearance.text("spot"), banks, "spot")
        for hookup in chassis.parts("hookups"):
            for spot, reach in hookup.members("spots").items():
                yield from _misfit(reach, spot, banks)
    for layout in catalog.parts("layouts"):
        for placement in layout.parts("placements"):
            entries = placement.inner_parts()
            for spot, entry in entries.items():
                yield from _misfit(entry, spot, _banks(layout))
                yield from _duty(spot, entry, entries)


def _banks(part: Part) -> int | None:
    banks = part.number("banks")
    return int(banks) if banks in (1, 2) else None


def _misfit(part: Part, spot: str | None, banks: int | None, *names: str) -> Iterator[Fault]:
    """Yield a fault where a spot (the part's key, or a field) is none of an engine with so many banks."""
    if spot is not None and banks is not None and spot not in _FITTING_SPOTS[banks]:
        yield part.fault(_SPOT_WORDS[banks], *names, found=None if names else rendered(spot))


def _duty(spot: str, entry: Part, entries: dict[str, Part]) -> Iterator[Fault]:
    duty = entry.text("duty")
    if duty == "link":
        if entry.has("hookup"):
            yield entry.fault("no hookup: a link leads to another spot", "hookup")
        yield from _link(spot, entry, entries)
    elif duty in ("feed", "return"):
        if entry.has("to_spot"):
            yield entry.fault(f"no to_spot: a {duty} leads to a hookup", "to_spot")
        if not entry.has("hookup"):
            yield entry.fault(f"a hookup: where the {duty} leads", "hookup")
    hookup = entry.part("hookup")
    if hookup:
        yield from _hose(hookup)


def _hose(hookup: Part) -> Iterator[Fault]:
    if hookup.text("kind") == "own-hose":
        for name in ("standard", "end"):
            if not hookup.has(name):
                yield hookup.fault(f"the {name} of the hose: the car does not tell it", name)
    elif hookup.text("kind") is not None:
        for name in ("hex_mm", "min_bend_mm"):
            if hookup.has(name):
                yield hookup.fault(f"no {name}: it is told of your own hose alone", name)


def _link(spot: str, entry: Part, entries: dict[str, Part]) -> Iterator[Fault]:
    if not entry.has("to_spot"):
        yield entry.fault("the spot that the link leads to", "to_spot")
        return
    partner = _partner(spot, entry, entries)
    if partner is None:
        yield entry.fault("another spot of this placement whose duty is link", "to_spot")
        return
    # Where the partner's own to_spot is a fault, that one fault tells it all.
    to_spot = entries[partner].text("to_spot")
    if to_spot != spot and _partner(partner, entries[partner], entries) is not None:
        leads = f"{printable(partner)} leads to {printable(str(to_spot))}"
        yield entry.fault(f"a spot whose link leads back: {leads}", "to_spot")


def _partner(spot: str, entry: Part, entries: dict[str, Part]) -> str | None:
    """Return the spot that a link leads to, where that is another link of the placement."""
    to_spot = entry.text("to_spot")
    other = entries.get(to_spot) if to_spot not in (None, spot) else None
    return to_spot if other is not None and other.text("duty") == "link" else None
