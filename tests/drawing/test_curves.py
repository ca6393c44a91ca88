"""Drop against power as a drawing: every number is the document's, every place is to scale, none by colour alone."""

from copy import deepcopy
from xml.etree import ElementTree as ET

import pytest

from service.documents.drawing import DropCurves
from service.domain import units
from service.drawing import draw_curves
from service.drawing.curves import carries
from service.drawing.marks import style_of
from service.usecases.drop_curves import drop_curves
from tests.drawing.test_svg import HOSTILE
from tests.explain.sheets import seed
from tests.support.drawings import CARS, FUELS
from tests.support.svg import SPACE, Shape, assert_within, overlapping, shapes, texts


@pytest.fixture(scope="module", params=[(car, fuel) for car in CARS for fuel in FUELS], name="curves")
def _curves(request: pytest.FixtureRequest) -> DropCurves:
    return drop_curves(seed(), *request.param)


def _drawn(curves: DropCurves) -> ET.Element:
    return ET.fromstring(draw_curves(curves, "curves"))


def _scales(root: ET.Element) -> tuple[tuple[float, float], tuple[float, float]]:
    """Where nothing is, and units a kW and a percent, as read off the ticks."""
    numbers = [words for words in texts(root) if words.text.replace(".", "").isdigit()]
    across = [words for words in numbers if words.anchor == "middle"]
    down = [words for words in numbers if words.anchor == "end"]
    kw = (across[-1].x - across[0].x) / float(across[-1].text)
    percent = (down[0].y - down[-1].y) / float(down[-1].text)
    assert (across[0].text, down[0].text) == ("0", "0")
    return (across[0].x, kw), (down[0].y - 4, percent)


def _lines(root: ET.Element, curves: DropCurves) -> list[Shape]:
    """The curves in order: the lines of many points."""
    return [shape for shape in shapes(root) if not shape.closed and len(shape.points) > 3]


def test_every_point_is_where_its_numbers_say(curves: DropCurves) -> None:
    """Power across, drop over limit upwards; up to what each carries, and no further."""
    root = _drawn(curves)
    (left, kw), (low, percent) = _scales(root)
    lines = _lines(root, curves)
    assert len(lines) == len(curves["curves"]) > 1
    for drawn, curve in zip(lines, curves["curves"], strict=True):
        points = curve["points"]
        assert points[-1] == curve["carried"]
        for (x, y), point in zip(drawn.points, points, strict=True):
            assert x - left == pytest.approx(point["power_kw"] * kw, abs=0.1)
            assert low - y == pytest.approx(point["drop_kpa"] / point["limit_kpa"] * 100 * percent, abs=0.1)


def test_the_limit_is_at_a_hundred(curves: DropCurves) -> None:
    """The dashed line and its words."""
    root = _drawn(curves)
    _, (low, percent) = _scales(root)
    [limit] = [shape for shape in shapes(root) if shape.dashes == "8 4"]
    assert low - limit.points[0][1] == pytest.approx(100 * percent, abs=0.1)
    assert "limit of drop" in [words.text for words in texts(root)]


def test_each_curve_has_its_dashes_mark_number_and_words(curves: DropCurves) -> None:
    """No two curves of a picture look alike; each number stands at an end; the rows tell what each carries."""
    root = _drawn(curves)
    count = len(curves["curves"])
    assert len({style_of(index) for index in range(count)}) == count
    for index, drawn in enumerate(_lines(root, curves)):
        assert drawn.dashes == style_of(index).dashes
    words = [one.text for one in texts(root)]
    labels = [number for one in words for number in one.split(", ") if number.isdigit() and one != "0"]
    assert {str(number) for number in range(1, count + 1)} <= set(labels)
    assert [one for one in words if one.startswith("carries ")] == [carries(x) for x in curves["curves"]]
    for curve in curves["curves"]:
        assert curve["power"]["carries_kw"] is not None
        assert units.power(curve["power"]["carries_kw"]) in carries(curve)


def test_each_number_stands_beside_the_end_of_its_curve(curves: DropCurves) -> None:
    """Nearer to it than to any end that has another number, but for ends so near that they have one together."""
    root = _drawn(curves)
    ends = {str(number): drawn.points[-1] for number, drawn in enumerate(_lines(root, curves), 1)}
    below = max(y for _, y in ends.values()) + 12
    labels = [words for words in texts(root) if words.y < below and set(words.text.split(", ")) <= set(ends)]
    labels = [words for words in labels if words.anchor == "start"]
    assert sorted(number for words in labels for number in words.text.split(", ")) == sorted(ends)
    for words in labels:
        left, right, upper, lower = words.box
        for number in words.text.split(", "):
            x, y = ends[number]
            assert max(left - x, x - right, 0) + max(upper - y, y - lower, 0) < 70, words


def test_many_styles_differ() -> None:
    """More than a catalog of today has layouts."""
    assert len({style_of(index) for index in range(35)}) == 35


def test_stock_power_is_marked(curves: DropCurves) -> None:
    """As words, and as an upright line where it is."""
    root = _drawn(curves)
    (left, kw), _ = _scales(root)
    assert f"stock {units.power(curves['stock_kw'])}" in [one.text for one in texts(root)]
    [upright] = {shape.points[0][0] for shape in shapes(root) if shape.dashes == "1 3"}
    highest = min(y for shape in shapes(root) if shape.dashes == "1 3" for _, y in shape.points)
    assert all(one.box[3] < highest for one in texts(root) if one.text.startswith("stock"))
    assert upright - left == pytest.approx(curves["stock_kw"] * kw, abs=0.1)


def test_nothing_is_cut_off_or_covered(curves: DropCurves) -> None:
    """All is within the picture, and no words stand on others."""
    root = _drawn(curves)
    assert_within(root)
    assert overlapping(root) == []
    assert all(words.box[0] >= 0 and words.box[1] <= 372 for words in texts(root))


def test_the_alternative_says_it_all(curves: DropCurves) -> None:
    """Each layout and what it carries."""
    root = _drawn(curves)
    desc = root.findtext(f"{SPACE}desc") or ""
    assert curves["text"] in desc
    assert all(curve["text"] in desc for curve in curves["curves"])


def test_hostile_names_are_only_texts() -> None:
    """As everywhere."""
    curves = deepcopy(drop_curves(seed(), "fennic-16"))
    curves["name"] = HOSTILE
    for curve in curves["curves"]:
        curve["name"] = curve["text"] = HOSTILE
    root = _drawn(curves)
    assert {element.tag.removeprefix(SPACE) for element in root.iter()} <= {
        *("svg", "defs", "title", "desc", "path", "circle", "text")
    }
    assert root.findtext(f"{SPACE}title") == f"Drop against power: {HOSTILE}"


@pytest.mark.parametrize("end_kw", [0.1, 40.0, 5000.0])
def test_the_end_that_is_told_is_kept(end_kw: float) -> None:
    """A curve that runs out beyond is drawn to the end, without a point that the answer does not have before it."""
    curves = drop_curves(seed(), "fennic-16", "petrol", end_kw)
    root = _drawn(curves)
    assert_within(root)
    for curve in curves["curves"]:
        assert curve["points"][-1]["power_kw"] <= end_kw


def test_no_layout_at_all_is_a_picture_too() -> None:
    """Only the scales."""
    curves = drop_curves(seed(), "fennic-16")
    curves["curves"] = []
    assert_within(_drawn(curves))
