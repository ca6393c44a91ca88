"""What is left of limits, in their units and relatively."""

import pytest

from service.domain.margins import Margin, least_left, least_relative, tightest

ROOM = Margin("clearance", "clearance", "mm", 10.0, 40.0, ("left",))
WIDTH = Margin("clearance", "across", "mm", 6.0, 24.0, ("left",))
PRESSURE = Margin("pressure", "pressure", "kPa", 300.0, 900.0, (), "RAIL")


@pytest.mark.parametrize(
    ("left", "limit", "relative"),
    [
        pytest.param(10.0, 40.0, 0.25, id="a quarter"),
        pytest.param(40.0, 40.0, 1.0, id="nothing is used"),
        pytest.param(0.0, 40.0, 0.0, id="nothing is left"),
        pytest.param(-10.0, 40.0, -0.25, id="broken"),
        pytest.param(1.0, 3.0, 0.333333, id="to six digits"),
        pytest.param(0.0, 0.0, 0.0, id="no room, and none needed"),
        pytest.param(-5.0, 0.0, -5.0, id="no room, and some needed"),
    ],
)
def test_relative(left: float, limit: float, relative: float) -> None:
    assert Margin("clearance", "clearance", "mm", left, limit).relative == relative


def test_tightest_is_the_relatively_least() -> None:
    """Of those alike the first; nothing limited has no tightest."""
    assert tightest([PRESSURE, ROOM, WIDTH]) is ROOM
    assert tightest([WIDTH, ROOM]) is WIDTH
    assert tightest([]) is None
    assert least_relative([PRESSURE, ROOM]) == 0.25
    assert least_relative([]) == 1.0


def test_least_left_of_each_kind() -> None:
    """In its unit, whatever is relatively tighter."""
    assert least_left([ROOM, WIDTH, PRESSURE], "clearance", "across") == 6.0
    assert least_left([ROOM, WIDTH, PRESSURE], "pressure") == 300.0
    assert least_left([ROOM, WIDTH, PRESSURE], "drop") is None
