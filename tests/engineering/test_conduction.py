"""Steady conduction, against Pint and a finite-difference bar."""

from collections.abc import Callable

import numpy as np
import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.engineering import conductance_w_k, in_series_w_k, ring_area_mm2

CONDUCTIVITY = st.floats(0.1, 400)
LENGTH = st.floats(1, 100)


def test_units() -> None:
    """Pint agrees on k A / L."""
    unit = pint.UnitRegistry()
    expected = 167 * unit("W/m/K") * 150 * unit.mm**2 / (10 * unit.mm)
    assert conductance_w_k(150, 10, 167) == pytest.approx(expected.to("W/K").magnitude)


@pytest.mark.published
def test_two_bars_end_to_end_as_solved_by_finite_differences() -> None:
    """Source: NumPy's linear solver on 400 cells of a bar of two materials, the same heat through all."""
    lengths, conductivities, area = (4.0, 6.0), (0.3, 50.0), 120.0
    cells = [k for k, _ in zip(np.repeat(conductivities, 200), range(400), strict=True)]
    width = [length / 200 for length in lengths for _ in range(200)]
    links = [2e3 / (w1 / k1 + w2 / k2) for w1, w2, k1, k2 in zip(width, width[1:], cells, cells[1:], strict=False)]
    first, last = 2e3 * cells[0] / width[0], 2e3 * cells[-1] / width[-1]
    matrix = np.zeros((400, 400))
    for place, link in enumerate(links):
        for one, other in ((place, place + 1), (place + 1, place)):
            matrix[one, one] += link
            matrix[one, other] -= link
    matrix[0, 0] += first
    matrix[-1, -1] += last
    heat = np.zeros(400)
    heat[0] = first
    temperatures = np.linalg.solve(matrix, heat)
    flux = first * (1 - temperatures[0]) * area * 1e-6
    bars = [conductance_w_k(area, length, k) for length, k in zip(lengths, conductivities, strict=True)]
    assert in_series_w_k(*bars) == pytest.approx(flux, rel=1e-6)


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
        lambda: in_series_w_k(),
        lambda: in_series_w_k(1.0, 0.0),
    ],
)
def test_out_of_range(call: Callable[[], object]) -> None:
    """What no bar can be is refused."""
    with pytest.raises(ValueError, match=r"must be|needs"):
        call()


@given(CONDUCTIVITY, LENGTH, st.floats(1.01, 5))
def test_longer_parts_let_less_through(conductivity: float, length: float, longer: float) -> None:
    """Conductance falls with length, and a series lets less through than any of its parts."""
    one = conductance_w_k(100, length, conductivity)
    other = conductance_w_k(100, length * longer, conductivity)
    assert other < one
    assert in_series_w_k(one, other) < other
