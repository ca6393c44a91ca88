"""Where things are drawn: the scale of a rail, and the frame of each spot, outwards and across."""

from typing import NamedTuple

from service.documents.sheet import SheetRail, SheetSpot
from service.domain.vehicles import place_of
from service.drawing.svg import Point

NOMINAL_MM = 300.0
"""How long a rail is drawn whose length is not told."""
RAIL_HEIGHT = 54.0
_MOST_ROOM_MM = 120.0
"""Free room beyond that is not drawn to scale: its limit would be out of the picture."""


class Axis(NamedTuple):
    """A place on the rail, its direction outwards, and the one across, as steps in x and y."""

    outwards: Point
    across: Point

    @property
    def is_upright(self) -> bool:
        return self.outwards[0] == 0


AXES = {
    "left": Axis((-1, 0), (0, -1)),
    "right": Axis((1, 0), (0, -1)),
    "top": Axis((0, -1), (-1, 0)),
    "centre": Axis((0, 1), (-1, 0)),
}
ALONG = {"left": 0.0, "right": 1.0, "centre": 0.5, "top": 0.5}


class Frame(NamedTuple):
    """A spot in the drawing: its port, its axis, the scale in units a millimetre."""

    origin: Point
    axis: Axis
    scale: float

    def at(self, along_mm: float, across: float = 0.0, beyond: float = 0.0) -> Point:
        """A point so far out, in mm and then in units, and so far across, in units."""
        out = along_mm * self.scale + beyond
        (dx, dy), (ax, ay) = self.axis
        return self.origin[0] + out * dx + across * ax, self.origin[1] + out * dy + across * ay

    @property
    def is_upright(self) -> bool:
        return self.axis.is_upright


def drawn_mm(spot: SheetSpot) -> float:
    """How far out a spot is drawn: to its limit, or to what stands there where that is far or not told."""
    standout, limit = spot["standout_mm"], spot["axial_mm"]
    return standout if limit is None or not has_limit(spot) else max(standout, limit)


def has_limit(spot: SheetSpot) -> bool:
    """Whether the limit of the room is near enough to be drawn."""
    return spot["axial_mm"] is not None and spot["axial_mm"] - spot["standout_mm"] <= _MOST_ROOM_MM


def length_mm(rail: SheetRail) -> float:
    return rail["length_mm"] or NOMINAL_MM


def frame_of(rail: SheetRail, spot: SheetSpot, corner: Point, scale: float) -> Frame:
    """The frame of a spot of a rail whose upper left corner is told."""
    place = place_of(spot["spot"])
    length = length_mm(rail)
    told = rail["at_mm"].get(place)
    along = ALONG[place] if told is None or place in ("left", "right") else min(max(told / length, 0.0), 1.0)
    down = {"top": 0.0, "centre": RAIL_HEIGHT}.get(place, RAIL_HEIGHT / 2)
    return Frame((corner[0] + along * length * scale, corner[1] + down), AXES[place], scale)
