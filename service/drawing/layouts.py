"""A layout as a small picture: the rail of each bank with its spots, and at each what it does."""

from collections.abc import Collection, Mapping

from service.domain.sheet import Direction
from service.domain.vehicles import Duty, bank_of, place_of
from service.drawing.duties import DASHES, draw_closed, draw_flow, draw_gauge, draw_regulator, duty_group
from service.drawing.frame import ALONG, AXES
from service.drawing.svg import Node, Point, line, ornament, shape, written

WIDTH = 132.0
_HIGH = 62.0
_HALF_LONG, _HALF = 34.0, 6.5
_REACH = 22.0
_MARGIN = 4.0
_WAYS: dict[Duty, Direction] = {"feed": "in", "return": "out", "gauge": "none", "closed": "none"}


def draw_layout(duties: Mapping[str, Duty], links: Mapping[str, str], regulated: Collection[str] = ()) -> str:
    """What each spot does, as an SVG image beside words that say it.

    `links`: the far spot of each spot that links two banks; `regulated`: the spots at which a regulator stands.
    """
    banks = list(dict.fromkeys(map(bank_of, sorted(duties)))) or [""]
    root = ornament(WIDTH, _HIGH * len(banks))
    for number, bank in enumerate(banks):
        middle = (WIDTH / 2, _HIGH * (number + 0.5))
        x, y = middle
        corners = [
            (x - _HALF_LONG, y - _HALF),
            (x + _HALF_LONG, y - _HALF),
            (x + _HALF_LONG, y + _HALF),
            (x - _HALF_LONG, y + _HALF),
        ]
        shape(root, corners, shaded=True, width=1.6)
        for spot in (one for one in duties if bank_of(one) == bank):
            _spot(root, spot, duties, middle, linked=spot in links)
            if spot in regulated:
                draw_regulator(root, *_ends(spot, middle))
    for spot, far in links.items():
        if spot < far and {spot, far} <= duties.keys():
            _link(root, (spot, far), banks, duties)
    return written(root)


def way_of(spot: str, duties: Mapping[str, Duty]) -> Direction:
    """Which way fuel runs at a spot, as seen from the rail; a link leads away from the bank that is fed."""
    duty = duties[spot]
    if duty != "link":
        return _WAYS[duty]
    fed = {bank_of(other) for other, does in duties.items() if does == "feed"}
    return "both" if len(fed) != 1 else ("out" if bank_of(spot) in fed else "in")


def _ends(spot: str, middle: Point) -> tuple[Point, Point]:
    """A spot's port on its rail, and the end of its arrow."""
    place = place_of(spot)
    (dx, dy), _ = AXES[place]
    x = middle[0] + (ALONG[place] - 0.5) * 2 * _HALF_LONG
    near = (x, middle[1] + dy * _HALF)
    return near, (near[0] + dx * _REACH, near[1] + dy * (_REACH - 2))


def _spot(root: Node, spot: str, duties: Mapping[str, Duty], middle: Point, *, linked: bool) -> None:
    near, far = _ends(spot, middle)
    duty = duties[spot]
    if duty == "closed":
        draw_closed(root, near, far)
    elif duty == "gauge":
        draw_gauge(root, near, far)
    elif not linked:
        draw_flow(root, duty, way_of(spot, duties), near, far)


def _link(root: Node, spots: tuple[str, str], banks: list[str], duties: Mapping[str, Duty]) -> None:
    """A line from bank to bank, round the ends of the rails; its heads are at the rails that it feeds."""
    own = duty_group(root, "link")
    ends = [_ends(spot, (WIDTH / 2, _HIGH * (banks.index(bank_of(spot)) + 0.5))) for spot in spots]
    (near, out), (far_near, far_out) = ends
    aside = _MARGIN + 2 if place_of(spots[0]) == "left" else WIDTH - _MARGIN - 2
    points = [
        near,
        (out[0], _shy(near, out)),
        (aside, _shy(near, out)),
        (aside, _shy(far_near, far_out)),
        (far_out[0], _shy(far_near, far_out)),
        far_near,
    ]
    line(own, *points, dashes=DASHES["link"], width=3)
    for spot, (port, beyond) in zip(spots, ends, strict=True):
        if way_of(spot, duties) in ("in", "both"):
            draw_flow(root, "link", "in", port, ((port[0] + beyond[0]) / 2, (port[1] + beyond[1]) / 2), width=0.1)


def _shy(near: Point, out: Point) -> float:
    """How far down a link runs beside a rail: half as far out as an arrow."""
    return near[1] + (out[1] - near[1]) * 0.45
