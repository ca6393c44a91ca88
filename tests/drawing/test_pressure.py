"""The pressure along a path as a drawing: every number is the document's, every place is to scale."""

from collections.abc import Iterator
from copy import deepcopy
from xml.etree import ElementTree as ET

import pytest

from service.documents.drawing import PathProfile
from service.domain import units
from service.drawing import draw_pressure
from service.drawing.pressure import told
from tests.drawing.test_svg import HOSTILE
from tests.support.drawings import seed_drawings
from tests.support.svg import SPACE, assert_within, circles, overlapping, shapes, texts

PATHS = {
    f"{name} {index}": path
    for name, drawn in seed_drawings().items()
    for index, path in enumerate(drawn.drawing["paths"])
}


def _drawn(path: PathProfile) -> ET.Element:
    return ET.fromstring(draw_pressure(path, "path-1"))


@pytest.fixture(scope="module", params=sorted(PATHS), name="path")
def _path(request: pytest.FixtureRequest) -> PathProfile:
    return PATHS[request.param]


def test_each_number_is_told(path: PathProfile) -> None:
    """What is lost at each station and the pressure behind it, the limit, and the whole."""
    words = [one.text for one in texts(_drawn(path))]
    assert f"limit {units.pressure(path['limit_kpa'])}" in words
    assert f"{units.pressure(path['drop_kpa'])} in all" in words
    rows = [one for one in words if ", then " in one or one.endswith("not known")]
    assert len(rows) == len(path["stations"])
    for station, row in zip(path["stations"], rows, strict=True):
        kpa, drop = station["kpa"], station["drop_kpa"]
        assert row.endswith("pressure not known" if kpa is None else f"then {units.pressure(kpa)}")
        assert row.startswith("regulates") == station["regulates"]
        if station["kind"] != "side-plug":
            assert ("not rated" if drop is None else f"loses {units.pressure(drop)}") in row


def _places(root: ET.Element) -> Iterator[float]:
    """Where the pressure stands before the first station and behind each, downwards."""
    yield from (y for _, y, _ in circles(root))


def test_falls_are_to_scale(path: PathProfile) -> None:
    """As drawn, what is lost is to the limit as it is in the document, to half a hundredth of a unit."""
    root = _drawn(path)
    start, *behind = _places(root)
    [limit] = [shape for shape in shapes(root) if shape.dashes == "8 4"]
    scale = (limit.points[0][1] - start) / path["limit_kpa"]
    assert scale > 0
    for y, station in zip(behind, path["stations"], strict=True):
        assert y - start == pytest.approx(station["lost_kpa"] * scale, abs=0.021)


def test_ticks_are_where_their_numbers_say(path: PathProfile) -> None:
    """Round numbers, three or more."""
    root = _drawn(path)
    start = next(_places(root))
    [limit] = [shape for shape in shapes(root) if shape.dashes == "8 4"]
    scale = (limit.points[0][1] - start) / path["limit_kpa"]
    ticks = [words for words in texts(root) if words.anchor == "end" and words.text.replace(".", "").isdigit()]
    assert len(ticks) >= 3
    for words in ticks:
        assert words.y - 4 - start == pytest.approx(float(words.text) * scale, abs=0.05)


def test_what_is_not_rated_is_told_by_shape_and_word(path: PathProfile) -> None:
    """A dashed line and an open end; a question mark where fuel runs through it."""
    root = _drawn(path)
    unrated = [station for station in path["stations"] if station["drop_kpa"] is None]
    assert len([shape for shape in shapes(root) if shape.dashes == "2 4"]) == len(unrated)
    marks = [words for words in texts(root) if words.text == "?"]
    assert len(marks) == len([station for station in unrated if station["kind"] != "side-plug"])


def test_nothing_is_cut_off_or_covered(path: PathProfile) -> None:
    """All is within the picture, and no words stand on others."""
    root = _drawn(path)
    assert_within(root)
    assert overlapping(root) == []


def test_the_alternative_says_it_all(path: PathProfile) -> None:
    """Title and description under the names that the image goes by."""
    root = _drawn(path)
    title, desc = root.find(f"{SPACE}title"), root.find(f"{SPACE}desc")
    assert title is not None
    assert desc is not None
    assert (root.get("role"), root.get("aria-labelledby")) == ("img", f"{title.get('id')} {desc.get('id')}")
    assert desc.text == told(path)
    assert path["text"] in told(path)
    assert all(station["name"] in told(path) for station in path["stations"])


def test_hostile_names_are_only_texts() -> None:
    """Cut where there is no room, whole in the description."""
    path = deepcopy(next(iter(PATHS.values())))
    for station in path["stations"]:
        station["name"] = HOSTILE
    root = _drawn(path)
    tags = {element.tag.removeprefix(SPACE) for element in root.iter()}
    assert tags == {"svg", "defs", "title", "desc", "path", "circle", "text"}
    assert HOSTILE in (root.findtext(f"{SPACE}desc") or "")
    assert any(words.text.startswith(f"1 {HOSTILE[:20]}") for words in texts(root))


@pytest.mark.parametrize("factor", [0.0, 1e-6, 1.0, 50.0, 1e4])
@pytest.mark.parametrize("limit", [1e-3, 40.0, 1e5])
def test_odd_figures_stay_within(factor: float, limit: float) -> None:
    """Drops far over and far under a limit."""
    path = deepcopy(next(iter(PATHS.values())))
    path["limit_kpa"], path["drop_kpa"] = limit, path["drop_kpa"] * factor
    for station in path["stations"]:
        station["lost_kpa"] *= factor
    assert_within(_drawn(path))
