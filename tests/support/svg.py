"""Reads a drawing as a reader sees it: its texts in their places, and its lines and shapes as points."""

import re
from typing import NamedTuple
from xml.etree import ElementTree as ET

_NARROW = frozenset(" ijlft.,:;'()[]/-1|")
_STROKED = {"stroke", "stroke-width", "fill-opacity"}
"""What has none of these is filled alone; strokes may be those of its group."""
SPACE = "{http://www.w3.org/2000/svg}"


class Words(NamedTuple):
    """A text and where it stands."""

    text: str
    x: float
    y: float
    size: float
    anchor: str

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Left, right, upper and lower edge, near enough."""
        wide = self.size * sum(0.33 if letter in _NARROW else 0.58 for letter in self.text)
        left = self.x - {"start": 0.0, "middle": wide / 2, "end": wide}[self.anchor]
        return left, left + wide, self.y - self.size * 0.75, self.y + self.size * 0.2


class Shape(NamedTuple):
    """A line or polygon."""

    points: list[tuple[float, float]]
    closed: bool
    dashes: str
    stroked: bool

    @property
    def width(self) -> float:
        return max(x for x, _ in self.points) - min(x for x, _ in self.points)

    @property
    def height(self) -> float:
        return max(y for _, y in self.points) - min(y for _, y in self.points)


def drawings(page: str) -> list[ET.Element]:
    """The drawings of a page, read as XML."""
    return [ET.fromstring(found) for found in re.findall(r"<svg.*?</svg>", page, flags=re.DOTALL)]


def texts(root: ET.Element) -> list[Words]:
    return [
        Words(
            e.text or "",
            float(e.attrib["x"]),
            float(e.attrib["y"]),
            float(e.attrib["font-size"]),
            e.attrib["text-anchor"],
        )
        for e in root.iter(f"{SPACE}text")
    ]


def shapes(root: ET.Element) -> list[Shape]:
    """All lines and polygons; those that are drawn as one, one by one."""
    found = [(element, told) for element in root.iter(f"{SPACE}path") for told in element.attrib["d"].split(" M")]
    return [_shape(element, f"M{told.removeprefix('M')}") for element, told in found]


def _shape(element: ET.Element, told: str) -> Shape:
    assert re.fullmatch(r"M[-\d.]+,[-\d.]+( L[-\d.]+,[-\d.]+)*( Z)?", told), told
    points = [(float(x), float(y)) for x, y in re.findall(r"([-\d.]+),([-\d.]+)", told)]
    return Shape(
        points, told.endswith("Z"), element.get("stroke-dasharray", ""), bool(_STROKED & element.attrib.keys())
    )


def circles(root: ET.Element) -> list[tuple[float, float, float]]:
    return [(float(e.attrib["cx"]), float(e.attrib["cy"]), float(e.attrib["r"])) for e in root.iter(f"{SPACE}circle")]


def assert_within(root: ET.Element) -> None:
    """Nothing is cut off at an edge."""
    _, _, width, height = map(float, root.attrib["viewBox"].split())
    points = [point for shape in shapes(root) for point in shape.points]
    points += [(x + side * r, y + side * r) for x, y, r in circles(root) for side in (-1, 1)]
    points += [(words.x, words.y) for words in texts(root)]
    for x, y in points:
        assert 0 <= x <= width, (x, width)
        assert 0 <= y <= height, (y, height)


def overlapping(root: ET.Element) -> list[tuple[str, str]]:
    """Texts that stand on one another."""
    found = texts(root)
    return [
        (one.text, other.text)
        for index, one in enumerate(found)
        for other in found[index + 1 :]
        if min(one.box[1], other.box[1]) - max(one.box[0], other.box[0]) > 1
        and min(one.box[3], other.box[3]) - max(one.box[2], other.box[2]) > 1
    ]
