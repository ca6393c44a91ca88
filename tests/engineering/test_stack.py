"""The stack between manifold and rail."""

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.engineering import Length, Stack, room
from tests.hydraulics.published import rows, with_source

[EXPANSION] = rows("stack.csv", Path(__file__).parent / "reference")
STACK = Stack(
    spacer=Length(10, 0.05),
    roof=Length(20, 0.1),
    seat=Length(-30.8, 0.1),
    injector=Length(60, 0.1),
    cup_depth_mm=9,
    upper_ring_mm=3.5,
    lower_ring_mm=6,
)


def test_play_and_rings_as_drawn_at_the_worst_and_as_a_rule() -> None:
    """By hand: 10 + 20 + 30.8 - 60 = 0.8 mm; worst 0.35, rule sqrt(0.05^2 + 3 x 0.1^2) = 0.1803."""
    found = room(STACK, 20)
    assert found.play.nominal == pytest.approx(0.8)
    assert (found.play.least, found.play.most) == pytest.approx((0.45, 1.15))
    assert found.play.most_rss == pytest.approx(0.8 + 0.180278, abs=1e-6)
    assert (found.upper.nominal, found.upper.least) == pytest.approx((4.7, 4.35))
    assert (found.lower.nominal, found.lower.least) == pytest.approx((5.2, 4.85))


def test_without_its_spacer_the_rail_presses_the_injector_down() -> None:
    """That is what spacers are for."""
    bare = room(Stack(Length(0), *(getattr(STACK, x) for x in ("roof", "seat", "injector")), 9, 3.5, 6), 20)
    assert bare.play.nominal == pytest.approx(-9.2)
    assert bare.lower.nominal == 6


@pytest.mark.published
@pytest.mark.parametrize("row", [EXPANSION], ids=with_source)
def test_aluminium_grows_as_tabulated(row: object) -> None:
    """100 mm of 6061 grow by 23.6e-6 a kelvin: 0.236 mm over 100 K."""
    assert isinstance(row, tuple)
    grown = Length(100, 0, float(row.value)).at(120).nominal
    assert grown - 100 == pytest.approx(0.236, rel=0.02)


@given(st.floats(-40, 150), st.floats(0, 5))
def test_a_taller_spacer_leaves_more_play(celsius: float, more_mm: float) -> None:
    """Play rises with the spacer; rings never sit deeper for it."""
    low = room(STACK, celsius)
    tall = room(Stack(Length(10 + more_mm, 0.05), STACK.roof, STACK.seat, STACK.injector, 9, 3.5, 6), celsius)
    assert tall.play.nominal >= low.play.nominal
    assert tall.upper.least <= low.upper.least
    assert tall.lower.least <= low.lower.least


@given(st.floats(-40, 150))
def test_one_material_throughout_scales(celsius: float) -> None:
    """Where all grows alike, play grows with it and does not change its sign."""
    alike = [Length(length.mm, 0, 2e-5) for length in (STACK.spacer, STACK.roof, STACK.seat, STACK.injector)]
    found = room(Stack(*alike, 9, 3.5, 6), celsius)
    assert found.play.nominal == pytest.approx(0.8 * (1 + 2e-5 * (celsius - 20)))
