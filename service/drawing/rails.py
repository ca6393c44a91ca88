"""The rails of a sheet: each spot, the parts that go in with their numbers, the way fuel flows, the room that is left.

As wide as a phone, so that its words can be read there as they are; what the parts are stands beside it, by their
numbers. All figures are those of the sheet. Nothing is told by colour: parts have numbers, duties words and arrows.
"""

from collections.abc import Iterator, Mapping, Sequence
from itertools import count
from types import MappingProxyType

from service.documents.sheet import SheetRail, SheetSpot
from service.domain import units
from service.domain.vehicles import place_of
from service.drawing.frame import RAIL_HEIGHT, frame_of, length_mm
from service.drawing.shapes import PartShape
from service.drawing.spot import LINE, WORDS, across, below, beside, draw_spot, reach
from service.drawing.svg import Node, Point, group, image, shape, text, wide, written

WIDTH = 360.0
_MOST_HIGH = 150.0
"""What stands over and under a rail is together drawn no higher, where the scale is free."""
_ROOM = 6.0
"""Around all that stands at the spots."""
_LEAST_REACH = 22.0
"""What is kept free around a rail in any case: for the numbers beside its ends."""
_SMALLER = 0.94
_LEAST_SCALE = 1e-3
_UPRIGHT = ("top", "centre")


def numbers_of(rails: Sequence[SheetRail]) -> list[list[list[int]]]:
    """The number of each part that stands at a spot, by rail and spot: from 1, as they are listed."""
    number = count(1)
    return [[[next(number) for _ in spot["standing"]] for spot in rail["spots"]] for rail in rails]


def draw_rails(
    rails: Sequence[SheetRail],
    title: str,
    *,
    name: str = "plan",
    numbers: Sequence[Sequence[Sequence[int]]] | None = None,
    shapes: Mapping[str, PartShape] = MappingProxyType({}),
) -> str:
    """The rails one over the other as an SVG image, with its alternative in words.

    `name` tells it from others on its page; `numbers`: of each standing part, by rail and spot, None: those of
    `numbers_of`; `shapes`: what is known of parts by SKU beyond their kind and size.
    """
    scale = _scale_of(rails)
    heights = [_height(rail, scale) for rail in rails]
    width = max((_width(rail, scale) for rail in rails), default=WIDTH)
    root = image(width, sum(heights), name, title, " ".join(_told(rail) for rail in rails))
    down = 0.0
    for rail, height, own in zip(rails, heights, numbers or numbers_of(rails), strict=True):
        _rail(group(root), rail, own, (width, down), scale, shapes)
        down += height
    return written(root)


def _told(rail: SheetRail) -> str:
    spots = " ".join(
        f"{spot['spot']}: {', then '.join(part['name'] for part in spot['standing']) or 'no part'}. {spot['text']}"
        for spot in rail["spots"]
    )
    return f"{rail['name']}. {spots}"


def _scale_of(rails: Sequence[SheetRail]) -> float:
    """Units a millimetre, the same in every direction and for all rails: at most 1, and so that all has room."""
    return next((scale for scale in _scales() if all(_has_room(rail, scale) for rail in rails)), _LEAST_SCALE)


def _scales() -> Iterator[float]:
    scale = 1.0
    while scale > _LEAST_SCALE:
        yield scale
        scale *= _SMALLER


def _has_room(rail: SheetRail, scale: float) -> bool:
    return _needs(rail, scale) <= WIDTH and _reach(rail, "top", scale) + _reach(rail, "centre", scale) <= _MOST_HIGH


def _needs(rail: SheetRail, scale: float) -> float:
    ends = max(_reach(rail, "left", scale), _reach(rail, "right", scale))
    return length_mm(rail) * scale + 2 * (ends + _ROOM)


def _above(rail: SheetRail, scale: float) -> float:
    return _reach(rail, "top", scale) + _ROOM


def _width(rail: SheetRail, scale: float) -> float:
    return max(WIDTH, _needs(rail, scale))


def _height(rail: SheetRail, scale: float) -> float:
    return _above(rail, scale) + RAIL_HEIGHT + _under(rail, scale) + LINE


def _under(rail: SheetRail, scale: float) -> float:
    """How far the picture of a rail goes on under it."""
    return max(_reach(rail, "centre", scale), _names_down(rail, scale)) + _ROOM


