"""Pictures of parts: one parametric drawing for each kind, from the catalog's numbers.

Parts that stand on a rail share one scale, small hardware another, twice as large. A rail's length is to scale among
rails, its thickness is not; a hose is cut short, as its length says nothing at this size.
"""

from collections.abc import Callable, Mapping
from math import cos, radians, sin
from types import MappingProxyType

from service.drawing.ends import USUAL_ACROSS_MM, End, end_sketch
from service.drawing.shapes import PartShape
from service.drawing.sketch import Disc, Sketch, bar, block, draw_sketch
from service.drawing.svg import Node, Point

SIZE = 64.0
"""A picture is so many units high and wide; one unit is a millimetre for what stands on a rail."""
_EDGE = 2.0
_STROKE = 1.5
_HARDWARE_SCALE = 2.0
_USUAL_STANDOUT_MM = 12.0
_USUAL_RAIL_MM = 300.0
_LONGEST_RAIL_MM = 450.0
_RAIL_HALF = 8.0
_PLACES = {"left": 0.0, "centre": 0.5, "right": 1.0, "top": 0.5}


def standing_sketch(shape: PartShape) -> Sketch:
    """A part as it stands on its port: from the port's face, as far out as its standout, as wide as it is across."""
    return _STANDING.get(shape.kind, _fitting)(shape)


def whole_sketch(shape: PartShape) -> Sketch:
    """A part by itself, with what goes into the port."""
    if shape.kind in _BY_ITSELF:
        return _BY_ITSELF[shape.kind](shape)
    standing = standing_sketch(shape)
    return standing + end_sketch(shape.ends[0]).turned() if shape.ends else standing


def draw_part(parent: Node, shape: PartShape, shade: float) -> None:
    """Draw a part upright in a square of SIZE units, at its kind's scale; what is larger is made to fit."""
    sketch = whole_sketch(shape)
    low, high, left, right = sketch.extent
    wanted = _HARDWARE_SCALE if shape.kind in _HARDWARE else 1.0
    room = SIZE - 2 * _EDGE
    scale = min(wanted, room / max(high - low, right - left, 1.0))
    middle = (low + high) / 2, (left + right) / 2

    def place(out: float, across: float) -> Point:
        x, y = SIZE / 2 + (across - middle[1]) * scale, SIZE / 2 - (out - middle[0]) * scale
        return round(x, 1), round(y, 1)

    draw_sketch(parent, sketch, place, scale=scale, shade=shade, width=_STROKE)


def _standout(shape: PartShape) -> float:
    return shape.standout_mm or _USUAL_STANDOUT_MM


def _half(shape: PartShape) -> float:
    """Half of what it is across; where that is not told, of what its ends need."""
    if shape.across_mm:
        return shape.across_mm / 2
    widest = max((end.across_mm for end in shape.ends), default=USUAL_ACROSS_MM)
    return (shape.hex_mm or widest * 1.15) / 2


def _hexagon(start: float, end: float, half: float) -> Sketch:
    """A hexagon from the side, a corner towards the eye."""
    facets = (((start, half / 2), (end, half / 2)), ((start, -half / 2), (end, -half / 2)))
    return Sketch(bodies=(block(start, end, half),), edges=facets)


def _grip(shape: PartShape, start: float, end: float) -> Sketch:
    """Where it is held: a hexagon where a wrench takes it, else a round collar."""
    half = _half(shape)
    if shape.hex_mm is not None:
        return _hexagon(start, end, half)
    return Sketch(
        bodies=(block(start, end, half),),
        edges=(bar(start + (end - start) * 0.2, half), bar(end - (end - start) * 0.2, half)),
    )


def _outlet(shape: PartShape) -> End | None:
    return shape.ends[1] if len(shape.ends) > 1 else None


def _fitting(shape: PartShape) -> Sketch:
    """A grip, then the end that the next part meets: a male end stands out, a female one is hidden in the body."""
    standout, outlet = _standout(shape), _outlet(shape)
    if outlet is None:
        return _grip(shape, 0, standout)
    if not outlet.is_male:
        return _grip(shape, 0, standout) + end_sketch(outlet).moved(standout)
    long = min(outlet.long_mm, standout * 0.66)
    sides = Sketch()
    for end in shape.ends[2:]:
        sides += end_sketch(end, min(end.long_mm, 8.0)).aside().moved((standout - long) / 2, _half(shape))
    return _grip(shape, 0, standout - long) + end_sketch(outlet, long).moved(standout - long) + sides


