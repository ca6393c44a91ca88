"""Rings in their glands: published figures, limits, and how tolerances add up."""

from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.engineering import fill, root_sum_square, squeeze
from tests.hydraulics.published import Row, rows, with_source

ROWS = {row.id: row for row in rows("seals.csv", Path(__file__).parent / "reference")}
RESULTS = {"MA-059": squeeze(1.83, 1.40), "MA-060": fill(1.83, 2.40, 1.40)}


def test_every_row_is_used() -> None:
    """No copied figure goes untested."""
    assert set(ROWS) == set(RESULTS)


@pytest.mark.published
@pytest.mark.parametrize("row", ROWS.values(), ids=with_source)
def test_published_seals(row: Row) -> None:
    """The function gives the published percentage, to the digits that are printed."""
    assert round(100 * RESULTS[row.id], 2) == float(row.value)


def test_no_touch() -> None:
    """A gland deeper than the ring is thick squeezes less than nothing."""
    assert squeeze(1.8, 2.0) < 0


@pytest.mark.parametrize("call", [lambda: squeeze(0, 1), lambda: squeeze(1, 0), lambda: fill(1, 0, 1)])
def test_out_of_range(call: Callable[[], object]) -> None:
    """A size that is not above 0 is refused."""
    with pytest.raises(ValueError, match="must be above 0"):
        call()


@given(st.lists(st.floats(0, 10), max_size=6))
def test_worst_case_is_worst(tolerances: list[float]) -> None:
    """Sizes are never further off together than at the worst, nor less than any one of them."""
    together = root_sum_square(*tolerances)
    assert max(tolerances, default=0.0) <= together * (1 + 1e-12)
    assert together <= sum(tolerances) * (1 + 1e-12)


@given(st.floats(1, 5), st.floats(1, 5), st.floats(0, 1))
def test_thicker_rings_are_squeezed_and_fill_more(section_mm: float, depth_mm: float, more_mm: float) -> None:
    """Squeeze and fill rise with the thickness of the ring."""
    assert squeeze(section_mm, depth_mm) <= squeeze(section_mm + more_mm, depth_mm)
    assert fill(section_mm, 3, depth_mm) <= fill(section_mm + more_mm, 3, depth_mm)
