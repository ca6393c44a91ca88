"""The pressure along a path: how much of its limit it uses, and how far it falls at each station.

Stations stand one beside the other in the order in which fuel meets them, each as wide as the next; falls are to the
scale of the whole fall, with the limit where that is near. What is not rated is drawn as a dashed line with a question
mark.
"""

from service.documents.drawing import PathProfile, PathStation
from service.domain import units
from service.domain.units import KPA_PER_PSI
from service.drawing.plot import WIDTH, WORDS, Field, Scale, cut, draw_frame, ticks
from service.drawing.svg import Node, circle, image, line, shape, text, written

_LEFT, _RIGHT = 44.0, 10.0
_USED, _HIGH_USED = 20.0, 9.0
_TOP, _HIGH = 72.0, 130.0
_LINE = 14.0
_BEYOND = 1.2
_SHOWN_AT_LEAST_KPA = 0.1
_NEAR = 0.4
"""From this part of its limit on a drop is drawn beside it; below, the stations would lie on one line."""


def draw_pressure(path: PathProfile, name: str, *, inch: bool = False) -> str:
    """A path as an SVG image; `name` tells it from others on its page; `inch`: the scale is in psi."""
    stations = path["stations"]
    below = _TOP + _HIGH + 2 * _LINE + 6
    root = image(
        WIDTH, below + 2 * _LINE * len(stations) + 6, name, f"Pressure along the path: {_head(path)}", told(path)
    )
    lost_kpa = max([path["drop_kpa"], _SHOWN_AT_LEAST_KPA, *(station["lost_kpa"] for station in stations)])
    is_near = lost_kpa >= path["limit_kpa"] * _NEAR
    most = (max(path["limit_kpa"], lost_kpa) if is_near else lost_kpa) * _BEYOND
    unit_kpa = KPA_PER_PSI if inch else 1.0
    field = Field(Scale(0, max(len(stations), 1), _LEFT, WIDTH - _RIGHT), Scale(0, most, _TOP, _TOP + _HIGH))
    _used(root, path)
    text(root, (2, _TOP - 12), f"{'psi' if inch else 'kPa'} lost, station by station", size=WORDS, bold=True)
    draw_frame(root, field)
    for value in ticks(most / unit_kpa):
        y = field.down.at(value * unit_kpa)
        line(root, (_LEFT - 4, y), (_LEFT, y), width=1)
        text(root, (_LEFT - 6, y + 4), f"{value:g}", size=WORDS, anchor="end")
    if is_near:
        _limit(root, field, path)
    _way(root, field, stations)
    for index, station in enumerate(stations):
        row = below + 2 * _LINE * index
        text(root, (2, row), cut(f"{index + 1}  {station['name']}", WIDTH - 8), size=WORDS, bold=True)
        text(root, (16, row + _LINE - 2), behind(station), size=WORDS - 0.5)
    return written(root)


def _used(parent: Node, path: PathProfile) -> None:
    """How much of the limit is used: a bar within one as long as the limit, or beyond it."""
    drop, limit = path["drop_kpa"], path["limit_kpa"]
    across = Scale(0, max(drop, limit, _SHOWN_AT_LEAST_KPA), 2, WIDTH - _RIGHT)
    low = _USED + _HIGH_USED
    text(parent, (2, 11), f"{units.pressure(drop)} in all", size=WORDS, bold=True)
    text(parent, (WIDTH - _RIGHT, 11), f"limit {units.pressure(limit)}", size=WORDS, anchor="end")
    end, at_limit = across.at(drop), across.at(limit)
    shape(parent, [(2, _USED), (at_limit, _USED), (at_limit, low), (2, low)], width=0.8)
    shape(parent, [(2, _USED), (end, _USED), (end, low), (2, low)], shaded=True, shade=0.5, width=0.8)
    line(parent, (at_limit, _USED - 3), (at_limit, low + 3), width=2)
    text(parent, (2, low + 12), _left_over(path), size=WORDS)


def _left_over(path: PathProfile) -> str:
    left = path["left_kpa"]
    return f"{units.pressure(left)} left" if left >= 0 else f"{units.pressure(-left)} over the limit"


def told(path: PathProfile) -> str:
    """The path in words, station by station."""
    stations = [f"{number}: {s['name']}, {behind(s)}." for number, s in enumerate(path["stations"], 1)]
    return " ".join([path["text"], *stations])


def behind(station: PathStation) -> str:
    """What a station loses, and the pressure behind it."""
    after = "pressure not known" if station["kpa"] is None else f"then {units.pressure(station['kpa'])}"
    return f"{lost(station)}, {after}"


def lost(station: PathStation) -> str:
    """What a station loses."""
    if station["kind"] == "side-plug":
        return "nothing runs here"
    loses = "not rated" if station["drop_kpa"] is None else f"loses {units.pressure(station['drop_kpa'])}"
    return f"regulates; {loses}" if station["regulates"] else loses


def _head(path: PathProfile) -> str:
    return f"{path['duty']} {', '.join(path['spots'])}"


def _limit(parent: Node, field: Field, path: PathProfile) -> None:
    """The limit as a dashed line; its word stands on the side where the path does not come."""
    y = field.down.at(path["limit_kpa"])
    line(parent, (field.across.start, y), (field.across.end, y), dashes="8 4", width=1.6)
    down = 12 if path["drop_kpa"] <= path["limit_kpa"] else -5
    text(parent, (field.across.start + 4, y + down), "limit", size=WORDS)


def _way(parent: Node, field: Field, stations: list[PathStation]) -> None:
    so_far = 0.0
    bottom = field.down.end
    circle(parent, field.at(0, 0), 3)
    for index, station in enumerate(stations):
        start, end = field.at(index, so_far), field.at(index + 1, station["lost_kpa"])
        middle = (start[0] + end[0]) / 2
        known = station["drop_kpa"] is not None
        line(parent, start, end, dashes="" if known else "2 4", width=2.2 if known else 1.4)
        circle(parent, end, 3, filled=known)
        if not known and station["kind"] != "side-plug":
            text(parent, (middle, start[1] + 16), "?", size=WORDS + 2, anchor="middle", bold=True)
        line(parent, (end[0], bottom), (end[0], bottom + 4), width=1)
        text(parent, (middle, bottom + 15), str(index + 1), size=WORDS, anchor="middle")
        so_far = station["lost_kpa"]
