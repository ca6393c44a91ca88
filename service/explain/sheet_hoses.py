"""How the hoses of a bill are laid, in words: which way each leaves, how tight it may be bent, what holds it.

Sources: slack and distance from heat and edges, the cautions of `safety`; radii come from the catalog alone.
"""

from collections.abc import Iterator

from service.domain import units
from service.domain.request import Request
from service.domain.revision import Revision
from service.domain.sheet import LaidHose, Sheet, Step
from service.domain.vehicles import place_of
from service.explain.phrases import listed
from service.explain.sheet_words import Words, counted, spots_words

_ALONG = {"left": "along the rail", "right": "along the rail"}
_OWN = "your own hose"


def lay(step: Step, _: Sheet, __: Request, ___: Revision) -> Words:
    held = f", and hold them with {counted(step.used)}" if step.used else ""
    told = [
        *_ways(step.hoses),
        f"Lay hoses in wide bends off exhaust, edges and moving parts, with a little slack{held}.",
        *_bends(step.hoses),
    ]
    return Words(
        "Lay the hoses",
        " ".join(told),
        "No hose is twisted, flat or taut, and nothing rubs.",
        "A bend is tighter than told, or a hose pulls at its end.",
        "Lay it anew; change one that has kinked or chafed.",
    )


def _ways(hoses: tuple[LaidHose, ...]) -> Iterator[str]:
    """Which way hoses leave, where that is told."""
    spots: dict[str, list[str]] = {}
    for hose in hoses:
        if hose.turned_deg is not None:
            spots.setdefault(_way(hose.spot, hose.turned_deg), []).append(hose.spot)
    for way, at in spots.items():
        yield f"At the {spots_words(tuple(at))} the hose leaves {way}."


def _way(spot: str, turned_deg: float) -> str:
    if turned_deg:
        return f"at {turned_deg:g} degrees to its port"
    return f"straight on, {_ALONG.get(place_of(spot), 'square to the rail')}"


def _bends(hoses: tuple[LaidHose, ...]) -> Iterator[str]:
    """How tight each may be bent; where nothing is told, whose figure it is."""
    radii = {_OWN if hose.line is None else hose.line.name.partition(",")[0]: hose.min_bend_mm for hose in hoses}
    told = [f"{name} to {units.length(mm)}" for name, mm in radii.items() if mm is not None]
    untold = [name for name, mm in radii.items() if mm is None]
    if told:
        yield f"Least radius inside a bend: {'; '.join(told)}."
    if untold:
        yield f"For the bends of {listed(untold)} take the maker's figure."
