"""`clearance`: what stands at a spot keeps within the room there, along its axis and across it."""

from collections.abc import Iterator, Mapping
from typing import NamedTuple

from service.domain import units
from service.domain.chains import Chain, Lengths, Measured
from service.domain.explanation import Left
from service.domain.findings import Facts
from service.domain.margins import Limit, Margin
from service.domain.request import Room, SpotSituation
from service.domain.tongue import place, said
from service.rules.rule import ChainRule, Holds, always


def _fits(axial_mm: Lengths, across_mm: Lengths, room: Room) -> Holds:
    fits: Holds = True
    if room.axial_mm is not None:
        fits = axial_mm <= round(room.axial_mm, 3)
    if room.across_mm is not None:
        fits = fits & (across_mm <= round(room.across_mm, 3))
    return fits


class Rooms(NamedTuple):
    """The room at the spot, and at the far spot where there is one."""

    near: Room
    far: Room | None


def reads(situation: SpotSituation) -> Rooms:
    return Rooms(situation.room, situation.far_room if situation.far_spot is not None else None)


def holds(chain: Measured, rooms: Rooms) -> Holds:
    fits = _fits(chain.axial_mm, chain.across_mm, rooms.near)
    if rooms.far is None:
        return fits
    return fits & _fits(chain.far_axial_mm, chain.far_across_mm, rooms.far)


def facts(chain: Chain, situation: SpotSituation) -> Facts | None:
    """Facts of the tighter end: the first end that is broken, else the near one."""
    near, *others = ends(chain, situation)
    if not others or not _fits(chain.axial_mm, chain.across_mm, situation.room):
        return near
    return near if near is not None and holds(chain, reads(situation)) else others[0]


def ends(chain: Chain, situation: SpotSituation) -> list[Facts | None]:
    """Facts of each end that stands at a spot: one, or both of a link; None where its room is not limited."""
    found = [_end_facts(situation.spot, chain.axial_mm, chain.across_mm, situation.room)]
    if situation.far_spot is not None:
        found.append(_end_facts(situation.far_spot, chain.far_axial_mm, chain.far_across_mm, situation.far_room))
    return found


def stops(chain: Chain, situation: SpotSituation) -> Iterator[Facts]:
    """Facts of each measure at each end that is broken, one by one."""
    for facts in filter(None, ends(chain, situation)):
        for left, needed, given in _MEASURES:
            if facts.get(left, 0.0) < 0:
                yield {name: facts[name] for name in ("spot", needed, given, left)}


_MEASURES = (("axial_left_mm", "standout_mm", "axial_mm"), ("across_left_mm", "width_mm", "across_mm"))


def limits(chain: Measured, situation: SpotSituation) -> Iterator[Limit]:
    """The room along the axis and across it, at each end where it is limited."""
    found = [(situation.spot, chain.axial_mm, chain.across_mm, situation.room)]
    if situation.far_spot is not None:
        found.append((situation.far_spot, chain.far_axial_mm, chain.far_across_mm, situation.far_room))
    for spot, axial_mm, across_mm, room in found:
        if room.axial_mm is not None:
            yield Limit("clearance", axial_mm, round(room.axial_mm, 3), (spot,))
        if room.across_mm is not None:
            yield Limit("across", across_mm, round(room.across_mm, 3), (spot,))


def break_points(chain: Measured, situation: SpotSituation, wish: str) -> Iterator[Lengths]:
    """Room begins to do where it is what a chain needs."""
    _, spot, measure = wish.split("/")
    if spot == situation.spot:
        yield chain.axial_mm if measure == "axial_mm" else chain.across_mm
    elif spot == situation.far_spot:
        yield chain.far_axial_mm if measure == "axial_mm" else chain.far_across_mm


def left(facts: Facts) -> Left | None:
    """Along the axis or across it, whichever is relatively less."""
    found = [
        (facts[left] / facts[limit] if facts.get(limit) else 0.0, facts[left])
        for left, _, limit in _MEASURES
        if left in facts
    ]
    return Left(min(found)[1], "mm") if found else None


def short(facts: Facts) -> float:
    """The length that is missing in the worse direction, mm."""
    return max(-float(facts.get("axial_left_mm", 0.0)), -float(facts.get("across_left_mm", 0.0)))


def _end_facts(spot: str, axial_mm: float, across_mm: float, room: Room) -> Facts | None:
    facts: dict[str, object] = {"spot": spot}
    if room.axial_mm is not None:
        facts |= {
            "standout_mm": axial_mm,
            "axial_mm": room.axial_mm,
            "axial_left_mm": round(round(room.axial_mm, 3) - axial_mm, 3),
        }
    if room.across_mm is not None:
        facts |= {
            "width_mm": across_mm,
            "across_mm": room.across_mm,
            "across_left_mm": round(round(room.across_mm, 3) - across_mm, 3),
        }
    return facts if len(facts) > 1 else None


def _reason(facts: Facts) -> str:
    spot = place(facts["spot"])
    axial = {name: units.length(facts[fact]) for name, fact in _AXIAL.items() if fact in facts}
    across = {name: units.length(facts[fact]) for name, fact in _ACROSS.items() if fact in facts}
    if axial and across:
        return said(
            "At the {spot} spot it stands {standout} where {axial} is free and is {width} across where {across} is "
            "free.",
            spot=spot,
            **axial,
            **across,
        )
    if axial:
        return said("At the {spot} spot it stands {standout} where {axial} is free.", spot=spot, **axial)
    return said("At the {spot} spot it is {width} across where {across} is free.", spot=spot, **across)


_AXIAL = {"standout": "standout_mm", "axial": "axial_mm"}
_ACROSS = {"width": "width_mm", "across": "across_mm"}


def _rejection(facts: Facts) -> str:
    axial_left = facts.get("axial_left_mm", 0)
    if isinstance(axial_left, float) and axial_left < 0:
        return said(
            "Stands {standout} proud of the {spot} spot, where only {axial} is free.",
            standout=units.length(facts["standout_mm"]),
            spot=place(facts["spot"]),
            axial=units.length(facts["axial_mm"]),
        )
    return said(
        "Is {width} across at the {spot} spot, where only {across} is free.",
        width=units.length(facts["width_mm"]),
        spot=place(facts["spot"]),
        across=units.length(facts["across_mm"]),
    )


def _limit(margin: Margin, _duties: Mapping[str, str], _part: str) -> str:
    spot = place(margin.spots[0])
    if margin.what == "clearance":
        return said("room along the axis at the {spot} spot", spot=spot)
    return said("room across at the {spot} spot", spot=spot)


RULE = ChainRule(
    "clearance",
    _reason,
    _rejection,
    reads,
    holds,
    facts,
    ("clearances", "addons"),
    stops=stops,
    limits=limits,
    break_points=break_points,
    left=left,
    short=short,
    missing=always("There is too little room."),
    limit=_limit,
)
