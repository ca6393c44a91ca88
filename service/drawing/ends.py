"""The ends of parts from the side, by how they seal: a boss with a ring, a cone, a taper, a smooth end with a bead.

What a standard does not tell, such as how long an end is, is drawn in proportion to its width.
"""

from typing import Literal, NamedTuple

from service.drawing.sketch import Sketch, bar, block

Seal = Literal["o-ring", "cone", "taper", "bead"]
USUAL_ACROSS_MM = 14.0
_LONG = {"o-ring": 0.6, "cone": 0.9, "taper": 0.9, "bead": 1.6}
_THREADS = 3


class End(NamedTuple):
    """A port as it is drawn: how it seals, which end it is, how wide its thread or tube is."""

    seal: Seal
    is_male: bool
    across_mm: float

    @property
    def long_mm(self) -> float:
        """How far a male end is drawn beyond its body."""
        return self.across_mm * _LONG[self.seal]


def end_sketch(end: End, long_mm: float | None = None) -> Sketch:
    """An end pointing outwards from 0: a male one beyond it, of a female one the mouth, hidden within the body."""
    long = end.long_mm if long_mm is None else long_mm
    half = end.across_mm / 2
    if not end.is_male:
        depth = min(half * 1.2, 9.0)
        mouth = half * (0.8 if end.seal == "taper" else 1.0)
        return Sketch(hidden=(((0.0, -half), (-depth, -mouth), (-depth, mouth), (0.0, half)),))
    return _MALE[end.seal](half, long)


def _threads(start: float, end: float, half: float, half_at_end: float) -> tuple[tuple[tuple[float, float], ...], ...]:
    step = (end - start) / (_THREADS + 1)
    lean = step * 0.45
    edges = []
    for number in range(1, _THREADS + 1):
        at = start + number * step
        wide = half + (half_at_end - half) * number / (_THREADS + 1)
        edges.append(((at - lean, -wide), (at + lean, wide)))
    return tuple(edges)


def _boss(half: float, long: float) -> Sketch:
    ring = min(2.4, long / 4)
    neck = half * 0.82
    return Sketch(
        bodies=(block(0, ring, neck), block(ring, long, half, half * 0.94)),
        edges=_threads(ring, long, half, half * 0.94),
    )


def _cone(half: float, long: float) -> Sketch:
    nose = long * 0.72
    return Sketch(
        bodies=(block(0, nose, half), block(nose, long, half * 0.86, half * 0.42)), edges=_threads(0, nose, half, half)
    )


def _taper(half: float, long: float) -> Sketch:
    return Sketch(bodies=(block(0, long, half, half * 0.76),), edges=_threads(0, long, half, half * 0.76))


def _bead(half: float, long: float) -> Sketch:
    start, end = long * 0.62, long * 0.74
    return Sketch(bodies=(block(0, long, half * 0.78), block(start, end, half)), edges=(bar(long * 0.93, half * 0.78),))


_MALE = {"o-ring": _boss, "cone": _cone, "taper": _taper, "bead": _bead}
