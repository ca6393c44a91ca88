"""A sketch of a thing from the side: bodies, edges and hidden edges in its own millimetres, placed anywhere.

Its axis runs outwards: 0 is the face of the port that it screws into, below 0 is what goes in. Across is to both sides.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from service.drawing.svg import Node, Point, circle, figure, group

Place = Callable[[float, float], Point]
"""From outwards and across, mm, to the picture."""


@dataclass(frozen=True, slots=True)
class Disc:
    """A circle around a point: a dial, a ring, a hole."""

    out: float
    across: float
    radius: float
    filled: bool = False


@dataclass(frozen=True, slots=True)
class Sketch:
    """Closed bodies, visible edges, hidden edges, and discs; each body and edge as points outwards and across, mm."""

    bodies: tuple[tuple[Point, ...], ...] = ()
    edges: tuple[tuple[Point, ...], ...] = ()
    hidden: tuple[tuple[Point, ...], ...] = ()
    discs: tuple[Disc, ...] = ()

    def __add__(self, other: "Sketch") -> "Sketch":
        return Sketch(
            self.bodies + other.bodies, self.edges + other.edges, self.hidden + other.hidden, self.discs + other.discs
        )

    def moved(self, out: float, across: float = 0.0) -> "Sketch":
        """The same, further out and across."""
        return self._through(lambda point: (point[0] + out, point[1] + across))

    def turned(self) -> "Sketch":
        """The same, pointing the other way along its axis."""
        return self._through(lambda point: (-point[0], point[1]))

    def aside(self) -> "Sketch":
        """The same, pointing across instead of outwards."""
        return self._through(lambda point: (point[1], point[0]))

    @property
    def extent(self) -> tuple[float, float, float, float]:
        """The least and the greatest outwards, then across, mm."""
        points = [point for line in (*self.bodies, *self.edges, *self.hidden) for point in line]
        points += [
            (disc.out + side * disc.radius, disc.across + side * disc.radius) for disc in self.discs for side in (-1, 1)
        ]
        outs, across = [out for out, _ in points] or [0.0], [at for _, at in points] or [0.0]
        return min(outs), max(outs), min(across), max(across)

    def _through(self, turn: Callable[[Point], Point]) -> "Sketch":
        return Sketch(
            tuple(tuple(map(turn, body)) for body in self.bodies),
            tuple(tuple(map(turn, edge)) for edge in self.edges),
            tuple(tuple(map(turn, edge)) for edge in self.hidden),
            tuple(Disc(*turn((disc.out, disc.across)), disc.radius, disc.filled) for disc in self.discs),
        )


def block(start: float, end: float, half: float, half_at_end: float | None = None) -> tuple[Point, ...]:
    """A body from start to end, so wide to each side; tapering where its end is told."""
    last = half if half_at_end is None else half_at_end
    return (start, -half), (end, -last), (end, last), (start, half)


def bar(at: float, half: float) -> tuple[Point, Point]:
    """An edge across at a place."""
    return (at, -half), (at, half)


def draw_sketch(parent: Node, sketch: Sketch, place: Place, *, scale: float, shade: float, width: float = 1.2) -> None:
    """Draw it as a group, one unit of the picture being 1/scale mm; `shade`: how dark its bodies are, 0 to 1."""
    own = group(parent, "part", stroke="currentColor", stroke_width=width, fill="none")
    thin = round(width * 0.7, 2)
    figure(own, (_placed(body, place) for body in sketch.bodies), closed=True, fill="currentColor", fill_opacity=shade)
    figure(own, (_placed(edge, place) for edge in sketch.edges), closed=False, stroke_width=thin)
    hidden = (_placed(edge, place) for edge in sketch.hidden)
    figure(own, hidden, closed=False, stroke_width=thin, stroke_dasharray="2 1.6")
    for disc in sketch.discs:
        circle(own, place(disc.out, disc.across), disc.radius * scale, width=width, filled=disc.filled)


def _placed(points: Iterable[Point], place: Place) -> list[Point]:
    return [place(*point) for point in points]
