"""The rails as drawings: to scale in both directions, with the envelope and what is left of it, and with the flow."""

from itertools import pairwise
from xml.etree import ElementTree as ET

import pytest

from service.documents.drawing import BillDrawing
from service.documents.sheet import SheetRail
from service.domain.vehicles import place_of
from service.drawing import draw_rails
from tests.support.drawings import seed_drawings
from tests.support.svg import SPACE, Shape, assert_within, overlapping, shapes, texts

UPRIGHT = ("top", "centre")


@pytest.fixture(scope="module", params=sorted(seed_drawings()), name="drawing")
def _drawing(request: pytest.FixtureRequest) -> BillDrawing:
    return seed_drawings()[request.param].drawing


def _drawn(drawing: BillDrawing) -> ET.Element:
    return ET.fromstring(draw_rails(drawing["rails"], "Plan"))


def _near(value: float, others: list[float]) -> bool:
    return any(value == pytest.approx(other, abs=0.03) for other in others)


def _boxes(root: ET.Element, drawing: BillDrawing) -> list[tuple[SheetRail, Shape, list[Shape], float]]:
    """Each rail with its box, all that is drawn of it, and the scale, which is one for all."""
    groups = [element for element in root if element.tag.endswith("}g")]
    found = []
    for rail, drawn in zip(drawing["rails"], groups, strict=True):
        box, *others = shapes(drawn)
        assert rail["length_mm"] is not None
        found.append((rail, box, others, box.width / rail["length_mm"]))
    for (_, _, _, one), (_, _, _, other) in pairwise(found):
        assert one == pytest.approx(other, rel=1e-3)
    return found


def test_parts_are_as_long_and_wide_as_the_catalog_says(drawing: BillDrawing) -> None:
    """Outwards and across, in the scale of the rail's own length; a gauge's dial is a circle, and its size its own."""
    root = _drawn(drawing)
    groups = [element for element in root if element.tag.endswith("}g")]
    scale = _boxes(root, drawing)[0][3]
    for rail, drawn in zip(drawing["rails"], groups, strict=True):
        sketches = iter([shapes(element) for element in drawn.iter(f"{SPACE}g") if element.get("class") == "part"])
        for spot in rail["spots"]:
            for part in (one for one in spot["standing"] if not one["side"]):
                points = [point for shape in next(sketches) for point in shape.points]
                if part["kind"] == "gauge" or part["across_mm"] is None:
                    continue
                sizes = [max(at) - min(at) for at in zip(*points, strict=True)]
                long, wide = reversed(sizes) if place_of(spot["spot"]) in UPRIGHT else sizes
                if part["standout_mm"] * scale >= 3.1:  # else it is drawn larger than it is, to be seen
                    assert long == pytest.approx(part["standout_mm"] * scale, abs=0.05), part["sku"]
                if part["across_mm"] * scale >= 10.1:
                    assert wide == pytest.approx(part["across_mm"] * scale, abs=0.05), part["sku"]
        assert next(sketches, None) is None


def test_the_envelope_is_to_scale(drawing: BillDrawing) -> None:
    """Its limit is as far out as there is room, its sides as far apart; what is left is written."""
    for rail, box, others, scale in _boxes(_drawn(drawing), drawing):
        dashed = [shape for shape in others if shape.dashes == "4 3"]
        (x0, y0), (x1, y1) = box.points[0], box.points[2]
        edges = {"left": -x0, "right": x1, "top": -y0, "centre": y1}
        for spot in rail["spots"]:
            place = place_of(spot["spot"])
            axis, sign = (1 if place in UPRIGHT else 0), (1 if place in ("right", "centre") else -1)
            if spot["axial_mm"] is not None:
                limit = edges[place] + spot["axial_mm"] * scale
                assert any(
                    all(sign * point[axis] == pytest.approx(limit, abs=0.03) for point in shape.points)
                    for shape in dashed
                ), spot["spot"]
            if spot["across_mm"] is not None:
                mine = [x for x in dashed if sign * x.points[0][axis] == pytest.approx(edges[place], abs=0.03)]
                apart = [abs(a.points[0][1 - axis] - b.points[0][1 - axis]) for a in mine for b in mine]
                assert _near(spot["across_mm"] * scale, apart), spot["spot"]


def test_each_number_is_told(drawing: BillDrawing) -> None:
    """What is left along the axis beside the envelope, and each spot with its duty; the rest stands in the table."""
    words = [one.text for one in texts(_drawn(drawing))]
    for rail in drawing["rails"]:
        for spot in rail["spots"]:
            if spot["axial_left_mm"] is not None:
                assert f"{spot['axial_left_mm']:g} mm left" in words
            assert f"{spot['spot']}: {spot['duty']}" in words


LEAST_UNITS = 12.9
"""Of 360: on a phone of 360 px less 16 px of margin 11 px are 11.5 units; on 80 mm of paper 8 pt are 12.7."""


def test_words_are_large_enough_for_a_phone_and_for_paper(drawing: BillDrawing) -> None:
    """The picture is no wider than a phone, and its words no smaller than 11 px there, or 8 pt in print."""
    root = _drawn(drawing)
    assert float(root.attrib["viewBox"].split()[2]) == pytest.approx(360)
    assert min(one.size for one in texts(root)) >= LEAST_UNITS


def test_flow_has_its_direction(drawing: BillDrawing) -> None:
    """An arrow head for each way of flow, towards the rail where it comes in and away where it leaves."""
    for rail, box, others, _ in _boxes(_drawn(drawing), drawing):
        heads = [shape for shape in others if not shape.stroked]
        flows = [spot["flows"] for spot in rail["spots"]]
        assert len(heads) == len([x for x in flows if x in ("in", "out")]) + 2 * flows.count("both")
        middle = (box.points[0][0] + box.points[2][0]) / 2, (box.points[0][1] + box.points[2][1]) / 2
        inwards = [_distance(x.points[0], middle) < _distance(x.points[1], middle) for x in heads]
        assert inwards.count(True) == flows.count("in") + flows.count("both")


def _distance(one: tuple[float, float], other: tuple[float, float]) -> float:
    return abs(one[0] - other[0]) + abs(one[1] - other[1])


def test_nothing_is_cut_off_or_covered(drawing: BillDrawing) -> None:
    """All is within the picture, and no words stand on others."""
    root = _drawn(drawing)
    assert_within(root)
    assert overlapping(root) == []


def test_what_is_left_stands_clear_of_the_rail(drawing: BillDrawing) -> None:
    """Its words cross no edge of the rail."""
    root = _drawn(drawing)
    told = [one.box for one in texts(root) if one.text.endswith("mm left")]
    for _, rail, _, _ in _boxes(root, drawing):
        (x0, y0), (x1, y1) = rail.points[0], rail.points[2]
        assert [one for one in told if one[1] > x0 and one[0] < x1 and one[3] > y0 and one[2] < y1] == []
