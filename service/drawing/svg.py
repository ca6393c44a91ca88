"""SVG as a tree of elements: shapes with presentation attributes alone, so that a strict content policy takes them.

Whatever text goes in is escaped as the tree is written. Colour is always the page's own.
"""

from collections.abc import Iterable
from typing import Literal
from xml.etree import ElementTree as ET

Point = tuple[float, float]
Anchor = Literal["start", "middle", "end"]

_STROKE = {"stroke": "currentColor", "fill": "none"}


def image(width: float, height: float, title: str, desc: str) -> ET.Element:
    """An image with its alternative in words; lengths in its own units."""
    root = ET.Element(
        "svg",
        {
            "xmlns": "http://www.w3.org/2000/svg",
            "viewBox": f"0 0 {_number(width)} {_number(height)}",
            "width": _number(width),
            "height": _number(height),
            "role": "img",
            "aria-labelledby": "plan-title plan-desc",
            "font-family": "Liberation Sans, Arial, Helvetica, sans-serif",
        },
    )
    ET.SubElement(root, "title", {"id": "plan-title"}).text = title
    ET.SubElement(root, "desc", {"id": "plan-desc"}).text = desc
    return root


def written(root: ET.Element) -> str:
    return ET.tostring(root, encoding="unicode")


def shape(parent: ET.Element, points: Iterable[Point], *, shaded: bool = False, width: float = 1.2) -> None:
    """A closed polygon."""
    fill = {"fill": "currentColor", "fill-opacity": "0.13"} if shaded else {"fill": "none"}
    told = " ".join(f"{_number(x)},{_number(y)}" for x, y in points)
    ET.SubElement(parent, "polygon", {"points": told, "stroke": "currentColor", "stroke-width": _number(width), **fill})


def arrow_head(parent: ET.Element, points: Iterable[Point]) -> None:
    told = " ".join(f"{_number(x)},{_number(y)}" for x, y in points)
    ET.SubElement(parent, "polygon", {"points": told, "fill": "currentColor"})


def line(parent: ET.Element, start: Point, end: Point, *, dashes: str = "", width: float = 1.2) -> None:
    places = {"x1": start[0], "y1": start[1], "x2": end[0], "y2": end[1]}
    attributes = {name: _number(value) for name, value in places.items()} | {"stroke-width": _number(width)}
    ET.SubElement(parent, "line", attributes | _STROKE | ({"stroke-dasharray": dashes} if dashes else {}))


def circle(parent: ET.Element, centre: Point, radius: float, *, width: float = 1.2) -> None:
    places = {"cx": centre[0], "cy": centre[1], "r": radius, "stroke-width": width}
    ET.SubElement(parent, "circle", {name: _number(value) for name, value in places.items()} | _STROKE)


def text(
    parent: ET.Element, at: Point, words: str, *, size: float = 10.5, anchor: Anchor = "start", bold: bool = False
) -> None:
    attributes = {
        "x": _number(at[0]),
        "y": _number(at[1]),
        "font-size": _number(size),
        "text-anchor": anchor,
        "fill": "currentColor",
    }
    ET.SubElement(parent, "text", attributes | ({"font-weight": "bold"} if bold else {})).text = words


def _number(value: float) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".")
