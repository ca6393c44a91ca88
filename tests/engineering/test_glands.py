"""Rings in their glands over all tolerances."""

import math
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.documents.catalog import Catalog
from service.documents.folder import load_catalog
from service.engineering import GlandSizes, RingSizes, Size, ring_fit, spread, squeeze
from tests.hydraulics.published import rows, with_source

ROWS = {row.id: row for row in rows("glands.csv", Path(__file__).parent / "reference")}
RULES = {key: row for key, row in ROWS.items() if row.how != "memory"}
SEED = Path(__file__).parents[2] / "seed_data"
SIZES = {"orb-6": "906", "orb-8": "908", "orb-10": "910"}

RING = RingSizes(Size(16.36, 0.23), Size(2.21, 0.08))
GLAND = GlandSizes(Size(16.7, 0.05), Size(22.6, 0.05), Size(1.74, 0.05))


@pytest.fixture(scope="module")
def seed() -> Catalog:
    return load_catalog(SEED)


@pytest.mark.published
@pytest.mark.parametrize("row", [x for x in ROWS.values() if x.id.startswith("TP")], ids=with_source)
def test_the_rings_of_the_demo_are_those_of_the_standard(seed: Catalog, row: object) -> None:
    """Inside diameter and section with their tolerances, to a hundredth of a millimetre (AS568, from memory)."""
    assert isinstance(row, tuple)
    dash = row.conditions[-3:]
    ring = next(item.ring for item in seed.items if item.ring and f"AS568-{dash}" in item.name)
    inside = "inside" in row.quantity
    told = (ring.inside_mm, ring.inside_tol_mm) if inside else (ring.section_mm, ring.section_tol_mm)
    tolerance = float(row.tolerance.removeprefix("+/-"))
    assert told == pytest.approx((float(row.value) * 25.4, tolerance * 25.4), abs=0.006)


def test_the_demo_tells_no_gland(seed: Catalog) -> None:
    """The seat of a boss is a cone, whose published dimensions were not found: so none is made up."""
    assert [standard.id for standard in seed.port_standards if standard.gland] == []


def test_a_ring_keeps_its_volume() -> None:
    """Stretched, its section thins so that section area times length of its middle stays, to 2 % at so much stretch."""
    ring, gland = RingSizes(Size(10), Size(2)), GlandSizes(Size(12), Size(20), Size(1.5))
    fit = ring_fit(ring, gland)
    thin = 1.5 / (1 - fit.squeeze.nominal)
    assert fit.stretch.nominal == pytest.approx(0.2)
    assert thin**2 * (12 + thin) == pytest.approx(2**2 * (10 + 2), rel=0.02)
    volume = math.pi / 4 * 2**2 * math.pi * 12
    assert fit.fill.nominal == pytest.approx(volume / (math.pi / 4 * (20**2 - 12**2) * 1.5))


def test_a_loose_ring_is_not_stretched() -> None:
    """Larger than what it sits on: no stretch, the section as drawn."""
    fit = ring_fit(RingSizes(Size(18), Size(2)), GlandSizes(Size(16), Size(24), Size(1.6)))
    assert fit.stretch.nominal == 0
    assert fit.squeeze.nominal == squeeze(2, 1.6)


@pytest.mark.parametrize(
    ("ring", "gland"),
    [
        (RingSizes(Size(1, 1), Size(2)), GLAND),
        (RingSizes(Size(16), Size(0)), GLAND),
        (RING, GlandSizes(Size(16.7), Size(22.6), Size(0.1, 0.1))),
        (RING, GlandSizes(Size(22.6), Size(22.6), Size(1.7))),
    ],
)
def test_out_of_range(ring: RingSizes, gland: GlandSizes) -> None:
    """A size that may be nothing, or a gland without room, is refused."""
    with pytest.raises(ValueError, match="must be"):
        ring_fit(ring, gland)


@pytest.mark.parametrize(("nominal", "tol"), [(float("nan"), 0), (1, -0.1), (1, float("inf"))])
def test_a_size_without_sense(nominal: float, tol: float) -> None:
    """A size is a number with a tolerance of 0 or more."""
    with pytest.raises(ValueError, match="a size needs"):
        Size(nominal, tol)


@given(st.lists(st.tuples(st.floats(-10, 10), st.floats(0, 1)), min_size=1, max_size=5))
def test_a_sum_spreads_as_its_tolerances(sizes: list[tuple[float, float]]) -> None:
    """Of a plain sum the worst is the tolerances' sum, the rule the root of their squares' sum."""
    found = spread(lambda *values: sum(values), [Size(*size) for size in sizes])
    tolerances = [tol for _, tol in sizes]
    assert found.most - found.nominal == pytest.approx(sum(tolerances), abs=1e-9)
    assert found.nominal - found.least == pytest.approx(sum(tolerances), abs=1e-9)
    assert found.most_rss - found.nominal == pytest.approx(math.hypot(*tolerances), abs=1e-9)


@given(st.floats(0, 0.2), st.floats(0, 0.1))
def test_wider_tolerances_spread_more(inside_tol: float, depth_tol: float) -> None:
    """The worst case holds the rule, and both hold what is drawn."""
    fit = ring_fit(
        RingSizes(Size(16.36, inside_tol), RING.section), GlandSizes(GLAND.inside, GLAND.outside, Size(1.74, depth_tol))
    )
    for one in (fit.stretch, fit.squeeze, fit.fill):
        assert one.least - 1e-9 <= one.nominal <= one.most + 1e-9
        assert one.least_rss <= one.nominal <= one.most_rss
