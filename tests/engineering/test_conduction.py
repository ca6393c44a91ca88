"""Steady conduction, against Pint and a finite-difference bar."""

from collections.abc import Callable

import numpy as np
import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.engineering import conductance_w_k, ring_area_mm2

CONDUCTIVITY = st.floats(0.1, 400)
LENGTH = st.floats(1, 100)


def test_units() -> None:
    """Pint agrees on k A / L."""
    unit = pint.UnitRegistry()
    expected = 167 * unit("W/m/K") * 150 * unit.mm**2 / (10 * unit.mm)
    assert conductance_w_k(150, 10, 167) == pytest.approx(expected.to("W/K").magnitude)


@pytest.mark.published
def test_a_bar_as_solved_by_finite_differences() -> None:
    """Source: NumPy's linear solver on 400 cells of a bar, hot at one end and cold at the other."""
    area, length, conductivity, cells = 120.0, 10.0, 0.3, 400
    link = conductivity * area * 1e-6 / (length * 1e-3 / cells)
    matrix = np.diag(np.full(cells, 2 * link)) - np.diag(np.full(cells - 1, link), 1)
    matrix -= np.diag(np.full(cells - 1, link), -1)
    matrix[0, 0] += link
    matrix[-1, -1] += link
    heat = np.zeros(cells)
    heat[0] = 2 * link
    first = float(np.linalg.solve(matrix, heat)[0])
    assert conductance_w_k(area, length, conductivity) == pytest.approx(2 * link * (1 - first), rel=1e-6)


def test_areas() -> None:
    """A tube without a hole is a disc."""
    assert ring_area_mm2(14, 6.4) == pytest.approx(121.77, abs=0.01)
    assert ring_area_mm2(14, 0) == pytest.approx(153.94, abs=0.01)
    assert ring_area_mm2(14, 14) == 0


@pytest.mark.parametrize(
    "call",
    [
        lambda: conductance_w_k(-1, 1, 1),
        lambda: conductance_w_k(1, 0, 1),
        lambda: conductance_w_k(1, 1, 0),
        lambda: ring_area_mm2(1, 2),
        lambda: ring_area_mm2(1, -1),
    ],
)
def test_out_of_range(call: Callable[[], object]) -> None:
    """What no bar can be is refused."""
    with pytest.raises(ValueError, match=r"must be|needs"):
        call()


@given(CONDUCTIVITY, LENGTH, st.floats(1.01, 5))
def test_longer_parts_let_less_through(conductivity: float, length: float, longer: float) -> None:
    """Conductance falls with length."""
    assert conductance_w_k(100, length * longer, conductivity) < conductance_w_k(100, length, conductivity)
