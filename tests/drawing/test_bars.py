"""What each layout carries as bars: every number is the document's, every place is to scale, none by colour alone."""

from copy import deepcopy
from xml.etree import ElementTree as ET

import pytest

from service.documents.drawing import DropCurves
from service.domain import units
from service.drawing import draw_bars
from service.drawing.bars import carries
from service.usecases.drop_curves import drop_curves
from tests.drawing.test_svg import HOSTILE
from tests.explain.sheets import seed
from tests.support.drawings import CARS, FUELS
from tests.support.svg import SPACE, Shape, assert_within, overlapping, shapes, texts


@pytest.fixture(scope="module", params=[(car, fuel) for car in CARS for fuel in FUELS], name="curves")
def _curves(request: pytest.FixtureRequest) -> DropCurves:
    return drop_curves(seed(), *request.param)


def _drawn(curves: DropCurves) -> ET.Element:
    return ET.fromstring(draw_bars(curves, "bars"))


def _scale(root: ET.Element) -> tuple[float, float]:
    """Where nothing is, and units a kW, as read off the ticks."""
    ticks = [words for words in texts(root) if words.text.replace(".", "").isdigit() and words.anchor == "middle"]
    kw = (ticks[-1].x - ticks[0].x) / (float(ticks[-1].text) - float(ticks[0].text))
    return ticks[0].x - float(ticks[0].text) * kw, kw


def _bars(root: ET.Element) -> list[Shape]:
    return [
        shape for shape in shapes(root) if shape.closed and len(shape.points) == 4 and shape.height == 9 < shape.width
    ]


def test_every_bar_ends_where_its_power_says(curves: DropCurves) -> None:
    """By the scale under them; each with its number, its name, what it carries and what stops it there."""
    root = _drawn(curves)
    left, kw = _scale(root)
    bars = _bars(root)
    assert len(bars) == len(curves["curves"]) > 1
    words = [one.text for one in texts(root)]
    for number, (bar, curve) in enumerate(zip(bars, curves["curves"], strict=True), 1):
        carried = curve["power"]["carries_kw"]
        assert carried is not None
        assert min(x for x, _ in bar.points) == pytest.approx(left, abs=0.05)
        assert bar.width == pytest.approx(carried * kw, abs=0.1)
        assert units.power(carried) in carries(curve)
        assert str(curve["power"]["limited_by"]) in carries(curve)
        assert any(one.startswith(f"{number} {curve['name'][:20]}") for one in words)
    assert [one for one in words if one.startswith("carries ")] == [carries(x) for x in curves["curves"]]


def test_no_further_limit_is_nearer_than_the_bar_s_end(curves: DropCurves) -> None:
    """What is told as headroom is that of the nearest limit."""
    for curve in curves["curves"]:
        assert curve["power"]["carries_kw"] == min(limit["kw"] for limit in curve["power"]["limits"])


def test_stock_power_is_marked_across_each_bar(curves: DropCurves) -> None:
    """As words, and as a line on each bar where it is, which runs through no words."""
    root = _drawn(curves)
    left, kw = _scale(root)
    assert f"stock {units.power(curves['stock_kw'])}" in [one.text for one in texts(root)]
    upright = [shape for shape in shapes(root) if shape.dashes == "3 2"]
    assert len(upright) == len(curves["curves"]) + 1
    for shape in upright:
        x, top, low = shape.points[0][0], *sorted(y for _, y in shape.points)
        assert x - left == pytest.approx(curves["stock_kw"] * kw, abs=0.1)
        boxes = [one.box for one in texts(root)]
        assert not [1 for a, b, upper, lower in boxes if a < x < b and upper < low and lower > top]


def test_hp_where_inches_are_wished(curves: DropCurves) -> None:
    """The same bars, over a scale in hp."""
    root = ET.fromstring(draw_bars(curves, "bars", inch=True))
    assert [bar.points for bar in _bars(root)] == [bar.points for bar in _bars(_drawn(curves))]
    assert _scale(root)[1] == pytest.approx(_scale(_drawn(curves))[1] * units.KW_PER_HP, rel=1e-3)
    assert "Power, hp" in [one.text for one in texts(root)]


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
    assert root.findtext(f"{SPACE}title") == f"What each layout carries: {HOSTILE}"


def test_no_layout_at_all_is_a_picture_too() -> None:
    """Only the scales."""
    curves = drop_curves(seed(), "fennic-16")
    curves["curves"] = []
    assert_within(_drawn(curves))
