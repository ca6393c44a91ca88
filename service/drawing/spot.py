"""One spot: the parts one after the other, their numbers, an arrow for the flow, and the room up to its limits."""

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from service.documents.sheet import SheetSpot, StandingPart
from service.domain.vehicles import place_of
from service.drawing.duties import draw_flow
from service.drawing.frame import AXES, Frame, drawn_mm, has_limit
from service.drawing.parts import standing_sketch
from service.drawing.shapes import PartShape
from service.drawing.sketch import draw_sketch
from service.drawing.svg import USUAL_SHADE, Node, Point, circle, line, shape, text, wide

_LEAST_HALF, _MOST_HALF = 5.0, 60.0
_USUAL_HALF = 8.0
_LEAST_LONG = 3.0
_BALLOON = 10.0
_ARROW = 22.0
_GAP = 5.0
_PLUG = 5.0
_CLEAR = 3.0
WORDS = 13.0
"""So large that they can be read on a phone, and on paper 80 mm wide."""
LINE = 16.0


class Placed(NamedTuple):
    """Where a part is drawn, outwards in units: its start, its length, its middle, and its number."""

    start: float
    long: float
    middle: float
    number: float


def _placed(spot: SheetSpot, scale: float) -> list[Placed]:
    """The parts one after the other; numbers that would stand on one another are moved on."""
    found: list[Placed] = []
    out, free = 0.0, _BALLOON + 2
    for part in spot["standing"]:
        long = 0.0 if part["side"] else max(part["standout_mm"] * scale, _LEAST_LONG)
        middle = max(out - _PLUG, _PLUG) if part["side"] else out + long / 2
        number = max(middle, free)
        found.append(Placed(out, long, middle, number))
        out, free = out + long, number + 2 * _BALLOON + 1
    return found


def _end(placed: list[Placed]) -> float:
    return placed[-1].start + placed[-1].long if placed else 0.0


def reach(spot: SheetSpot, scale: float) -> float:
    """How far out all that is drawn at a spot comes, in units: its limit, parts, numbers and arrow."""
    placed = _placed(spot, scale)
    arrow = 0.0 if spot["flows"] == "none" else _GAP + _ARROW
    numbers = max((part.number + _BALLOON for part in placed), default=0.0)
    words = _middle_left(spot, scale) + wide(_left_words(spot), WORDS) / 2
    return max(drawn_mm(spot) * scale, _end(placed) + arrow, numbers, words)


def _left_words(spot: SheetSpot) -> str:
    left = spot["axial_left_mm"]
    return "" if left is None else f"{left:g} mm left"


def _middle_left(spot: SheetSpot, scale: float) -> float:
    """How far out the room that is left is told, in units: at its middle; under an axis that lies clear of the rail."""
    middle = (spot["standout_mm"] + drawn_mm(spot)) / 2 * scale
    if AXES[place_of(spot["spot"])].is_upright:
        return middle
    return max(middle, wide(_left_words(spot), WORDS) / 2 + _CLEAR)


def beside(spot: SheetSpot, scale: float) -> float:
    """How far to each side of its axis all that is drawn at a spot comes, in units."""
    return _widest(spot, scale) + 3 * _BALLOON


def across(spot: SheetSpot, scale: float) -> tuple[float, float]:
    """How far to the left and to the right of an upright axis all that is drawn at a spot comes, in units."""
    words = wide(_left_words(spot), WORDS)
    return beside(spot, scale), _widest(spot, scale) + 17 + words


def below(spot: SheetSpot, scale: float) -> float:
    """How far under the axis of an end of a rail all that is drawn comes, in units: what is left stands lowest."""
    told = 0.0 if spot["axial_left_mm"] is None else _GAP + LINE
    return _widest(spot, scale) + 14 + told


def draw_spot(
    parent: Node, spot: SheetSpot, numbers: Sequence[int], frame: Frame, shapes: Mapping[str, PartShape]
) -> None:
    """Draw all of it; `shapes`: by SKU, of the parts that are more than their kind and size."""
    placed = _placed(spot, frame.scale)
    halves = [_half(part, frame.scale) for part in spot["standing"]]
    half = max(halves, default=_LEAST_HALF)
    widest = _widest(spot, frame.scale)
    for part, at, own_half, number in zip(spot["standing"], placed, halves, numbers, strict=True):
        if part["side"]:
            _side_plug(parent, frame, at.middle, half)
        else:
            told = shapes.get(part["sku"], PartShape(part["kind"]))
            _part(parent, frame, part, told, at)
        edge = half + _PLUG if part["side"] else own_half
        _balloon(parent, frame, (at.middle, edge), (at.number, widest + 2 * _BALLOON), number)
    _arrow(parent, spot, frame, _end(placed) + _GAP)
    _room(parent, spot, frame, widest)


