"""How duties are told apart at a glance: by the stroke of their arrow, its heads and its colour.

The colours are the page's own (`duty-feed` and so on in its stylesheet); without one all are as dark as the text.
"""

from service.domain.sheet import Direction
from service.domain.vehicles import Duty
from service.drawing.svg import Node, Point, arrow_head, circle, group, line, shape

Along = tuple[Point, Point]
"""Where an arrow is: its end at the rail, and its end away from it."""
DASHES: dict[Duty, str] = {"feed": "", "return": "5 3", "link": "1.5 2.5", "gauge": "", "closed": ""}
_HEAD = 7.0


def duty_group(parent: Node, duty: Duty) -> Node:
    """A group of shapes in the colour of a duty."""
    return group(parent, f"duty duty-{duty}")


def draw_flow(parent: Node, duty: Duty, flows: Direction, near: Point, far: Point, *, width: float = 3.0) -> None:
    """An arrow along a spot's axis, solid for a feed, dashed for a return, dotted for a link; which way, its heads
    tell."""
    own = duty_group(parent, duty)
    ends: dict[Direction, list[Along]] = {
        "in": [(near, far)],
        "out": [(far, near)],
        "both": [(near, far), (far, near)],
        "none": [],
    }
    heads = ends[flows]
    start = _towards(near, far, _HEAD * 0.7) if flows in ("in", "both") else near
    end = _towards(far, near, _HEAD * 0.7) if flows in ("out", "both") else far
    line(own, start, end, dashes=DASHES[duty], width=width)
    for tip, tail in heads:
        back = _towards(tip, tail, _HEAD)
        across = (back[1] - tip[1]) * 0.6, (tip[0] - back[0]) * 0.6
        arrow_head(own, [tip, (back[0] + across[0], back[1] + across[1]), (back[0] - across[0], back[1] - across[1])])


def draw_gauge(parent: Node, near: Point, far: Point) -> None:
    """A dial on a stem."""
    own = duty_group(parent, "gauge")
    radius = max(abs(far[0] - near[0]), abs(far[1] - near[1])) * 0.36
    middle = _towards(far, near, radius)
    line(own, near, _towards(middle, near, radius), width=2)
    circle(own, middle, radius, width=1.6)
    line(own, middle, (middle[0] + radius * 0.55, middle[1] - radius * 0.55), width=1.4)


def draw_closed(parent: Node, near: Point, far: Point) -> None:
    """A cap: a bar across the axis."""
    own = duty_group(parent, "closed")
    end = _towards(near, far, 3.5)
    half = 5.0
    across = (half, 0.0) if near[0] == far[0] else (0.0, half)
    line(own, near, end, width=1.4)
    line(own, (end[0] - across[0], end[1] - across[1]), (end[0] + across[0], end[1] + across[1]), width=2.2)


def draw_regulator(parent: Node, near: Point, far: Point) -> None:
    """A box on an arrow, with the spring in it."""
    middle = (near[0] + far[0]) / 2, (near[1] + far[1]) / 2
    half = 5.0
    x, y = middle
    corners = [(x - half, y - half), (x + half, y - half), (x + half, y + half), (x - half, y + half)]
    arrow_head(group(parent, "paper"), corners)
    shape(parent, corners, width=1.4)
    line(parent, *((x + 3 * (1 if step % 2 else -1), y - 3.6 + 1.8 * step) for step in range(5)), width=1.1)


def _towards(start: Point, end: Point, by: float) -> Point:
    """A point so far from the start towards the end."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    whole = max((dx**2 + dy**2) ** 0.5, 1e-9)
    return start[0] + dx * by / whole, start[1] + dy * by / whole
