"""Drop against power, the layouts side by side: each up to the point where it runs out.

Each curve has its own dashes, a mark and its number where it runs out; curves that coincide have one label.
"""

from service.documents.drawing import CurvePoint, DropCurve, DropCurves
from service.domain import units
from service.drawing.marks import draw_mark, placed_labels, style_of
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
    ends = [drawn_points(curve)[-1] for curve in drawn]
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
        points = [field.at(point["power_kw"], point["used_percent"]) for point in drawn_points(curve)]
        style = style_of(index)
        line(root, *points, dashes=style.dashes, width=1.6)
        if reaches_its_end(curve):
            draw_mark(root, points[-1], style.mark)
        _row(root, index, curve, below + 2 * _LINE * index)
    places = [(str(number), field.at(x["power_kw"], x["used_percent"])) for number, x in enumerate(ends, 1)]
    for label in placed_labels(places, WORDS, WIDTH):
        text(root, label.at, label.words, size=WORDS, bold=True)
    return written(root)


def drawn_points(curve: DropCurve) -> list[CurvePoint]:
    """The points that are drawn: up to where it runs out, that point itself the last; all where it never does."""
    out = curve["runs_out"]
    if out is None or not reaches_its_end(curve):
        return curve["points"]
    return [*(point for point in curve["points"] if point["power_kw"] < out["at"]["power_kw"]), out["at"]]


def reaches_its_end(curve: DropCurve) -> bool:
    """Whether the point at which the layout runs out is among the powers that are drawn."""
    out = curve["runs_out"]
    return out is not None and out["at"]["power_kw"] <= curve["points"][-1]["power_kw"]


def told(curves: DropCurves) -> str:
    """The curves in words."""
    return " ".join([curves["text"], *(f"{number}: {x['text']}" for number, x in enumerate(curves["curves"], 1))])


def runs_out(curve: DropCurve) -> str:
    """Where a curve runs out, and of what."""
    out = curve["runs_out"]
    if out is None or curve["largest_power_kw"] is None:
        return "not rated: nobody can tell where it runs out"
    return f"runs out at {units.power(curve['largest_power_kw'])}: {out['limiting_duty']}, {out['limit']}"


def _row(parent: Node, index: int, curve: DropCurve, row: float) -> None:
    style = style_of(index)
    line(parent, (2, row - 4), (_SAMPLE, row - 4), dashes=style.dashes, width=1.6)
    if curve["runs_out"] is not None:
        draw_mark(parent, (_SAMPLE, row - 4), style.mark)
    words = cut(f"{index + 1}  {curve['name']}", WIDTH - _SAMPLE - 14)
    text(parent, (_SAMPLE + 10, row), words, size=WORDS, bold=True)
    text(parent, (_SAMPLE + 10, row + _LINE - 2), runs_out(curve), size=WORDS - 0.5)


def _limit(parent: Node, field: Field) -> None:
    y = field.down.at(100)
    line(parent, (field.across.start, y), (field.across.end, y), dashes="8 4", width=1.6)
    text(parent, (field.across.end, y - 5), "limit of drop", size=WORDS, anchor="end")


def _upright(parent: Node, field: Field, curves: DropCurves) -> None:
    """The stock power, and where the car's pump runs out: as an upright line, or two with all layouts between them."""
    stock = curves["stock_kw"]
    _upright_line(parent, field, [stock], f"stock {units.power(stock)}", 26.0)
    pumps = [x["pump_runs_out_kw"] for x in curves["curves"] if x["pump_runs_out_kw"] is not None]
    if pumps:
        _upright_line(parent, field, sorted({min(pumps), max(pumps)}), pump_words(pumps), 41.0)


def pump_words(pumps_kw: list[float]) -> str:
    """Where the pump runs out, as of the first layout to the last."""
    first, last = units.power(min(pumps_kw)), units.power(max(pumps_kw))
    return f"pump ends at {first}" if first == last else f"pump ends at {first} to {last}"


def _upright_line(parent: Node, field: Field, powers_kw: list[float], words: str, down: float) -> None:
    shown = [power for power in powers_kw if power <= field.across.high]
    for power in shown:
        x = field.across.at(power)
        line(parent, (x, _UNDER_WORDS), (x, field.down.start), dashes="1 3", width=1)
    x, anchor = beside(field.across.at(shown[-1]), words) if shown else (field.across.end, "end")
    text(parent, (x, down), words, size=WORDS, anchor=anchor)
