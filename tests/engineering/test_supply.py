"""Pump and injectors: published figures, limits, and what must rise with what."""

import math
from collections.abc import Callable
from pathlib import Path

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.engineering import (
    PumpCurve,
    hydraulic_power_w,
    injector_flow_l_h,
    injectors_l_h,
    operating_point,
    power_kw,
    warming_k,
)
from service.hydraulics import Fluid, Passage, drop_pa, fuel_demand_l_h
from tests.hydraulics.published import Row, rows, with_source

ROWS = {row.id: row for row in rows("supply.csv", Path(__file__).parent / "reference")}
UNITS = pint.get_application_registry()

PETROL = Fluid(745, 0.41e-3)
LINE = Passage(7.9375e-3, 4.0, 9.37, 1.5e-6)
PARABOLA = PumpCurve(tuple((700 * (1 - (step / 2000) ** 2), 520 * step / 2000) for step in range(2000, -1, -1)))
"""The pump of rows HY-126 to HY-129, in 2,000 straight pieces."""


def lost_kpa(flow_l_h: float) -> float:
    return drop_pa(LINE, PETROL, flow_l_h * 1e-3 / 3600) / 1e3


POINT = operating_point(PARABOLA, 300, lost_kpa)
RESULTS = {
    "HY-126": POINT.flow_l_h,
    "HY-127": POINT.kpa,
    "HY-128": lost_kpa(POINT.flow_l_h),
    "HY-129": hydraulic_power_w(POINT.flow_l_h, POINT.kpa),
    "FL-071": hydraulic_power_w(255, 400),
    "FL-054": injector_flow_l_h(1, 43.5, 58),
    "FL-055": injector_flow_l_h(1, 300, 400),
    "FL-056": injector_flow_l_h(1, 300, 350),
    "FL-057": injector_flow_l_h(1, 43.5, 36),
    "FL-058": injector_flow_l_h(1, 300, 600),
    "FL-059": injector_flow_l_h(42, 43.5, 58),
    "FL-070": injector_flow_l_h(1, 400, 300),
}

# Row: power [hp], BSFC [lb/hp h], injectors, duty of its conditions.
INJECTORS = {
    "FL-046": (400, 0.5, 8, 0.8),
    "FL-047": (500, 0.6, 8, 0.8),
    "FL-048": (300, 0.55, 4, 0.85),
    "FL-049": (600, 0.85, 6, 0.8),
}


def test_every_row_is_used() -> None:
    """No copied figure goes untested."""
    assert set(ROWS) == {*RESULTS, *INJECTORS}


@pytest.mark.published
@pytest.mark.parametrize("row", [ROWS[key] for key in RESULTS], ids=with_source)
def test_published_supply(row: Row) -> None:
    """The function gives the published figure."""
    assert RESULTS[row.id] == row.expected()


@pytest.mark.published
@pytest.mark.parametrize("row", [ROWS[key] for key in INJECTORS], ids=with_source)
def test_published_injectors(row: Row) -> None:
    """Injectors of the published size, at that duty, feed just the power that they were sized for."""
    power, bsfc, count, duty = INJECTORS[row.id]
    density = 745.0
    each = (UNITS.Quantity(float(row.value), "lb/hour") / UNITS.Quantity(density, "g/L")).m_as("L/hour")
    fed = power_kw(injectors_l_h(count, each, duty), UNITS.Quantity(bsfc, "lb/(hp*hour)").m_as("g/kWh"), density)
    assert UNITS.Quantity(fed, "kW").m_as("hp") == pytest.approx(power, rel=1e-4)


def test_warming_against_units() -> None:
    """The same energy balance, done by a unit library."""
    flow = UNITS.Quantity(133, "L/hour") * UNITS.Quantity(745, "kg/m^3") * UNITS.Quantity(2100, "J/kg/K")
    expected = (UNITS.Quantity(28, "W") / flow).m_as("K")
    assert warming_k(28, 133, 745, 2100) == pytest.approx(expected)


