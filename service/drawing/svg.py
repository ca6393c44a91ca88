"""SVG shapes with presentation attributes alone, so that a strict content policy takes them.

The library's writer escapes text but not attributes: those hold numbers and this program's own words, never a
catalog's. Colour is always the page's own.
"""

from collections.abc import Callable, Iterable
from typing import Any, Literal

import drawsvg

Point = tuple[float, float]
Anchor = Literal["start", "middle", "end"]
Node = Any
"""An image or a group of it, of a library without types."""

USUAL_SHADE = 0.13
_STROKE = {"stroke": "currentColor", "fill": "none"}


def ornament(width: float, height: float, kind: str = "") -> Node:
    """An image without an alternative, beside words that say the same; `kind`: its classes, this program's words."""
    own = {"class": kind} if kind else {}
    root: Node = drawsvg.Drawing(_number(width), _number(height), aria_hidden="true", **own)
    return root


def image(width: float, height: float, name: str, title: str, desc: str) -> Node:
    """An image with its alternative in words; lengths in its own units; `name` tells it from others on its page."""
    root: Node = drawsvg.Drawing(
        _number(width),
        _number(height),
        role="img",
        aria_labelledby=f"{name}-title {name}-desc",
        font_family="Liberation Sans, Arial, Helvetica, sans-serif",
    )
    root.append(drawsvg.Title(title, id=f"{name}-title"))
    told: Node = drawsvg.Title(desc, id=f"{name}-desc")
    told.TAG_NAME = "desc"
    root.append(told)
    return root


def written(root: Node) -> str:
    """The image as it stands in a page."""
    text: str = root.as_svg(header="")
    return text


def symbol(name: str, size: float, draw: Callable[[Node], None]) -> str:
    """A square that is used by its name elsewhere on the page that it stands on."""
    root: Node = drawsvg.Drawing(0, 0)
    made: Node = drawsvg.Group(id=name, viewBox=f"0 0 {_number(size)} {_number(size)}")
    made.TAG_NAME = "symbol"
    draw(made)
    root.append(made)
    told = written(root)
    return told[told.index("<symbol") : told.index("</svg>")]


def group(parent: Node, kind: str = "", **attributes: object) -> Node:
    """A group of shapes; `kind`: its classes in the page's stylesheet, this program's own words."""
    made: Node = drawsvg.Group(**({"class": kind} if kind else {}), **attributes)
    parent.append(made)
    return made


def shape(
    parent: Node, points: Iterable[Point], *, shaded: bool = False, width: float = 1.2, shade: float = USUAL_SHADE
) -> None:
    """A closed polygon; `shade`: how dark it is where it is shaded, 0 to 1."""
    fill = {"fill": "currentColor", "fill_opacity": shade} if shaded else {"fill": "none"}
    attributes = {"stroke": "currentColor", "stroke_width": _number(width), **fill}
    parent.append(drawsvg.Lines(*_flat(points), close=True, **attributes))


def figure(parent: Node, lines: Iterable[Iterable[Point]], *, closed: bool, **attributes: object) -> None:
    """Several lines, or closed polygons, as one shape, which takes its stroke from the group that it is in."""
    end = " Z" if closed else ""
    drawn = (f"M{' L'.join(f'{_number(x)},{_number(y)}' for x, y in points)}{end}" for points in lines)
    told = " ".join(drawn)
    if told:
        parent.append(drawsvg.Path(d=told, **attributes))


def arrow_head(parent: Node, points: Iterable[Point]) -> None:
    """A closed polygon, filled."""
    parent.append(drawsvg.Lines(*_flat(points), close=True, fill="currentColor"))


def line(parent: Node, *points: Point, dashes: str = "", width: float = 1.2) -> None:
    """A line from point to point."""
    dashed = {"stroke_dasharray": dashes} if dashes else {}
    parent.append(drawsvg.Lines(*_flat(points), stroke_width=_number(width), **_STROKE, **dashed))


def circle(parent: Node, centre: Point, radius: float, *, width: float = 1.2, filled: bool = False) -> None:
    fill = _STROKE | ({"fill": "currentColor"} if filled else {})
    parent.append(
        drawsvg.Circle(_number(centre[0]), _number(centre[1]), _number(radius), stroke_width=_number(width), **fill)
    )


def text(
    parent: Node, at: Point, words: str, *, size: float = 10.5, anchor: Anchor = "start", bold: bool = False
) -> None:
    """Words in one line, whatever white space they hold."""
    weight = {"font_weight": "bold"} if bold else {}
    parent.append(
        drawsvg.Text(
            " ".join(words.split()),
            _number(size),
            _number(at[0]),
            _number(at[1]),
            text_anchor=anchor,
            fill="currentColor",
            **weight,
        )
    )


_NARROW = frozenset(" ijlft.,:;'()[]/-1|")


def wide(words: str, size: float) -> float:
    """How wide words are, near enough: narrow letters take a third of their size, others less than six tenths."""
    return size * sum(0.33 if letter in _NARROW else 0.58 for letter in words)


def _flat(points: Iterable[Point]) -> list[float]:
    return [_number(value) for point in points for value in point]


def _number(value: float) -> float:
    rounded = round(value, 2)
    return int(rounded) if rounded == int(rounded) else rounded