def _plug(shape: PartShape) -> Sketch:
    """A head: a hexagon, or round with the socket of its key hidden within; a cross says that it closes."""
    standout, half = _standout(shape), _half(shape)
    if shape.hex_mm is not None and not shape.drive:
        return _hexagon(0, standout, half)
    edge = min(standout * 0.3, 2.5)
    head = (
        (0.0, -half),
        (standout - edge, -half),
        (standout, -half + edge),
        (standout, half - edge),
        (standout - edge, half),
        (0.0, half),
    )
    socket = half * 0.45
    deep = standout * 0.75
    return Sketch(
        bodies=(head,),
        hidden=(((standout, -socket), (standout - deep, -socket), (standout - deep, socket), (standout, socket)),),
        edges=(bar(min(2.0, standout / 3), half),),
    )


def _gauge(shape: PartShape) -> Sketch:
    """A stem with its hexagon, and the dial with a scale and a needle."""
    standout = _standout(shape)
    radius = min(_half(shape), standout * 0.42)
    middle = standout - radius
    grip = (shape.hex_mm or radius * 0.65) / 2 * 1.1
    marks = tuple(_spoke(middle, radius, angle, 0.72, 0.9) for angle in range(-120, 121, 40))
    needle = _spoke(middle, radius, 45, 0.0, 0.66)
    stem = middle - radius
    return _hexagon(0, stem, grip) + Sketch(
        edges=(*marks, needle), discs=(Disc(middle, 0, radius), Disc(middle, 0, radius * 0.1, filled=True))
    )


def _spoke(middle: float, radius: float, degrees: float, start: float, end: float) -> tuple[Point, Point]:
    """A mark of a dial; 0 degrees points outwards."""
    out, across = cos(radians(degrees)) * radius, sin(radians(degrees)) * radius
    return (middle + out * start, across * start), (middle + out * end, across * end)


def _regulator(shape: PartShape) -> Sketch:
    """A grip, a wide chamber with the spring in it, and the outlet."""
    standout, half, outlet = _standout(shape), _half(shape), _outlet(shape)
    long = min(outlet.long_mm, standout * 0.25) if outlet is not None and outlet.is_male else 0.0
    start, end = standout * 0.18, standout - long
    neck = min(half * 0.6, (shape.hex_mm or half) / 2 * 1.15)
    turns = [start + (end - start) * (0.15 + 0.7 * number / 6) for number in range(7)]
    spring = tuple((at, half * 0.42 * (1 if number % 2 else -1)) for number, at in enumerate(turns))
    flange = start + (end - start) * 0.55
    body = Sketch(
        bodies=(block(start, flange, half * 0.78), block(flange, flange + max(2.0, standout * 0.08), half))
    ) + Sketch(bodies=(block(flange + max(2.0, standout * 0.08), end, half * 0.78, half * 0.62),), edges=(spring,))
    beyond = Sketch() if outlet is None else end_sketch(outlet, long or None).moved(end)
    return _hexagon(0, start, neck) + body + beyond


def _rail(shape: PartShape) -> Sketch:
    """A rail lengthwise: its bore hidden, a boss at each spot, across the picture."""
    along = (shape.long_mm or _USUAL_RAIL_MM) / _LONGEST_RAIL_MM * (SIZE - 2 * _EDGE - 8)
    long = min(max(along, 16.0), SIZE - 2 * _EDGE - 8)
    half, end = _RAIL_HALF, long / 2
    body = ((-half, -end), (half, -end), (half, end), (-half, end))
    bore = half * 0.45
    hidden = (((bore, -end), (bore, end)), ((-bore, -end), (-bore, end)))
    bosses = (_boss(spot, long) for spot in shape.spots)
    feet = shape.feet if long > 4 * len(shape.feet) else ()
    return Sketch(bodies=(body, *bosses, *(_foot((at - 0.5) * long) for at in feet)), hidden=hidden)


_BOSSES: Mapping[str, tuple[float, float, float, float]] = MappingProxyType(
    {
        "left": (-0.7, 0.7, -4.0, 0.0),
        "right": (-0.7, 0.7, 0.0, 4.0),
        "top": (1.0, 1.5, -3.0, 3.0),
        "centre": (-1.0, -1.7, -4.5, 4.5),
    }
)
"""From where to where the boss of a spot stands, outwards in halves of the rail, across in mm from its place."""


def _boss(spot: str, long: float) -> tuple[Point, ...]:
    low, high, left, right = _BOSSES.get(spot, _BOSSES["top"])
    at = (_PLACES.get(spot, 0.5) - 0.5) * long
    low, high = low * _RAIL_HALF, high * _RAIL_HALF
    return (low, at + left), (high, at + left), (high, at + right), (low, at + right)


def _foot(at: float) -> tuple[Point, ...]:
    """Where an injector goes in."""
    return (
        (-_RAIL_HALF, at - 1.6),
        (-_RAIL_HALF - 4.5, at - 1.6),
        (-_RAIL_HALF - 4.5, at + 1.6),
        (-_RAIL_HALF, at + 1.6),
    )


