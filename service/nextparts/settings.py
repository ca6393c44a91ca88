"""The spots of a request with what each has to do, for each rail, placement and place for the gauge."""

from collections.abc import Iterator, Mapping
from typing import NamedTuple

from service.domain.parts import Item, Opening, RailShape
from service.domain.request import Request
from service.domain.revision import Revision
from service.domain.vehicles import DutyEntry, Hookup, Reach, place_of


class Spot(NamedTuple):
    """A spot with its duty. `target`: the opening that its chain ends on, None where it ends in itself; `reach`: the
    window of standout [mm], None where there is none; `axial_mm`, `across_mm`: the room, None where it is not limited;
    `plugs`: those that come with the rail for it."""

    opening: Opening
    duty: str
    target: Opening | None
    via: tuple[str, ...]
    axial_mm: float | None
    across_mm: float | None
    reach: Reach | None
    plugs: tuple[Item, ...]


def settings(request: Request, revision: Revision) -> Iterator[tuple[Spot, ...]]:
    """Yield the spots of every way to lay out a request that rails and car have the spots and hookups for."""
    if request.layout.banks != request.chassis.banks:
        return
    own = request.own_rail
    for shape in (own,) if own is not None else revision.shapes.get(request.chassis.pattern, ()):
        openings = {spot: opening for place, opening in shape.spots.items() for spot in request.chassis.on_banks(place)}
        for placement in request.layout.placements:
            hookups = _hookups(placement, request)
            if hookups is None or not openings.keys() >= placement.keys():
                continue
            free = [spot for spot in openings if spot not in placement]
            for gauge in _gauge_spots(request.gauge, free):
                yield tuple(_spots(request, shape, openings, placement, hookups, gauge))


def _hookups(placement: Mapping[str, DutyEntry], request: Request) -> dict[str, Hookup] | None:
    found = {}
    for spot, entry in placement.items():
        if entry.duty != "link":
            hookup = entry.own_hose or request.chassis.hookups.get(entry.hookup_kind or "")
            if hookup is None:
                return None
            found[spot] = hookup
    return found


def _gauge_spots(gauge: str, free: list[str]) -> list[str | None]:
    if gauge == "none":
        return [None]
    return [spot for spot in free if gauge in ("any", spot)]


def _spots(
    request: Request,
    shape: RailShape,
    openings: Mapping[str, Opening],
    placement: Mapping[str, DutyEntry],
    hookups: Mapping[str, Hookup],
    gauge: str | None,
) -> Iterator[Spot]:
    for spot, opening in openings.items():
        axial_mm, across_mm = _room(request, spot)
        entry = placement.get(spot)
        if entry is None:
            duty = "gauge" if spot == gauge else "closed"
            plugs = shape.plugs.get(place_of(spot), ()) if duty == "closed" else ()
            yield Spot(opening, duty, None, (), axial_mm, across_mm, None, plugs)
        elif entry.duty == "link":
            far = entry.to_spot or spot
            if spot < far:
                via = tuple(sorted({*entry.via, *placement[far].via}))
                yield Spot(opening, "link", openings[far], via, axial_mm, across_mm, None, ())
        else:
            hookup = hookups[spot]
            reach = None if hookup.reaches is None else hookup.reaches.get(spot)
            if hookup.reaches is None or reach is not None:
                via = tuple(sorted(set(entry.via)))
                yield Spot(opening, entry.duty, hookup.opening, via, axial_mm, across_mm, reach, ())
            else:  # no chain reaches this hookup here
                yield Spot(opening, "unreached", hookup.opening, (), axial_mm, across_mm, None, ())


def _room(request: Request, spot: str) -> tuple[float | None, float | None]:
    """The smallest room at a spot among car, add-ons and request, mm."""
    given = [*request.chassis.clearances, *request.clearances]
    given += [clearance for addon in request.addons for clearance in addon.clearances]
    here = [clearance for clearance in given if clearance.spot == spot]
    axial = min((x.axial_mm for x in here if x.axial_mm is not None), default=None)
    across = min((x.across_mm for x in here if x.across_mm is not None), default=None)
    return axial, across
