"""Marks that are told apart without colour, by their shape."""

from service.drawing.svg import Node, Point, circle, line, shape

_SIZE = 4.5
_CORNERS: dict[int, list[Point]] = {
    1: [(-1, -1), (1, -1), (1, 1), (-1, 1)],
    2: [(0, -1.2), (1.2, 1), (-1.2, 1)],
    3: [(0, -1.3), (1.3, 0), (0, 1.3), (-1.3, 0)],
}
"""Of a square, a triangle and a diamond, around its middle."""


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
