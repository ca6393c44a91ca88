"""Parallel paths share a flow so that their drops agree: exact cases, other solvers, jumps and limits."""

import itertools
import math
from collections.abc import Callable

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq, fsolve

from service.hydraulics import Fluid, Passage, drop_pa, share_flow

Drop = Callable[[float], float]

PETROL = Fluid(745, 0.41e-3)
L_H = 1e-3 / 3600
LONG = Passage(7.94e-3, 4, 0.5, 1.5e-6)
SHORT = Passage(6e-3, 0.8, 3, 0)
WIDE = Passage(9.5e-3, 2, 1, 1e-5)


def through(passage: Passage) -> Drop:
    return lambda flow: drop_pa(passage, PETROL, flow)


def quadratic(loss: float) -> Drop:
    return lambda flow: loss * flow * flow


def free(_flow: float) -> float:
    return 0.0


@pytest.mark.parametrize(
    ("drops", "total", "expected"),
    [
        pytest.param([quadratic(1)], 3, (3,), id="one path"),
        pytest.param([quadratic(1), quadratic(4)], 3, (2, 1), id="four times the loss, half the flow"),
        pytest.param([quadratic(1), quadratic(4), quadratic(9)], 11, (6, 3, 2), id="three paths"),
        pytest.param([quadratic(1), quadratic(1e12)], 1.000001, (1, 1e-6), id="a millionth"),
        pytest.param([quadratic(2)] * 4, 1, (0.25,) * 4, id="four equal paths"),
        pytest.param([free, quadratic(1)], 5, (5, 0), id="a path without drop takes all"),
        pytest.param([free, quadratic(1), free], 5, (2.5, 0, 2.5), id="paths without drop share equally"),
        pytest.param([free, free], 5, (2.5, 2.5), id="no drop at all"),
        pytest.param([quadratic(1), free], 0, (0, 0), id="nothing to share"),
    ],
)
def test_exact_shares(drops: list[Drop], total: float, expected: tuple[float, ...]) -> None:
    """Cases that can be done by hand come out to 1e-9."""
    assert share_flow(drops, total) == pytest.approx(expected, rel=1e-9, abs=0)


@pytest.mark.parametrize("total_l_h", [0.3, 8.0, 40.0, 300.0, 2000.0])
def test_two_paths_agree_with_scipy(total_l_h: float) -> None:
    """SciPy's Brent method on the difference of the drops finds the same split."""
    total, first, second = total_l_h * L_H, through(LONG), through(SHORT)
    expected = brentq(lambda flow: first(flow) - second(total - flow), 0, total, xtol=1e-20, rtol=1e-14)
    assert share_flow([first, second], total) == pytest.approx((expected, total - expected), rel=1e-9)


def test_three_paths_agree_with_scipy() -> None:
    """SciPy's hybrid Newton method on all three equations at once finds the same shares."""
    total, drops = 600 * L_H, [through(LONG), through(SHORT), through(WIDE)]

    def residuals(fractions: list[float]) -> list[float]:
        flows = [fraction * total for fraction in (*fractions, 1 - sum(fractions))]
        losses = [drop(flow) for drop, flow in zip(drops, flows, strict=True)]
        return [losses[0] - losses[2], losses[1] - losses[2]]

    first, second = fsolve(residuals, [0.3, 0.3], xtol=1e-12)
    expected = (first * total, second * total, (1 - first - second) * total)
    assert share_flow(drops, total) == pytest.approx(expected, rel=1e-8)


@pytest.mark.parametrize("height", [0.01, 0.3, 0.5, 0.9])
@pytest.mark.parametrize("neighbours", [1, 2], ids=["two paths", "three paths"])
@pytest.mark.parametrize("size", [0.1, 1.0, 10.0])
def test_path_is_held_at_its_jump(height: float, neighbours: int, size: float) -> None:
    """Where the others' drop falls into a path's jump, its flow stays at the laminar edge."""
    edge = 2040 * math.pi / 4 * LONG.bore_m * PETROL.viscosity_pa_s / PETROL.density_kg_m3
    laminar, turbulent = (through(LONG)(edge * (1 + side)) for side in (-1e-9, 1e-9))
    neighbour = quadratic((laminar + height * (turbulent - laminar)) / (edge * size) ** 2)
    flows = share_flow([through(LONG), *[neighbour] * neighbours], edge * (1 + neighbours * size))
    assert flows == pytest.approx((edge, *[edge * size] * neighbours), rel=1e-9)


PATHS = st.builds(
    Passage,
    st.floats(4e-3, 16e-3),
    st.floats(0.05, 6),
    st.floats(0.1, 10),
    st.sampled_from([0.0, 1.5e-6, 1e-5]),
)


@settings(max_examples=40, deadline=None)
@given(paths=st.lists(PATHS, min_size=2, max_size=3), total_l_h=st.floats(0.01, 1500))
def test_shares_fill_the_total_and_their_drops_agree(paths: list[Passage], total_l_h: float) -> None:
    """Flows add up; just below its flow no path loses more than another just above; order does not matter."""
    drops, total = [through(path) for path in paths], total_l_h * L_H
    flows = share_flow(drops, total)
    assert sum(flows) == pytest.approx(total, rel=1e-12)
    below = [drop(flow * (1 - 1e-8)) for drop, flow in zip(drops, flows, strict=True)]
    above = [drop(flow * (1 + 1e-8)) for drop, flow in zip(drops, flows, strict=True)]
    assert all(low <= high for low, high in itertools.product(below, above))
    assert share_flow(drops[::-1], total) == pytest.approx(flows[::-1], rel=1e-9)


def test_equal_paths_share_exactly() -> None:
    """Twins carry the same flow to the last bit."""
    assert share_flow([through(LONG), through(LONG)], 0.3) == (0.15, 0.15)


@pytest.mark.parametrize(
    ("drops", "total", "message"),
    [
        ([], 1.0, "at least one path"),
        ([free], -1.0, "must be 0 or more"),
        ([free], math.nan, "must be 0 or more"),
    ],
    ids=["no path", "negative", "not a number"],
)
def test_nothing_to_solve(drops: list[Drop], total: float, message: str) -> None:
    """A share without paths, or of a negative flow, is refused."""
    with pytest.raises(ValueError, match=message):
        share_flow(drops, total)