def _widest(spot: SheetSpot, scale: float) -> float:
    """Half of what is drawn across: the widest part, or the room where its limit is drawn."""
    halves = [_half(part, scale) for part in spot["standing"]]
    return max([_LEAST_HALF, *halves, _room_half(spot, scale) or 0.0])


def _room_half(spot: SheetSpot, scale: float) -> float | None:
    """Half the width of the room; None where it is not limited, or so wide that it is not drawn."""
    room = spot["across_mm"]
    return None if room is None or room / 2 * scale > _MOST_HALF else room / 2 * scale


def _half(part: StandingPart, scale: float) -> float:
    wide_mm = part["across_mm"]
    return _USUAL_HALF if wide_mm is None else min(max(wide_mm / 2 * scale, _LEAST_HALF), _MOST_HALF)


def _part(parent: Node, frame: Frame, part: StandingPart, told: PartShape, at: Placed) -> None:
    """A part by its sketch, as long and as wide as it is drawn."""
    drawn = told._replace(standout_mm=at.long / frame.scale, across_mm=2 * _half(part, frame.scale) / frame.scale)

    def place(out: float, across: float) -> Point:
        return frame.at(out, across * frame.scale, at.start)

    draw_sketch(parent, standing_sketch(drawn), place, scale=frame.scale, shade=USUAL_SHADE)


def _side_plug(parent: Node, frame: Frame, middle: float, half: float) -> None:
    corners = [(-_PLUG, 0.0), (_PLUG, 0.0), (_PLUG, _PLUG), (-_PLUG, _PLUG)]
    shape(parent, [frame.at(0, half + across, middle + along) for along, across in corners], shaded=True)


def _balloon(parent: Node, frame: Frame, part: Point, at: Point, number: int) -> None:
    """The number beside a part, with a line to the part's edge; both told outwards and across, in units."""
    centre = frame.at(0, at[1], at[0])
    line(parent, frame.at(0, part[1], part[0]), frame.at(0, at[1] - _BALLOON, at[0]), width=0.8)
    circle(parent, centre, _BALLOON, width=0.8)
    text(parent, (centre[0], centre[1] + 4.6), str(number), size=WORDS, anchor="middle")


def _arrow(parent: Node, spot: SheetSpot, frame: Frame, start: float) -> None:
    """Towards the rail for fuel that comes in, away from it for fuel that leaves, both ways for both."""
    if spot["flows"] != "none":
        draw_flow(parent, spot["duty"], spot["flows"], frame.at(0, 0, start), frame.at(0, 0, start + _ARROW))


def _room(parent: Node, spot: SheetSpot, frame: Frame, widest: float) -> None:
    """The limits of the room as dashed lines, and what is left up to the one along the axis."""
    limit, left = spot["axial_mm"], spot["axial_left_mm"]
    near = limit is not None and has_limit(spot)
    half = _room_half(spot, frame.scale)
    if half is not None:
        for side in (half, -half):
            end = drawn_mm(spot) if near else spot["standout_mm"]
            line(parent, frame.at(0, side), frame.at(end, side), dashes="4 3", width=1)
    if limit is not None and near:
        line(parent, frame.at(limit, widest + 4), frame.at(limit, -widest - 14), dashes="4 3")
        aside = -widest - 8
        line(parent, frame.at(spot["standout_mm"], aside), frame.at(limit, aside), width=0.8)
        line(parent, frame.at(spot["standout_mm"], aside - 3), frame.at(spot["standout_mm"], aside + 3), width=0.8)
    if left is not None:
        at = frame.at(0, -widest - 12, _middle_left(spot, frame.scale))
        _told_left(parent, _left_words(spot), at, is_upright=frame.is_upright)


def _told_left(parent: Node, words: str, at: Point, *, is_upright: bool) -> None:
    """Beside an upright axis, else under it."""
    x, y = at
    if is_upright:
        text(parent, (x + 5, y + 4), words, size=WORDS)
    else:
        text(parent, (x, y + LINE - 2), words, size=WORDS, anchor="middle")
