"""Parts and layouts as small pictures: from the catalog's numbers, within their squares, by shape before colour."""

from itertools import product
from typing import get_args
from xml.etree import ElementTree as ET

import pytest

from service.documents.catalog import Kind
from service.domain.vehicles import Layout
from service.drawing.duties import DASHES
from service.drawing.ends import End, Seal
from service.drawing.layouts import draw_layout
from service.drawing.parts import SIZE, draw_part, standing_sketch
from service.drawing.shapes import PartShape, part_shape
from service.drawing.svg import symbol
from tests.explain.sheets import seed
from tests.support.svg import SPACE, assert_within, circles, shapes

KINDS = get_args(Kind)
SEALS = get_args(Seal)
ODD_MM = (None, 0.0, 1e-3, 2.0, 40.0, 5_000.0)


def _drawn(shape: PartShape, shade: float = 0.1) -> ET.Element:
    drawn = symbol("one", SIZE, lambda parent: draw_part(parent, shape, shade))
    [found] = ET.fromstring(f'<svg xmlns="http://www.w3.org/2000/svg">{drawn}</svg>')
    return found


@pytest.mark.parametrize("kind", KINDS)
def test_whatever_the_numbers_a_part_stays_in_its_square(kind: str) -> None:
    """Nothing told, next to nothing, and far too much; with one end, with three, with none."""
    ends = [(), (End("cone", True, 14.0),), tuple(End(seal, seal != "taper", 20.0) for seal in SEALS[:3])]
    for standout, across, own in product(ODD_MM, ODD_MM, ends):
        shape = PartShape(kind, standout, across, across or None, ends=own, spots=("left", "top", "centre"))
        drawn = _drawn(shape._replace(long_mm=standout or None, wide_mm=across or None, bore_mm=across or None))
        assert_within(drawn)
        assert shapes(drawn) or circles(drawn)


def test_kinds_do_not_look_alike() -> None:
    """Of the seed catalog, even without their shades."""
    standards = {standard.id: standard for standard in seed().catalog.port_standards}
    looks: dict[bytes, str] = {}
    for item in seed().catalog.items:
        drawn = ET.tostring(_drawn(part_shape(item, standards)))
        assert looks.setdefault(drawn, item.kind) == item.kind, item.sku


@pytest.mark.parametrize("kind", ["fitting", "plug", "gauge", "regulator"])
@pytest.mark.parametrize("ends", [1, 2])
def test_what_stands_on_a_rail_is_as_large_as_its_numbers(kind: str, ends: int) -> None:
    """So that it is to scale among its like; a gauge where it is long enough for its dial."""
    shape = PartShape(kind, 60.0, 44.0, 22.0, ends=(End("o-ring", True, 19.0), End("cone", True, 14.0))[:ends])
    low, high, left, right = standing_sketch(shape).extent
    assert (low, high) == (0, pytest.approx(60))
    assert right - left == pytest.approx(44)


def test_an_end_shows_how_it_seals() -> None:
    """Each of the four is drawn otherwise, and a female one is hidden."""
    looks = {seal: ET.tostring(_drawn(PartShape("fitting", 30, 20, ends=(End(seal, True, 14.0),)))) for seal in SEALS}
    assert len(set(looks.values())) == len(SEALS)
    hidden = _drawn(PartShape("fitting", 30, 20, ends=(End("cone", True, 14.0), End("cone", False, 14.0))))
    assert [shape for shape in shapes(hidden) if shape.dashes]


def test_a_finish_is_a_shade() -> None:
    shape = PartShape("plug", 10, 20)
    assert ET.tostring(_drawn(shape, 0.1)) != ET.tostring(_drawn(shape, 0.5))


@pytest.mark.parametrize("layout", seed().revision.layouts.values(), ids=lambda layout: layout.id)
def test_a_layout_shows_each_duty_by_its_stroke_and_heads(layout: Layout) -> None:
    """Feeds lead to the rail, returns away from it; strokes differ; words beside it say the same."""
    for placement in layout.placements:
        duties = {spot: entry.duty for spot, entry in placement.items()}
        links = {spot: entry.to_spot for spot, entry in placement.items() if entry.to_spot}
        root = ET.fromstring(draw_layout(duties, links))
        assert_within(root)
        for duty in ("feed", "return"):
            own = [group for group in root.iter(f"{SPACE}g") if group.get("class") == f"duty duty-{duty}"]
            assert len(own) == list(duties.values()).count(duty)
            for group in own:
                arrow, head = shapes(group)
                assert arrow.dashes == DASHES[duty]
                points_at = head.points[0]
                is_inwards = abs(points_at[0] - 66) + abs(points_at[1] % 62 - 31) < max(
                    abs(x - 66) + abs(y % 62 - 31) for x, y in arrow.points
                )
                assert is_inwards == (duty == "feed")
        assert root.get("aria-hidden") == "true"
