"""The pressure along a path as a drawing: every number is the document's, every place is to scale."""

from collections.abc import Iterator
from copy import deepcopy
from itertools import pairwise
from xml.etree import ElementTree as ET

import pytest

from service.documents.drawing import PathProfile
from service.domain import units
from service.drawing import draw_pressure
from service.drawing.pressure import told
from tests.drawing.test_svg import HOSTILE
from tests.support.drawings import seed_drawings
from tests.support.svg import SPACE, Words, assert_within, circles, overlapping, shapes, texts

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
    left = path["left_kpa"]
    assert (f"{units.pressure(left)} left" if left >= 0 else f"{units.pressure(-left)} over the limit") in words
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
    """By the scale that the ticks tell; the limit too, where it is near enough to be drawn."""
    root = _drawn(path)
    start, *behind = _places(root)
    scale = _scale(root, start)
    assert scale > 0
    for y, station in zip(behind, path["stations"], strict=True):
        assert y - start == pytest.approx(station["lost_kpa"] * scale, abs=0.06)
    limits = [shape for shape in shapes(root) if shape.dashes == "8 4"]
    assert len(limits) == (path["drop_kpa"] >= 0.4 * path["limit_kpa"])
    for limit in limits:
        assert limit.points[0][1] - start == pytest.approx(path["limit_kpa"] * scale, abs=0.06)


def _ticks(root: ET.Element) -> list[Words]:
    return [words for words in texts(root) if words.anchor == "end" and words.text.replace(".", "").isdigit()]


def _scale(root: ET.Element, start: float) -> float:
    """Units a kPa, as read off the last tick."""
    last = _ticks(root)[-1]
    return (last.y - 4 - start) / float(last.text)


def test_the_bar_of_the_limit_is_to_scale(path: PathProfile) -> None:
    """The part that is used, of the whole limit."""
    root = _drawn(path)
    whole, used = [shape for shape in shapes(root) if shape.closed][:2]
    assert used.width / whole.width == pytest.approx(path["drop_kpa"] / path["limit_kpa"], abs=1e-3)


def test_psi_where_inches_are_wished(path: PathProfile) -> None:
    """The same places, by a scale in psi."""
    root, metric = ET.fromstring(draw_pressure(path, "path-1", inch=True)), _drawn(path)
    assert list(_places(root)) == list(_places(metric))
    start = next(_places(root))
    assert _scale(root, start) == pytest.approx(_scale(metric, start) * units.KPA_PER_PSI, rel=0.02)
    assert "psi lost, station by station" in [words.text for words in texts(root)]


def test_no_line_runs_through_words(path: PathProfile) -> None:
    """Neither the path nor a limit; a question mark stands under its own dashed line."""
    root = _drawn(path)
    lines = [shape for shape in shapes(root) if not shape.closed]
    for words in (one for one in texts(root) if one.text != "?"):
        left, right, upper, lower = words.box
        for shape in lines:
            for (x0, y0), (x1, y1) in pairwise(shape.points):
                steps = [n / 40 for n in range(41)]
                crossed = [(x0 + (x1 - x0) * n, y0 + (y1 - y0) * n) for n in steps]
                assert not [1 for x, y in crossed if left < x < right and upper < y < lower], words.text


def test_ticks_are_where_their_numbers_say(path: PathProfile) -> None:
    """Round numbers, three or more."""
    root = _drawn(path)
    start = next(_places(root))
    scale, ticks = _scale(root, start), _ticks(root)
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
