"""The largest power of each layout as a bar, with what stops it there named under it.

A bar ends at the nearest of its limits; the further ones that are told stand behind it as marks. The stock power is a
line across each bar alone, so that nothing runs through words.
"""

from collections.abc import Sequence

from service.documents.drawing import DropCurve, DropCurves
from service.domain import units
from service.domain.power import LIMIT_KINDS, LimitKind, in_short
from service.domain.units import KW_PER_HP
from service.drawing.marks import draw_mark
from service.drawing.plot import WIDTH, WORDS, Scale, cut, ticks
from service.drawing.svg import Anchor, Node, image, line, shape, text, written

_LEFT, _RIGHT = 6.0, 18.0
_TOP = 34.0
_ROW, _NAME, _FIGURE, _BAR, _HIGH = 46.0, 10.0, 23.0, 28.0, 9.0
_BEYOND = 1.08
_OVER = 3.0
"""The line of the stock power stands out of a bar by so much."""


def draw_bars(curves: DropCurves, name: str, *, inch: bool = False) -> str:
    """The bars as an SVG image; `name` tells it from others on its page; `inch`: the scale is in hp."""
    drawn = curves["curves"]
    low = _TOP + _ROW * len(drawn) + 6
    root = image(WIDTH, low + 50, name, f"What each layout carries: {curves['name']}", told(curves))
    carried = [curve["power"]["carries_kw"] or 0.0 for curve in drawn]
    most = max([curves["stock_kw"], *carried]) * _BEYOND
    across = Scale(0, most, _LEFT, WIDTH - _RIGHT)
    _stock_words(root, curves["stock_kw"], across)
    for index, curve in enumerate(drawn):
        _row(root, curve, curves["stock_kw"], across, _TOP + _ROW * index, f"{index + 1}  ")
    _axis(root, across, low, inch=inch)
    _legend(root, low + 44, [kind for kind in LIMIT_KINDS if any(kind in _marked(one, across) for one in drawn)])
    return written(root)


def carries(curve: DropCurve) -> str:
    """What a layout's bill carries and what runs out there, on one line."""
    power = curve["power"]
    if power["carries_kw"] is None or power["limited_by"] is None:
        return in_short(None, None, ())
    rest = " (not all is told)" if power["not_told"] else ""
    return f"carries {units.power(power['carries_kw'])}: {power['limited_by']}{rest}"


def told(curves: DropCurves) -> str:
    """The bars in words."""
    return " ".join([curves["text"], *(f"{number}: {x['text']}" for number, x in enumerate(curves["curves"], 1))])


def _row(parent: Node, curve: DropCurve, stock_kw: float, across: Scale, top: float, number: str) -> None:
    text(parent, (_LEFT, top + _NAME), cut(f"{number}{curve['name']}", WIDTH - 8), size=WORDS, bold=True)
    text(parent, (_LEFT, top + _FIGURE), cut(carries(curve), WIDTH - 8), size=WORDS)
    upper, lower = top + _BAR, top + _BAR + _HIGH
    line(parent, (across.start, lower), (across.end, lower), width=0.6)
    carried = curve["power"]["carries_kw"]
    if carried is not None:
        end = across.at(carried)
        shape(
            parent, [(across.start, upper), (end, upper), (end, lower), (across.start, lower)], shaded=True, shade=0.4
        )
    for kind, kw in _marked(curve, across).items():
        draw_mark(parent, (across.at(kw), (upper + lower) / 2), LIMIT_KINDS.index(kind))
    x = across.at(stock_kw)
    line(parent, (x, upper - _OVER), (x, lower + _OVER), dashes="3 2", width=1.6)


def _stock_words(parent: Node, stock_kw: float, across: Scale) -> None:
    """What the dashed lines are, over the first of them."""
    x = across.at(stock_kw)
    words = f"stock {units.power(stock_kw)}"
    text(parent, (min(x, WIDTH - 4), 12), words, size=WORDS, anchor="end" if x > WIDTH / 2 else "start")
    line(parent, (x, 17), (x, 25), dashes="3 2", width=1.6)


def _axis(parent: Node, across: Scale, low: float, *, inch: bool) -> None:
    """The scale under the bars."""
    unit_kw = KW_PER_HP if inch else 1.0
    line(parent, (across.start, low), (across.end, low), width=1)
    for value in ticks(across.high / unit_kw):
        x = across.at(value * unit_kw)
        line(parent, (x, low), (x, low + 4), width=1)
        anchor: Anchor = "start" if value == 0 else "middle"
        text(parent, (x, low + 15), f"{value:g}", size=WORDS, anchor=anchor)
    text(parent, (WIDTH - 2, low + 29), "Power, hp" if inch else "Power, kW", size=WORDS, anchor="end", bold=True)


def _marked(curve: DropCurve, across: Scale) -> dict[LimitKind, float]:
    """The further limits that have a mark behind the bar, each with its power [kW]."""
    power = curve["power"]
    limits = {limit["what"]: limit["kw"] for limit in power["limits"] if limit["what"] != power["limited_by"]}
    return {kind: kw for kind, kw in limits.items() if kw <= across.high}


def _legend(parent: Node, y: float, kinds: Sequence[LimitKind]) -> None:
    """What the marks that are drawn mean."""
    for place, kind in enumerate(kinds):
        x = _LEFT + 8 + place * 116
        draw_mark(parent, (x, y - 4), LIMIT_KINDS.index(kind))
        text(parent, (x + 10, y), f"limit of {kind}", size=WORDS)
