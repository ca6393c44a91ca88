"""The Darcy friction factor: published figures, the equation itself, and the edge between its two regimes."""

import math

import pytest

from service.hydraulics import friction_factor
from service.hydraulics.passage import TRANSITION_REYNOLDS
from tests.hydraulics.published import Row, rows, with_source


@pytest.mark.published
@pytest.mark.parametrize("row", rows("friction.csv"), ids=with_source)
def test_published_factor(row: Row) -> None:
    """The same equation agrees to its printed digits, other authors' equations within their usual 3 %."""
    relative_roughness = 0.0 if row.quantity.startswith("laminar") else row.number("e/D")
    other_equation = "Colebrook" not in row.quantity and not row.quantity.startswith("laminar")
    assert friction_factor(row.number("Re"), relative_roughness) == row.expected(int(other_equation))


@pytest.mark.parametrize("relative_roughness", [0.0, 1e-6, 1e-4, 1e-3, 0.01, 0.05, 0.3])
@pytest.mark.parametrize("reynolds", [2040.0, 2300.0, 4000.0, 2e4, 1e6, 1e8])
def test_colebrook_is_solved_exactly(reynolds: float, relative_roughness: float) -> None:
    """Turning the equation over until it stands still gives the same factor to 1e-9."""
    inverse_root = 5.0
    for _ in range(100):
        inverse_root = -2 * math.log10(relative_roughness / 3.7 + 2.51 * inverse_root / reynolds)
    assert friction_factor(reynolds, relative_roughness) == pytest.approx(inverse_root**-2, rel=1e-9)


def test_regime_changes_at_2040() -> None:
    """Below Reynolds number 2040 flow is laminar; at it, the turbulent factor holds, half as large again."""
    below = math.nextafter(TRANSITION_REYNOLDS, 0)
    assert friction_factor(below, 0.01) == 64 / below
    assert friction_factor(2040.0, 0.0) / friction_factor(below, 0.0) == pytest.approx(1.56, abs=0.05)


@pytest.mark.parametrize(
    ("reynolds", "relative_roughness"),
    [(0.0, 0.0), (-1.0, 0.0), (math.nan, 0.0), (1e4, -1e-3), (1e4, math.nan)],
)
def test_out_of_range(reynolds: float, relative_roughness: float) -> None:
    """A factor of no flow, or of a negative roughness, is refused."""
    with pytest.raises(ValueError, match="friction factor needs"):
        friction_factor(reynolds, relative_roughness)
