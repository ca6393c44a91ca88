"""Drop against power, the layouts side by side: each up to the power that it carries.

Each curve has its own dashes, a mark and its number at its end; curves that coincide have one label.
"""

from service.documents.drawing import DropCurve, DropCurves
from service.domain import units
from service.domain.power import in_short
from service.drawing.marks import Within, draw_mark, placed_labels, style_of
from service.drawing.plot import (
    WIDTH,
    WORDS,
    Field,
    Scale,
    beside,
    cut,
    draw_frame,
    draw_ticks_across,
    draw_ticks_down,
    ticks,
)
from service.drawing.svg import Node, image, line, text, written

_LEFT, _RIGHT = 34.0, 22.0
_TOP, _HIGH = 56.0, 230.0
_LINE = 14.0
_MOST_PERCENT = 112.0
_BEYOND = 1.05
_SAMPLE = 34.0
_UNDER_WORDS = 45.0
"""Upright lines begin there, so that none runs through words."""


def draw_curves(curves: DropCurves, name: str) -> str:
    """The curves as an SVG image; `name` tells it from others on its page."""
    drawn = curves["curves"]
    below = _TOP + _HIGH + 56
    root = image(WIDTH, below + 2 * _LINE * len(drawn) + 4, name, f"Drop against power: {curves['name']}", told(curves))
    ends = [curve["points"][-1] for curve in drawn]
    end_kw = max([curves["stock_kw"], *(end["power_kw"] for end in ends)]) * _BEYOND
    most = max([_MOST_PERCENT, *(end["used_percent"] * _BEYOND for end in ends)])
    field = Field(Scale(0, end_kw, _LEFT, WIDTH - _RIGHT), Scale(0, most, _TOP + _HIGH, _TOP))
    text(root, (2, 11), "Drop, % of its limit", size=WORDS, bold=True)
    draw_frame(root, field)
    draw_ticks_down(root, field, ticks(100))
    draw_ticks_across(root, field, ticks(end_kw))
    text(root, (WIDTH - 2, _TOP + _HIGH + 32), "Power, kW (100 kW = 134 hp)", size=WORDS, anchor="end", bold=True)
    _limit(root, field)
    _upright(root, field, curves)
    for index, curve in enumerate(drawn):
        points = [field.at(point["power_kw"], point["used_percent"]) for point in curve["points"]]
        style = style_of(index)
        line(root, *points, dashes=style.dashes, width=1.6)
        if reaches_its_end(curve):
            draw_mark(root, points[-1], style.mark)
        _row(root, index, curve, below + 2 * _LINE * index)
    places = [(str(number), field.at(x["power_kw"], x["used_percent"])) for number, x in enumerate(ends, 1)]
    for label in placed_labels(places, WORDS, Within(_LEFT + 2, WIDTH, field.down.start - 3)):
        text(root, label.at, label.words, size=WORDS, bold=True)
    return written(root)


def reaches_its_end(curve: DropCurve) -> bool:
    """Whether the curve goes to the power that its bill carries."""
    end = curve["carried"]
    return end is not None and curve["points"][-1]["power_kw"] >= end["power_kw"]


def carries(curve: DropCurve) -> str:
    """What a curve's bill carries and what runs out there, on one line of the drawing."""
    power = curve["power"]
    if power["carries_kw"] is None or power["limited_by"] is None:
        return in_short(None, None, ())
    told = " (not all is told)" if power["not_told"] else ""
    return f"carries {units.power(power['carries_kw'])}: {power['limited_by']}{told}"


def told(curves: DropCurves) -> str:
    """The curves in words."""
    return " ".join([curves["text"], *(f"{number}: {x['text']}" for number, x in enumerate(curves["curves"], 1))])


def _row(parent: Node, index: int, curve: DropCurve, row: float) -> None:
    style = style_of(index)
    line(parent, (2, row - 4), (_SAMPLE, row - 4), dashes=style.dashes, width=1.6)
    if curve["carried"] is not None:
        draw_mark(parent, (_SAMPLE, row - 4), style.mark)
    words = cut(f"{index + 1}  {curve['name']}", WIDTH - _SAMPLE - 14)
    text(parent, (_SAMPLE + 10, row), words, size=WORDS, bold=True)
    short = cut(carries(curve), WIDTH - _SAMPLE - 14)
    text(parent, (_SAMPLE + 10, row + _LINE - 2), short, size=WORDS - 0.5)


def _limit(parent: Node, field: Field) -> None:
    y = field.down.at(100)
    line(parent, (field.across.start, y), (field.across.end, y), dashes="8 4", width=1.6)
    text(parent, (field.across.end, y - 5), "limit of drop", size=WORDS, anchor="end")


def _upright(parent: Node, field: Field, curves: DropCurves) -> None:
    """The stock power, as an upright line."""
    stock = curves["stock_kw"]
    _upright_line(parent, field, [stock], f"stock {units.power(stock)}", 26.0)


def _upright_line(parent: Node, field: Field, powers_kw: list[float], words: str, down: float) -> None:
    shown = [power for power in powers_kw if power <= field.across.high]
    for power in shown:
        x = field.across.at(power)
        line(parent, (x, _UNDER_WORDS), (x, field.down.start), dashes="1 3", width=1)
    x, anchor = beside(field.across.at(shown[-1]), words) if shown else (field.across.end, "end")
    text(parent, (x, down), words, size=WORDS, anchor=anchor)
