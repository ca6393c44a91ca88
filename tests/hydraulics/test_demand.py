"""Fuel demand from power and BSFC: published figures, and the same sum done with a unit library."""

import math

import pint
import pytest

from service.hydraulics import fuel_demand_l_h
from tests.hydraulics.published import Row, rows, with_source

UNITS = pint.get_application_registry()
LB_HP_H = UNITS.pound / (UNITS.horsepower * UNITS.hour)

# Row: power, BSFC, density [kg/m3] of its conditions.
DEMANDS = {
    **dict.fromkeys(("FL-026", "FL-027"), (400 * UNITS.horsepower, 0.5 * LB_HP_H, 745)),
    **dict.fromkeys(("FL-030", "FL-031"), (600 * UNITS.horsepower, 0.6 * LB_HP_H, 745)),
    **dict.fromkeys(("FL-034", "FL-035"), (600 * UNITS.horsepower, 0.85 * LB_HP_H, 782.7)),
    **dict.fromkeys(("FL-038", "FL-039"), (800 * UNITS.horsepower, 1.1 * LB_HP_H, 791)),
    "FL-041": (300 * UNITS.kilowatt, 300 * UNITS.gram / UNITS.kilowatt_hour, 745),
}


@pytest.mark.published
@pytest.mark.parametrize("row", [row for row in rows("demand.csv") if "flow" in row.quantity], ids=with_source)
def test_published_demand(row: Row) -> None:
    """Power times BSFC over density gives the published volume flow."""
    power, bsfc, density = DEMANDS[row.id]
    demand = fuel_demand_l_h(power.m_as("kW"), bsfc.m_as("g/kWh"), density)
    assert UNITS.Quantity(demand, "L/h").m_as(row.unit.replace("US gal", "gallon")) == row.expected()


@pytest.mark.published
@pytest.mark.parametrize("row", [row for row in rows("demand.csv") if "BSFC" in row.quantity], ids=with_source)
def test_published_bsfc_conversion(row: Row) -> None:
    """One pound per horsepower hour is the published number of grams per kilowatt hour."""
    assert (1 * LB_HP_H).m_as("g/kWh") == row.expected()


@pytest.mark.published
def test_demand_agrees_with_a_unit_library() -> None:
    """Pint, which cancels the units by itself, finds the same litres per hour."""
    power, bsfc, density = 231 * UNITS.kW, 0.52 * LB_HP_H, 6.21 * UNITS.pound / UNITS.gallon
    expected = (power * bsfc / density).m_as("L/h")
    found = fuel_demand_l_h(power.m_as("kW"), bsfc.m_as("g/kWh"), density.m_as("kg/m**3"))
    assert found == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize(
    "values",
    [(-1, 300, 745), (100, -300, 745), (100, 300, 0), (100, 300, -745), (math.nan, 300, 745)],
    ids=str,
)
def test_impossible_demand(values: tuple[float, float, float]) -> None:
    """Negative power or BSFC, or no density, is refused."""
    with pytest.raises(ValueError, match="fuel demand needs"):
        fuel_demand_l_h(*values)