def _names_down(rail: SheetRail, scale: float) -> float:
    """How far under a rail the names of its ends stand: under these, and under its centre where that comes close."""
    ends = [spot for spot in rail["spots"] if place_of(spot["spot"]) not in _UPRIGHT]
    down = max((below(spot, scale) - RAIL_HEIGHT / 2 for spot in ends), default=0.0)
    centre = 0.0 if _is_centre_apart(rail, ends, scale) else _reach(rail, "centre", scale)
    return max(down, centre, 0.0) + LINE


def _is_centre_apart(rail: SheetRail, ends: list[SheetSpot], scale: float) -> bool:
    """Whether what is drawn under the middle of a rail keeps clear of the names of its ends."""
    width = _width(rail, scale)
    corner = ((width - length_mm(rail) * scale) / 2, 0.0)
    low, high = 0.0, width
    for spot in ends:
        long = wide(_words(spot), WORDS) + LINE
        low, high = (long, high) if place_of(spot["spot"]) == "left" else (low, width - long)
    centres = (spot for spot in rail["spots"] if place_of(spot["spot"]) == "centre")
    drawn = [(frame_of(rail, spot, corner, scale).origin[0], across(spot, scale)) for spot in centres]
    return all(low < along - before and along + behind < high for along, (before, behind) in drawn)


def _reach(rail: SheetRail, place: str, scale: float) -> float:
    """How far out the spot of that place comes; no less than what stands at the ends of the rail, or beside those."""
    found = [_LEAST_REACH]
    for spot in rail["spots"]:
        where = place_of(spot["spot"])
        if where == place:
            found.append(reach(spot, scale))
        elif place == "top" and where not in _UPRIGHT:
            found.append(beside(spot, scale) - RAIL_HEIGHT / 2)
    return max(found)


def _rail(
    parent: Node,
    rail: SheetRail,
    numbers: Sequence[Sequence[int]],
    place: Point,
    scale: float,
    shapes: Mapping[str, PartShape],
) -> None:
    """Draw a rail; `place` is how wide the picture is, and how far down the rail's own part of it begins."""
    width, down = place
    long = length_mm(rail) * scale
    corner = ((width - long) / 2, down + _above(rail, scale))
    shape(parent, _box(corner, long, RAIL_HEIGHT), width=1.8)
    text(parent, (width / 2, corner[1] + 32), _rail_label(rail, long), size=WORDS, anchor="middle", bold=True)
    for spot, own in zip(rail["spots"], numbers, strict=True):
        frame = frame_of(rail, spot, corner, scale)
        draw_spot(parent, spot, own, frame, shapes)
        _name(parent, spot, frame.origin[0], (corner[1], width), _names_down(rail, scale))


def _rail_label(rail: SheetRail, long: float) -> str:
    """The rail's length, with its SKU before it or without: what has room within it."""
    length = "" if rail["length_mm"] is None else units.length(rail["length_mm"])
    told = [", ".join(filter(None, (rail["sku"], length))), length]
    return next((words for words in told if words and wide(words, WORDS) < long), "")


def _name(parent: Node, spot: SheetSpot, along: float, place: Point, under: float) -> None:
    """The name of the spot with its duty: in the rail at its port, or under what stands at the ends."""
    top, width = place
    words = _words(spot)
    where = place_of(spot["spot"])
    if where in _UPRIGHT:
        half = wide(words, WORDS) / 2
        x = min(max(along, half + 2), width - half - 2)
        text(parent, (x, top + (14 if where == "top" else RAIL_HEIGHT - 5)), words, size=WORDS, anchor="middle")
        return
    y = top + RAIL_HEIGHT + under
    if where == "left":
        text(parent, (2.0, y), words, size=WORDS)
    else:
        text(parent, (width - 2.0, y), words, size=WORDS, anchor="end")


def _words(spot: SheetSpot) -> str:
    return f"{spot['spot']}: {spot['duty']}"


def _box(corner: Point, width: float, height: float) -> list[Point]:
    x, y = corner
    return [(x, y), (x + width, y), (x + width, y + height), (x, y + height)]


def without_room(rails: Sequence[SheetRail]) -> list[SheetRail]:
    """The rails with no limit of their room told: for a picture that shows what is built, not what is left."""
    return [{**rail, "spots": [_unlimited(spot) for spot in rail["spots"]]} for rail in rails]


def _unlimited(spot: SheetSpot) -> SheetSpot:
    return {**spot, "axial_mm": None, "axial_left_mm": None, "across_mm": None, "across_left_mm": None}
