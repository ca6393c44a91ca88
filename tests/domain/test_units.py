"""Quantities as text: published conversion factors, digits that help, and no noise."""

from collections.abc import Callable

import pint
import pytest

from service.domain import units
from tests.hydraulics.published import Row, rows, with_source

UNITS = pint.get_application_registry()

PUBLISHED = {
    "FL-001": units.KW_PER_HP,
    "FL-002": units.KPA_PER_PSI,
    "FL-007": units.L_PER_US_GAL,
    "FL-010": units.L_PER_US_GAL,
    "FL-013": units.KW_PER_HP,
    "FL-015": units.L_PER_US_GAL,
    "FL-018": units.KPA_PER_PSI * 1000,
    "FL-020": 1 / units.NM_PER_LBF_FT,
}


@pytest.mark.published
@pytest.mark.parametrize("row", rows("conversions.csv"), ids=with_source)
def test_published_factor(row: Row) -> None:
    """A conversion factor agrees with the published table to its digits."""
    assert PUBLISHED[row.id] == row.expected()


@pytest.mark.published
@pytest.mark.parametrize(
    ("factor", "customary", "metric"),
    [
        pytest.param(units.MM_PER_IN, UNITS.inch, "mm", id="inch"),
        pytest.param(units.KPA_PER_PSI, UNITS.psi, "kPa", id="psi"),
        pytest.param(units.L_PER_US_GAL, UNITS.gallon, "L", id="US gallon"),
        pytest.param(units.M_PER_FT, UNITS.foot, "m", id="foot"),
        pytest.param(units.KW_PER_HP, UNITS.horsepower, "kW", id="mechanical horsepower"),
        pytest.param(units.NM_PER_LBF_FT, UNITS.force_pound * UNITS.foot, "N*m", id="pound-force foot"),
    ],
)
def test_factor_agrees_with_a_unit_library(factor: float, customary: pint.Unit, metric: str) -> None:
    """Pint has the same factor as NIST SP 811, to nine digits."""
    assert factor == pytest.approx((1 * customary).m_as(metric), rel=2e-9)


@pytest.mark.parametrize(
    ("word", "value", "text"),
    [
        (units.length, 7.4, "7.4 mm (0.29 in)"),
        (units.length, 25.4, "25.4 mm (1 in)"),
        (units.length, 10.004, "10.004 mm (0.39 in)"),
        (units.length, 0.1, "0.1 mm (0.0039 in)"),
        (units.length, 4000, "4000 mm (157 in)"),
        (units.length, 0, "0 mm (0 in)"),
        (units.pressure, 300, "300 kPa (43.5 psi)"),
        (units.pressure, 27.1349, "27.13 kPa (3.94 psi)"),
        (units.pressure, 0.004213, "0.0042 kPa (0.00061 psi)"),
        (units.pressure, 1000.0, "1000 kPa (145 psi)"),
        (units.pressure, -65, "-65 kPa (-9.43 psi)"),
        (units.flow, 120, "120 L/h (31.7 US gal/h)"),
        (units.flow, 120.808, "120.8 L/h (31.9 US gal/h)"),
        (units.velocity, 2.339, "2.34 m/s (7.67 ft/s)"),
        (units.power, 300, "300 kW (402 hp)"),
        (units.power, 1200.04, "1200 kW (1609 hp)"),
        (units.torque, 27, "27 N·m (19.9 lbf·ft)"),
    ],
)
def test_text(word: Callable[[float], str], value: float, text: str) -> None:
    """Metric first, customary in brackets; no idle zeros, and at least two digits that tell."""
    assert word(value) == text
