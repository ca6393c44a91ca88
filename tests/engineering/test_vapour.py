"""Vapour pressure against a reference library and published tables; margins by hand."""

from collections.abc import Callable
from pathlib import Path

import pint
import pytest
from CoolProp.CoolProp import PropsSI
from hypothesis import given
from hypothesis import strategies as st

from service.engineering import VapourCurve, inlet_margin_kpa, soak_margin_kpa
from service.engineering.vapour import STANDARD_ATMOSPHERE_KPA
from tests.hydraulics.published import Row, rows, with_source

ROWS = {row.id: row for row in rows("vapour.csv", Path(__file__).parent / "reference")}
REID_C = (100 - 32) / 1.8
PETROL = VapourCurve(((15.6, 32.0), (37.8, 62.0)))


def library_curve(fluid: str) -> VapourCurve:
    """A curve through points of the reference equation of state at 10, 40, 70 and 100 degC."""
    points = ((c, PropsSI("P", "T", c + 273.15, "Q", 0, fluid) / 1e3) for c in (10.0, 40.0, 70.0, 100.0))
    return VapourCurve(tuple(points))


@pytest.mark.published
@pytest.mark.parametrize("key", ["FU-040", "FU-041"], ids=lambda key: with_source(ROWS[key]))
def test_reid_pressure_of_alcohols(key: str) -> None:
    """Reid's pressure at 100 degF is near the true one for a pure liquid: within the table's 3 %."""
    row = ROWS[key]
    psi = library_curve(row.conditions.capitalize()).kpa_abs(REID_C) / pint.UnitRegistry()("psi").to("kPa").magnitude
    assert psi == row.expected()


@pytest.mark.published
@pytest.mark.parametrize("key", ["FU-079", "FU-090"], ids=lambda key: with_source(ROWS[key]))
def test_saturation_pressure_between_points(key: str) -> None:
    """Between points 30 K apart the curve is within the row's 1 %."""
    row = ROWS[key]
    assert library_curve(row.conditions.split(";")[0].capitalize()).kpa_abs(37.8) == row.expected()


@pytest.mark.published
@pytest.mark.parametrize("key", ["FU-080", "FU-091"], ids=lambda key: with_source(ROWS[key]))
def test_a_liquid_boils_where_its_vapour_reaches_the_atmosphere(key: str) -> None:
    """At the normal boiling point the pressure is one atmosphere, within 1 %."""
    row = ROWS[key]
    boiling = library_curve(row.conditions.capitalize()).kpa_abs(float(row.value))
    assert boiling == pytest.approx(STANDARD_ATMOSPHERE_KPA, rel=0.01)


@pytest.mark.published
@pytest.mark.parametrize("row", [ROWS["FL-005"]], ids=with_source)
def test_the_standard_atmosphere(row: Row) -> None:
    """ISO 2533 at sea level."""
    assert row.expected() == STANDARD_ATMOSPHERE_KPA


@pytest.mark.published
@pytest.mark.parametrize("fluid", ["Ethanol", "Methanol", "n-Heptane"])
@pytest.mark.parametrize("celsius", [0.0, 25.0, 80.0, 110.0])
def test_a_library_agrees_between_and_beyond_the_points(fluid: str, celsius: float) -> None:
    """Source: CoolProp's reference equations of state; 2 % between the points and 10 K beyond them."""
    found = library_curve(fluid).kpa_abs(celsius)
    assert found == pytest.approx(PropsSI("P", "T", celsius + 273.15, "Q", 0, fluid) / 1e3, rel=0.02)


def test_margins_by_hand() -> None:
    """101.325 + 745 x 9.80665 x 0.2 / 1000 - 3 - 62 = 37.786 kPa; 101.325 + 300 - 62 = 339.325 kPa."""
    assert inlet_margin_kpa(PETROL, 37.8, -0.2, 3.0, 745.0) == pytest.approx(37.786, abs=1e-3)
    assert soak_margin_kpa(PETROL, 37.8, 300.0) == pytest.approx(339.325)


@pytest.mark.parametrize(
    "call",
    [
        lambda: VapourCurve(((20.0, 30.0),)),
        lambda: VapourCurve(((20.0, 30.0), (20.0, 40.0))),
        lambda: VapourCurve(((20.0, 30.0), (30.0, 30.0))),
        lambda: VapourCurve(((20.0, 0.0), (30.0, 30.0))),
        lambda: VapourCurve(((-300.0, 1.0), (30.0, 30.0))),
        lambda: PETROL.kpa_abs(-273.15),
        lambda: PETROL.kpa_abs(float("nan")),
        lambda: inlet_margin_kpa(PETROL, 30, float("nan"), 0, 745),
        lambda: inlet_margin_kpa(PETROL, 30, 0, -1, 745),
        lambda: inlet_margin_kpa(PETROL, 30, 0, 0, 0),
        lambda: soak_margin_kpa(PETROL, 30, -1),
    ],
)
def test_out_of_range(call: Callable[[], object]) -> None:
    """What no curve or tank can be is refused."""
    with pytest.raises(ValueError, match=r"must|needs"):
        call()


@given(st.floats(-40, 150), st.floats(0.01, 50))
def test_warmer_fuel_is_nearer_to_boiling(celsius: float, more: float) -> None:
    """Vapour pressure rises, both margins fall."""
    assert PETROL.kpa_abs(celsius) < PETROL.kpa_abs(celsius + more)
    assert soak_margin_kpa(PETROL, celsius + more, 100) < soak_margin_kpa(PETROL, celsius, 100)
    assert inlet_margin_kpa(PETROL, celsius + more, 0, 0, 745) < inlet_margin_kpa(PETROL, celsius, 0, 0, 745)
