"""Screws that hold a rail down."""

from collections.abc import Callable
from pathlib import Path

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.engineering import Thread, clamp, pressure_force_n, proof_load_n, stripping_load_n
from service.engineering.screws import DIAMETERS_IN_ALUMINIUM, PROOF_MPA, REUSED_PART_OF_PROOF
from tests.hydraulics.published import rows

ROWS = {row.id: row for row in rows("clamping.csv", Path(__file__).parent / "reference")}
M6 = Thread(6, 1)


@pytest.mark.published
def test_lubricated_bolts_lie_within_the_range_on_the_average() -> None:
    """Source: Shigley, tables 8-14 and 8-15: ten lubricated 1/2-20 bolts at 90 N·m; K = 0.18, scatter 25 %."""
    found = clamp(Thread(12.7, 1.27, unified=True), "10.9", (90, 90), (0.18 * 0.75, 0.18 * 1.25), 12)
    assert found.least_n <= float(ROWS["TI-114"].value) * 1e3 <= found.most_n


@pytest.mark.published
def test_what_a_joint_that_is_used_again_may_carry() -> None:
    """Source: Shigley, eq. 8-31 (from memory); TM 5-3895-360-13, appendix G, for screws into aluminium."""
    assert float(ROWS["TI-118"].value) == REUSED_PART_OF_PROOF
    assert float(ROWS["TI-122"].value) == DIAMETERS_IN_ALUMINIUM


def test_a_screw_over_its_range() -> None:
    """By hand: 8 N·m over 0.25 x 6 mm are 5333 N, 9 N·m over 0.18 x 6 mm are 8333 N."""
    found = clamp(M6, "8.8", (8, 9), (0.18, 0.25), 12, 207)
    assert (found.least_n, found.most_n) == pytest.approx((5333.3, 8333.3), rel=1e-4)
    assert found.proof_part == pytest.approx(8333.33 / proof_load_n(M6, PROOF_MPA["8.8"]), rel=1e-5)
    assert found.engaged_diameters == 2
    assert found.stripping_n == stripping_load_n(M6, 12, 207)
    assert clamp(M6, "8.8", (8, 9), (0.18, 0.25), 12).stripping_n is None


def test_pressure_on_cups() -> None:
    """Pint agrees on pressure times area."""
    unit = pint.UnitRegistry()
    area = 4 * 3.141592653589793 / 4 * (13.5 * unit.mm) ** 2
    assert pressure_force_n(13.5, 400, 4) == pytest.approx((area * 400 * unit.kPa).to("N").magnitude)
    assert pressure_force_n(13.5, 0, 4) == 0


@pytest.mark.parametrize(
    "call",
    [
        lambda: clamp(M6, "12.9", (8, 9), (0.2, 0.2), 12),
        lambda: clamp(M6, "8.8", (-1, 9), (0.2, 0.2), 12),
        lambda: clamp(M6, "8.8", (8, 9), (0, 0.2), 12),
        lambda: clamp(M6, "8.8", (8, 9), (0.2, 0.2), -1),
        lambda: pressure_force_n(0, 1, 1),
        lambda: pressure_force_n(1, -1, 1),
        lambda: pressure_force_n(1, 1, -1),
    ],
)
def test_out_of_range(call: Callable[[], object]) -> None:
    """What no screw or cup can be is refused."""
    with pytest.raises(ValueError, match=r"must be|needs"):
        call()


@given(st.floats(1, 50), st.floats(0.1, 0.4), st.floats(0, 20), st.floats(0, 20))
def test_more_torque_holds_more(torque_nm: float, nut_factor: float, more_nm: float, engaged_mm: float) -> None:
    """Preload and part of proof rise with the torque."""
    ranges = ((torque_nm, torque_nm), (torque_nm + more_nm, torque_nm + more_nm))
    one, other = (clamp(M6, "8.8", torque, (nut_factor, nut_factor), engaged_mm) for torque in ranges)
    assert one.least_n <= other.least_n
    assert one.proof_part <= other.proof_part
