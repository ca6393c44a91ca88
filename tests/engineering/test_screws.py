"""Screws: thread areas, torque and preload, proof load against standards and handbooks."""

import math
from collections.abc import Callable
from pathlib import Path

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.engineering import Thread, preload_n, proof_load_n, stripping_load_n, torque_nm
from service.engineering.screws import DIAMETERS_IN_ALUMINIUM, PROOF_MPA, REUSED_PART_OF_PROOF
from tests.hydraulics.published import Row, rows, with_source

ROWS = {row.id: row for row in rows("screws.csv", Path(__file__).parent / "reference")}
UNITS = pint.get_application_registry()

M6 = Thread(6, 1)
M8 = Thread(8, 1.25)


def _inch(diameter: float, per_inch: float) -> Thread:
    return Thread(diameter * 25.4, 25.4 / per_inch, unified=True)


def _lbf_in(diameter_in: float, preload_lbf: float, nut_factor: float) -> float:
    preload = UNITS.Quantity(preload_lbf, "lbf").m_as("N")
    return float(UNITS.Quantity(torque_nm(preload, diameter_in * 25.4, nut_factor), "N*m").m_as("lbf*inch"))


RESULTS = {
    "TP-028": _inch(7 / 16, 20).stress_area_mm2 / 25.4**2,
    "TP-032": _inch(9 / 16, 18).stress_area_mm2 / 25.4**2,
    "TP-036": _inch(3 / 4, 16).stress_area_mm2 / 25.4**2,
    "TP-089": M6.pitch_diameter_mm,
    "TP-090": M6.hole_mm,
    "TP-091": M6.root_mm,
    "TP-092": M6.stress_area_mm2,
    "TP-094": M8.pitch_diameter_mm,
    "TP-095": M8.hole_mm,
    "TP-096": M8.root_mm,
    "TP-097": M8.stress_area_mm2,
    "TP-098": M6.stress_area_mm2,
    "TP-101": M8.stress_area_mm2,
    "TP-109": proof_load_n(M6, PROOF_MPA["8.8"]),
    "TP-110": proof_load_n(M6, PROOF_MPA["10.9"]),
    "TP-111": proof_load_n(M8, PROOF_MPA["8.8"]),
    "TP-112": proof_load_n(M8, PROOF_MPA["10.9"]),
    "TI-105": _lbf_in(0.19, 1275, 0.3),
    "TI-106": _lbf_in(0.19, 1275, 0.25),
    "TI-107": _lbf_in(0.19, 1275, 0.2),
    "TI-108": _lbf_in(0.19, 1275, 0.15),
    "TI-109": _lbf_in(0.19, 1275, 0.1),
    "TI-113": _lbf_in(0.75, 25000, 0.2),
    "TI-116": torque_nm(REUSED_PART_OF_PROOF * 11600, 6, 0.2),
    "TI-117": torque_nm(REUSED_PART_OF_PROOF * 21200, 8, 0.2),
}


def test_every_row_is_used() -> None:
    """No copied figure goes untested."""
    assert set(ROWS) == set(RESULTS)


@pytest.mark.published
@pytest.mark.parametrize("row", [ROWS[key] for key in RESULTS], ids=with_source)
def test_published_screws(row: Row) -> None:
    """The function gives the published figure."""
    assert RESULTS[row.id] == row.expected()


def test_two_diameters_hold_in_aluminium() -> None:
    """By common practice two diameters of cast aluminium hold more than a class 8.8 screw. Its shear strength,
    some 130 MPa, is from memory.
    """
    engaged = DIAMETERS_IN_ALUMINIUM * M6.diameter_mm
    assert stripping_load_n(M6, engaged, 130) > 800 * M6.stress_area_mm2


def test_stripping_without_engagement() -> None:
    """A screw that reaches no thread holds nothing."""
    assert stripping_load_n(M6, 0, 130) == 0


@pytest.mark.parametrize(
    "call",
    [
        lambda: Thread(6, 0),
        lambda: Thread(1, 1),
        lambda: proof_load_n(M6, 0),
        lambda: torque_nm(-1, 6, 0.2),
        lambda: torque_nm(1, 6, math.nan),
        lambda: preload_n(1, 0, 0.2),
        lambda: stripping_load_n(M6, -1, 130),
    ],
)
def test_out_of_range(call: Callable[[], object]) -> None:
    """A value out of its range is refused."""
    with pytest.raises(ValueError, match="not"):
        call()


@given(st.floats(0, 1e5), st.floats(1, 50), st.floats(0.05, 0.5))
def test_preload_round_trip(preload: float, diameter_mm: float, nut_factor: float) -> None:
    """The torque of a preload makes that preload, and slipperier threads make more of it."""
    torque = torque_nm(preload, diameter_mm, nut_factor)
    assert preload_n(torque, diameter_mm, nut_factor) == pytest.approx(preload)
    assert preload_n(torque, diameter_mm, nut_factor / 2) >= preload_n(torque, diameter_mm, nut_factor)


@given(st.floats(0, 50), st.floats(0, 50))
def test_more_thread_holds_more(engaged_mm: float, more_mm: float) -> None:
    """Stripping load never falls as more thread engages."""
    assert stripping_load_n(M6, engaged_mm, 130) <= stripping_load_n(M6, engaged_mm + more_mm, 130)
