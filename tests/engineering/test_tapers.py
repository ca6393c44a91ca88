"""Taper pipe threads against the tables of ASME B1.20.1."""

from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.engineering import (
    effective_length_mm,
    engaged_threads,
)
from tests.hydraulics.published import Row, rows, with_source

IN = 25.4
OUTSIDE_IN = {"1/8-27": 0.405, "1/4-18": 0.540}
HAND_TIGHT_IN = {"1/8-27": 0.1615, "1/4-18": 0.2278}
FIGURES: dict[str, Callable[[float, float, float], float]] = {
    "NPT effective thread length L2": lambda d, p, _: effective_length_mm(d, p) / IN,
    "NPT L2 from formula (0.80 D + 6.8) p": lambda d, p, _: effective_length_mm(d, p) / IN,
    "NPT hand-tight engagement": lambda _, p, h: engaged_threads(h, p, 0),
}
ROWS = rows("tapers.csv", Path(__file__).parent / "reference")


def test_every_figure_has_its_rows() -> None:
    """Both sizes stand behind every figure."""
    assert {row.quantity for row in ROWS} == set(FIGURES)
    assert len(ROWS) == 6


@pytest.mark.published
@pytest.mark.parametrize("row", ROWS, ids=with_source)
def test_published_tapers(row: Row) -> None:
    """The functions give the standard's figures to the digits that it prints."""
    size = row.conditions[:6] if row.conditions[:6] in OUTSIDE_IN else "1/8-27"
    pitch = IN / float(size[-2:])
    figure = FIGURES[row.quantity](OUTSIDE_IN[size] * IN, pitch, HAND_TIGHT_IN[size] * IN)
    assert figure == row.expected()


@pytest.mark.published
def test_a_small_taper_thread_ends_with_three_to_six_threads_engaged() -> None:
    """Source: common practice, 3 to 6 threads in all; here the 1/8 size by hand and one turn more."""
    assert 3 <= engaged_threads(HAND_TIGHT_IN["1/8-27"] * IN, IN / 27, 1.0) <= 6


@pytest.mark.parametrize(
    "call",
    [
        lambda: effective_length_mm(1, 1),
        lambda: effective_length_mm(10, 0),
        lambda: engaged_threads(4, 0, 1),
        lambda: engaged_threads(4, 1, -1),
        lambda: engaged_threads(float("nan"), 1, 1),
    ],
)
def test_out_of_range(call: Callable[[], object]) -> None:
    """What no thread can be is refused."""
    with pytest.raises(ValueError, match=r"must be|needs"):
        call()


@given(st.floats(1, 20), st.floats(0.5, 3), st.floats(0, 5), st.floats(0.01, 5))
def test_more_turns_engage_more(hand_tight_mm: float, pitch_mm: float, turns: float, more: float) -> None:
    """Each turn engages a thread."""
    one = engaged_threads(hand_tight_mm, pitch_mm, turns)
    assert engaged_threads(hand_tight_mm, pitch_mm, turns + more) == pytest.approx(one + more)