def test_dry_pump() -> None:
    """A pump that cannot reach the base pressure delivers nothing, at that pressure."""
    weak = PumpCurve(((0, 300), (250, 0)))
    assert operating_point(weak, 300, lost_kpa) == operating_point(weak, 300, lambda _: 0.0)
    assert operating_point(weak, 300, lost_kpa).flow_l_h == 0


def test_no_resistance() -> None:
    """Without a drop the pump delivers what its curve says at the base pressure."""
    assert operating_point(PumpCurve(((300, 200), (500, 100))), 400, lambda _: 0.0).flow_l_h == 150


def test_laminar_edge() -> None:
    """At the jump of the friction factor the point is held there, not lost."""
    jump = 60.0

    def stepped(flow: float) -> float:
        return 10.0 if flow < jump else 40.0

    pump = PumpCurve(((0, 100), (100, 0)))
    assert operating_point(pump, 20, stepped).flow_l_h == pytest.approx(jump, rel=1e-9)


def test_curve() -> None:
    """Straight between the points, level before the first, dry past the last; one point is a curve too."""
    pump = PumpCurve(((100, 90), (200, 50), (300, 20)))
    assert [pump.flow_l_h(kpa) for kpa in (0, 100, 150, 300, 300.1)] == [90, 90, 70, 20, 0]
    assert PumpCurve(((100, 90),)).flow_l_h(100) == 90


def test_past_the_last_point() -> None:
    """Where the curve ends too early, the flow is what the system takes at its last pressure."""
    assert operating_point(PumpCurve(((300, 100),)), 200, lambda flow: 2 * flow).flow_l_h == pytest.approx(50)


def test_voltage() -> None:
    """At half the voltage: half the flow at a quarter of the pressure."""
    assert PumpCurve(((0, 200), (400, 100))).at_voltage(6, 12).points == ((0, 100), (100, 50))


@pytest.mark.parametrize(
    "points",
    [(), ((-1, 5),), ((0, math.nan),), ((100, 5), (100, 4)), ((100, 5), (200, 6)), ((200, 5), (100, 4))],
)
def test_senseless_curves(points: tuple[tuple[float, float], ...]) -> None:
    """A curve along which pressure does not rise, or flow does, is refused."""
    with pytest.raises(ValueError, match="pump curve"):
        PumpCurve(points)


@pytest.mark.parametrize(
    "call",
    [
        lambda: power_kw(-1, 300, 745),
        lambda: power_kw(1, 0, 745),
        lambda: injector_flow_l_h(1, 0, 3),
        lambda: injector_flow_l_h(1, 3, math.nan),
        lambda: injectors_l_h(4, 10, 1.01),
        lambda: hydraulic_power_w(1, -1),
        lambda: warming_k(1, 0, 745, 2000),
        lambda: operating_point(PARABOLA, -1, lost_kpa),
        lambda: PARABOLA.at_voltage(0, 12),
    ],
)
def test_out_of_range(call: Callable[[], object]) -> None:
    """A value out of its range is refused, told by its name."""
    with pytest.raises(ValueError, match="not"):
        call()


@given(st.floats(0, 650), st.floats(0, 50))
def test_flow_falls_as_base_pressure_rises(base_kpa: float, more_kpa: float) -> None:
    """More pressure to hold never gives more flow, and the point lies on both curves."""
    point = operating_point(PARABOLA, base_kpa, lost_kpa)
    assert operating_point(PARABOLA, base_kpa + more_kpa, lost_kpa).flow_l_h <= point.flow_l_h + 1e-6
    assert point.kpa == pytest.approx(base_kpa + lost_kpa(point.flow_l_h))
    assert PARABOLA.flow_l_h(point.kpa) == pytest.approx(point.flow_l_h)


@given(st.floats(0, 2000))
def test_power_round_trip(power: float) -> None:
    """Power gives its demand, and the demand its power."""
    assert power_kw(fuel_demand_l_h(power, 310, 745), 310, 745) == pytest.approx(power)