def _hose(shape: PartShape) -> Sketch:
    """Two nuts with a hose that hangs between them, its cover hatched."""
    tube = min(max((shape.bore_mm or 7.0) * 0.8, 3.5), 12.0)
    nut = min(_half(shape), 15.0)
    ends = [end.across_mm for end in shape.ends] or [USUAL_ACROSS_MM]
    first = _hexagon(0, 10, min(nut, ends[0] * 0.75))
    last = _hexagon(0, 10, min(nut, ends[-1] * 0.75))
    bend = [radians(angle) for angle in range(180, 361, 15)]
    reach, drop = 17.0, 26.0
    outer = [(-drop * abs(sin(angle)) ** 0.8 - 0.0, (reach + tube) * cos(angle)) for angle in bend]
    inner = [(-(drop - 2 * tube) * abs(sin(angle)) ** 0.8, (reach - tube) * cos(angle)) for angle in bend]
    hose = (*outer, *reversed(inner))
    hatch = tuple(zip(outer[1:-1], inner[1:-1], strict=True))
    return first.moved(0, -reach) + last.moved(0, reach) + Sketch(bodies=(hose,), edges=hatch)


def _seal(shape: PartShape) -> Sketch:
    outside = shape.wide_mm or USUAL_ACROSS_MM
    inside = shape.hole_mm or outside * 0.75
    return Sketch(discs=(Disc(0, 0, outside / 2), Disc(0, 0, inside / 2)))


def _screw(shape: PartShape) -> Sketch:
    """Upright, its head above: a cap with the socket of its key."""
    thread = shape.wide_mm or 6.0
    long = shape.long_mm or 20.0
    head, half = thread, thread * 0.85
    shank = ((0.0, -thread / 2), (-long, -thread / 2), (-long, thread / 2), (0.0, thread / 2))
    turns = tuple(((-at, -thread / 2), (-at - thread * 0.12, thread / 2)) for at in _steps(long * 0.25, long, 9))
    socket = (
        (head, -thread * 0.36),
        (head * 0.45, -thread * 0.36),
        (head * 0.45, thread * 0.36),
        (head, thread * 0.36),
    )
    return Sketch(bodies=(shank, block(0, head, half)), edges=turns, hidden=(socket,))


def _steps(start: float, end: float, count: int) -> list[float]:
    return [start + (end - start) * number / count for number in range(count)]


def _spacer(shape: PartShape) -> Sketch:
    high, half = shape.long_mm or 10.0, (shape.wide_mm or USUAL_ACROSS_MM) / 2
    hole = (shape.hole_mm or half) / 2
    return Sketch(bodies=(block(0, high, half),), hidden=(((0.0, -hole), (high, -hole)), ((0.0, hole), (high, hole))))


def _clip(_: PartShape) -> Sketch:
    """An open ring with two ears."""
    round_ = [radians(angle) for angle in range(40, 321, 20)]
    outer = tuple((10 * cos(angle), 10 * sin(angle)) for angle in round_)
    inner = tuple((6.5 * cos(angle), 6.5 * sin(angle)) for angle in reversed(round_))
    return Sketch(bodies=((*outer, *inner),))


def _bracket(_: PartShape) -> Sketch:
    """An angle of sheet with a hole in each leg."""
    legs = ((0.0, -11.0), (3.0, -11.0), (3.0, 7.0), (20.0, 7.0), (20.0, 11.0), (0.0, 11.0))
    return Sketch(
        bodies=(legs,), edges=(((0.0, -6.0), (3.0, -6.0)), ((0.0, -2.0), (3.0, -2.0))), discs=(Disc(14, 9, 1.3),)
    )


def _bottle(_: PartShape) -> Sketch:
    """A tube with its nozzle and a drop."""
    tube = ((0.0, -5.0), (16.0, -5.0), (19.0, -2.0), (24.0, -1.0), (24.0, 1.0), (19.0, 2.0), (16.0, 5.0), (0.0, 5.0))
    return Sketch(bodies=(tube,), edges=(bar(2.5, 5.0), bar(16.0, 5.0)))


_STANDING: Mapping[str, Callable[[PartShape], Sketch]] = MappingProxyType(
    {"fitting": _fitting, "plug": _plug, "gauge": _gauge, "regulator": _regulator}
)
_BY_ITSELF: Mapping[str, Callable[[PartShape], Sketch]] = MappingProxyType(
    {
        "rail": _rail,
        "line": _hose,
        "seal": _seal,
        "fastener": _screw,
        "spacer": _spacer,
        "clip": _clip,
        "bracket": _bracket,
        "consumable": _bottle,
    }
)
_HARDWARE = frozenset({"seal", "fastener", "spacer", "clip", "bracket", "consumable"})
