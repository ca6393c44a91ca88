"""The pressure along a path: how far it falls at each station, beside the most that it may fall.

Stations stand one beside the other in the order in which fuel meets them, each as wide as the next; pressures are to
scale. What is not rated is drawn as a dashed line with a question mark.
"""

from service.documents.drawing import PathProfile, PathStation
from service.domain import units
from service.drawing.plot import WIDTH, WORDS, Field, Scale, cut, draw_frame, draw_ticks_down, ticks
from service.drawing.svg import Node, circle, image, line, text, written

_LEFT, _RIGHT = 40.0, 10.0
_TOP, _HIGH = 30.0, 150.0
_LINE = 14.0
_BEYOND = 1.1
_SHOWN_AT_LEAST_KPA = 0.1


def draw_pressure(path: PathProfile, name: str) -> str:
    """A path as an SVG image; `name` tells it from others on its page."""
    stations = path["stations"]
    below = _TOP + _HIGH + 2 * _LINE + 6
    root = image(
        WIDTH, below + 2 * _LINE * len(stations) + 6, name, f"Pressure along the path: {_head(path)}", told(path)
    )
    most = max(path["limit_kpa"], path["drop_kpa"], _SHOWN_AT_LEAST_KPA) * _BEYOND
    field = Field(Scale(0, max(len(stations), 1), _LEFT, WIDTH - _RIGHT), Scale(0, most, _TOP, _TOP + _HIGH))
    text(root, (2, 11), "kPa lost since the start", size=WORDS, bold=True)
    draw_frame(root, field)
    draw_ticks_down(root, field, ticks(most))
    _limit(root, field, path)
    _way(root, field, stations)
    for index, station in enumerate(stations):
        row = below + 2 * _LINE * index
        text(root, (2, row), cut(f"{index + 1}  {station['name']}", WIDTH - 8), size=WORDS, bold=True)
        text(root, (16, row + _LINE - 2), behind(station), size=WORDS - 0.5)
    return written(root)


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
    y = field.down.at(path["limit_kpa"])
    line(parent, (field.across.start, y), (field.across.end, y), dashes="8 4", width=1.6)
    text(parent, (field.across.end, y - 5), f"limit {units.pressure(path['limit_kpa'])}", size=WORDS, anchor="end")


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
    text(parent, (field.across.end, _TOP - 19), f"{units.pressure(so_far)} in all", size=WORDS, anchor="end")
