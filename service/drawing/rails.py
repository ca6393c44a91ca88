"""The rails of a sheet: each spot, the parts that go in with their numbers, the way fuel flows, the room that is left.

All figures are those of the sheet. Nothing is told by colour: parts have numbers, duties have words and arrows.
"""

from collections.abc import Sequence
from itertools import count

from service.documents.sheet import SheetRail, SheetSpot
from service.domain import units
from service.domain.vehicles import place_of
from service.drawing.frame import RAIL_HEIGHT, Frame, frame_of, length_mm, scale_of
from service.drawing.spot import beside, draw_spot, reach
from service.drawing.svg import Anchor, Node, Point, group, image, shape, text, written

_LEAST_WIDTH = 680.0
_LINE = 13.0
_ROOM = 12.0
"""Over and under what stands at the spots."""
_LEAST_REACH = 30.0
"""What is kept free around a rail in any case: for the numbers beside its ends."""
_MOST_LETTERS = 30
_LETTER = 6.2
"""How wide a bold letter is at most, near enough."""
_COLUMNS = ("left", "centre", "right", "top")
_UPRIGHT = ("top", "centre")
_NAMES: dict[str, tuple[float, float, Anchor]] = {
    "left": (4.0, 38.0, "start"),
    "right": (-4.0, 38.0, "end"),
    "top": (0.0, 11.0, "middle"),
    "centre": (0.0, 38.0, "middle"),
}


def numbers_of(rails: Sequence[SheetRail]) -> list[list[list[int]]]:
    """The number of each part that stands at a spot, by rail and spot: from 1, as they are listed."""
    number = count(1)
    return [[[next(number) for _ in spot["standing"]] for spot in rail["spots"]] for rail in rails]


def draw_rails(rails: Sequence[SheetRail], title: str) -> str:
    """The rails one over the other as an SVG image, with its alternative in words."""
    scale = scale_of(rails)
    heights = [_height(rail, scale) for rail in rails]
    width = max((_width(rail, scale) for rail in rails), default=_LEAST_WIDTH)
    root = image(width, sum(heights), "plan", title, " ".join(_told(rail) for rail in rails))
    down = 0.0
    for rail, height, numbers in zip(rails, heights, numbers_of(rails), strict=True):
        _rail(group(root), rail, numbers, (width, down), scale)
        down += height
    return written(root)


def _told(rail: SheetRail) -> str:
    spots = " ".join(
        f"{spot['spot']}: {', then '.join(part['name'] for part in spot['standing']) or 'no part'}. {spot['text']}"
        for spot in rail["spots"]
    )
    return f"{rail['name']}. {spots}"


def _above(rail: SheetRail, scale: float) -> float:
    return _reach(rail, "top", scale) + _ROOM


def _width(rail: SheetRail, scale: float) -> float:
    beside = max(_reach(rail, "left", scale), _reach(rail, "right", scale))
    return max(_LEAST_WIDTH, length_mm(rail) * scale + 2 * (beside + _ROOM))


def _height(rail: SheetRail, scale: float) -> float:
    lines = max((len(_lines(spot, [0] * len(spot["standing"]))) for spot in rail["spots"]), default=0)
    return _above(rail, scale) + RAIL_HEIGHT + _reach(rail, "centre", scale) + _ROOM + (lines + 1) * _LINE


def _reach(rail: SheetRail, place: str, scale: float) -> float:
    """How far out the spot of that place comes; no less than what stands at the ends of the rail, or beside those."""
    found = [_LEAST_REACH]
    for spot in rail["spots"]:
        where = place_of(spot["spot"])
        if where == place:
            found.append(reach(spot, scale))
        elif place in _UPRIGHT and where not in _UPRIGHT:
            found.append(beside(spot, scale) - RAIL_HEIGHT / 2)
    return max(found)


def _rail(parent: Node, rail: SheetRail, numbers: list[list[int]], place: Point, scale: float) -> None:
    """Draw a rail; `place` is how wide the picture is, and how far down the rail's own part of it begins."""
    width, down = place
    long = length_mm(rail) * scale
    corner = ((width - long) / 2, down + _above(rail, scale))
    shape(parent, _box(corner, long, RAIL_HEIGHT), width=1.8)
    text(parent, (width / 2, corner[1] + 25), _rail_label(rail, long), anchor="middle", bold=True)
    below = corner[1] + RAIL_HEIGHT + _reach(rail, "centre", scale) + _ROOM + _LINE
    for spot, own in zip(rail["spots"], numbers, strict=True):
        frame = frame_of(rail, spot, corner, scale)
        _name(parent, spot, frame, corner[1])
        draw_spot(parent, spot, own, frame)
        column = _COLUMNS.index(place_of(spot["spot"])) * width / 4
        for row, words in enumerate(_lines(spot, own)):
            text(parent, (column + 2, below + row * _LINE), words, bold=row == 0)


def _rail_label(rail: SheetRail, long: float) -> str:
    """The rail's SKU and length, or the SKU alone, or nothing: what has room within it."""
    sku = _cut(rail["sku"])
    told = [] if rail["length_mm"] is None else [f"{sku}, {units.length(rail['length_mm'])} long"]
    return next((words for words in (*told, sku) if len(words) * _LETTER < long), "")


def _name(parent: Node, spot: SheetSpot, frame: Frame, rail_top: float) -> None:
    """The name of the spot, within the rail at its port."""
    right, down, anchor = _NAMES[place_of(spot["spot"])]
    at = (frame.origin[0] + right, rail_top + down)
    text(parent, at, spot["spot"], size=9.5, anchor=anchor)


def _lines(spot: SheetSpot, numbers: list[int]) -> list[str]:
    """What is told of a spot under the drawing."""
    parts = [f"{number}  {_cut(part['sku'])}" for number, part in zip(numbers, spot["standing"], strict=True)]
    beyond = [f"then {_cut(part['sku'], 5)}" for part in spot["beyond"]]
    leads = [] if spot["leads_to"] is None else [_cut(f"to {spot['leads_to']}")]
    flow = [] if spot["flow_l_h"] is None else [units.flow(spot["flow_l_h"])]
    return [
        f"{spot['spot']}: {spot['duty']}",
        *flow,
        *parts,
        *beyond,
        *leads,
        f"stands {_mm(spot['standout_mm'])}",
        *_left(spot),
    ]


def _left(spot: SheetSpot) -> list[str]:
    """What is left of the room, in one line."""
    along, across = spot["axial_left_mm"], spot["across_left_mm"]
    if along is not None and across is not None:
        return [f"left {along:g} mm, across {across:g} mm"]
    told = [(along, "left"), (across, "left across")]
    return [f"{way} {_mm(mm)}" for mm, way in told if mm is not None]


def _mm(mm: float) -> str:
    return units.length(mm)


def _cut(words: str, less: int = 0) -> str:
    most = _MOST_LETTERS - less
    return words if len(words) <= most else words[: most - 1] + "…"


def _box(corner: Point, width: float, height: float) -> list[Point]:
    x, y = corner
    return [(x, y), (x + width, y), (x + width, y + height), (x, y + height)]
