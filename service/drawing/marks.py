"""How curves are told apart without colour: by dashes, by the mark at their end, and by a number beside it."""

from collections.abc import Sequence
from typing import NamedTuple

from service.drawing.svg import Node, Point, circle, line, shape

DASHES = ("", "9 3", "2 3", "12 3 2 3", "5 5", "14 3 2 3 2 3", "6 2")
_SIZE = 4.5
_ROOM = 7.0
"""So far around a mark no words stand."""
_NARROW = " ,."
_LIFTS = (4.0, -9.0, 17.0, -22.0, 30.0, -35.0, 43.0, -48.0)
"""How far down words may stand from their end, the best first."""
_MARKS = 5
"""Without a factor in common with the number of dashes: so many times that many curves differ."""


_CORNERS: dict[int, list[Point]] = {
    1: [(-1, -1), (1, -1), (1, 1), (-1, 1)],
    2: [(0, -1.2), (1.2, 1), (-1.2, 1)],
    3: [(0, -1.3), (1.3, 0), (0, 1.3), (-1.3, 0)],
}
"""Of a square, a triangle and a diamond, around its middle."""


class Style(NamedTuple):
    dashes: str
    mark: int


def style_of(index: int) -> Style:
    return Style(DASHES[index % len(DASHES)], index % _MARKS)


def draw_mark(parent: Node, at: Point, mark: int) -> None:
    """A circle, a square, a triangle, a diamond or a cross."""
    x, y = at
    if mark == 0:
        circle(parent, at, _SIZE, width=1.6)
    elif mark == 4:
        line(parent, (x - _SIZE, y - _SIZE), (x + _SIZE, y + _SIZE), width=1.8)
        line(parent, (x - _SIZE, y + _SIZE), (x + _SIZE, y - _SIZE), width=1.8)
    else:
        corners = [(x + _SIZE * dx, y + _SIZE * dy) for dx, dy in _CORNERS[mark]]
        shape(parent, corners, shaded=True, width=1.6)


class Label(NamedTuple):
    """Words of a curve's end with the place found for them."""

    words: str
    end: Point
    at: Point


class Within(NamedTuple):
    """Between which places across words may stand, and how far down."""

    left: float
    right: float
    low: float


def placed_labels(ends: Sequence[tuple[str, Point]], size: float, within: Within) -> list[Label]:
    """Labels beside their ends, those of one place in one, none on another; as near as there is room, and within
    these bounds."""
    together: list[tuple[list[str], Point]] = []
    for words, end in ends:
        near = next((one for one in together if _near(one[1], end)), None)
        if near is None:
            together.append(([words], end))
        else:
            near[0].append(words)
    left, right, low = within
    taken = [(x - _ROOM, x + _ROOM, y - _ROOM, y + _ROOM) for _, (x, y) in ends]
    found = []
    for listed, end in together:
        words = ", ".join(listed)
        wide = _wide(words, size)
        last = max(right - wide, left)
        near_by = [(x, lift) for lift in _LIFTS for x in (end[0] + 9, end[0] - 9 - wide) if left <= x <= last]
        beside = [*near_by, *((min(end[0] + 9, last), lift) for lift in _LIFTS)]
        places = [(x, end[1] + lift) for x, lift in beside if end[1] + lift <= low]
        at = next((one for one in places if not any(_meet(_box(words, one, size), x) for x in taken)), places[0])
        taken.append(_box(words, at, size))
        found.append(Label(words, end, at))
    return found


def _near(one: Point, other: Point) -> bool:
    return abs(one[0] - other[0]) < 2 * _SIZE and abs(one[1] - other[1]) < 2 * _SIZE


def _wide(words: str, size: float) -> float:
    return sum([0.35 if letter in _NARROW else 0.6 for letter in words]) * size


def _box(words: str, at: Point, size: float) -> tuple[float, float, float, float]:
    return at[0] - 1, at[0] + _wide(words, size) + 1, at[1] - size * 0.8, at[1] + 2


def _meet(one: tuple[float, float, float, float], other: tuple[float, float, float, float]) -> bool:
    return one[0] < other[1] and other[0] < one[1] and one[2] < other[3] and other[2] < one[3]
