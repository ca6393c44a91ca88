"""The drawings as pages: the numbers of the API, in the drawing and in its table; nothing inline, nothing large."""

import re
from collections.abc import Iterator
from typing import Any

import pytest
from fastapi import FastAPI

from service.documents.folder import load_catalog, seed_folder
from service.domain import units
from service.web.app import create_app
from service.web.counter.visits import UNITS_COOKIE
from service.web.pages.rendering import DRAWING_STYLES_PATH, PAGE_POLICY, inch_first, static_file
from tests.support.builders import HOSE, RETURN, catalog
from tests.support.drawings import CARS, FUELS
from tests.support.svg import drawings, texts
from tests.web.calls import ask, call, get
from tests.web.conftest import QUESTION, library_in
from tests.web.test_sheet_page import HOSTILE, MOST_BYTES, Page

NUMBER = re.compile(r"-?\d+(?:\.\d+)? (?:mm|kPa|L/h|kW) \(-?\d+(?:\.\d+)? (?:in|psi|US gal/h|hp)\)|-?\d+(?:\.\d+)? %")


@pytest.fixture(scope="module", name="seed_app")
def _seed_app(tmp_path_factory: pytest.TempPathFactory) -> Iterator[FastAPI]:
    """The application over the seed catalog."""
    document = load_catalog(seed_folder()).model_dump(exclude_none=True)
    with library_in(tmp_path_factory.mktemp("seed") / "file", document) as library:
        yield create_app(library)


OWN_SCRIPT = {"src": "/static/counter.js", "defer": None}


def _keys(app: FastAPI) -> list[str]:
    curves = [get(app, f"/v1/chassis/{car}/drop-curves?fuel={fuel}").json() for car in CARS for fuel in FUELS]
    return [curve["key"] for one in curves for curve in one["curves"]]


def _numbers(told: Any, names: dict[str, Any]) -> Iterator[str]:
    """The numbers of a JSON answer as a page words them, by the names of their fields."""
    if isinstance(told, dict):
        for name, value in told.items():
            if name in names and value is not None:
                yield names[name](value)
            yield from _numbers(value, names)
    elif isinstance(told, list):
        for one in told:
            yield from _numbers(one, names)


_OF_A_BILL = {
    **dict.fromkeys(("standout_mm", "axial_left_mm", "across_left_mm"), units.length),
    **dict.fromkeys(("drop_kpa", "lost_kpa", "kpa", "limit_kpa", "left_kpa", "start_kpa"), units.pressure),
    **dict.fromkeys(("held_kpa", "rail_kpa"), units.pressure),
    "flow_l_h": units.flow,
}
_OF_CURVES = {
    **dict.fromkeys(("power_kw", "carries_kw", "stock_kw"), units.power),
    **dict.fromkeys(("drop_kpa", "limit_kpa"), units.pressure),
    "flow_l_h": units.flow,
    "used_percent": lambda value: units.percent(value / 100),
}


def _tables(page: str) -> str:
    """All that stands outside the drawings."""
    return _outside(page).text


def _tags_outside(page: str) -> list[str]:
    return [tag for tag, _ in _outside(page).tags]


def _outside(page: str) -> Page:
    return Page(re.sub(r"<svg.*?</svg>", "", page, flags=re.DOTALL))


def _parts(rails: list[dict[str, Any]]) -> list[dict[str, Any]]:
    return [part for rail in rails for spot in rail["spots"] for part in spot["standing"]]


def test_every_number_of_a_bill_s_page_is_the_api_s(seed_app: FastAPI) -> None:
    """Each of the answer is in the tables; none in a drawing or a table is of another origin."""
    keys = _keys(seed_app)
    assert len(keys) > 60
    for key in keys:
        answer = get(seed_app, f"/v1/bills/{key}/drawing").json()
        page = get(seed_app, f"/bills/{key}/drawing").text
        lengths = {units.length(rail["length_mm"]) for rail in answer["rails"]}
        bare = [{**spot, "standing": []} for rail in answer["rails"] for spot in rail["spots"]]
        expected = set(_numbers([bare, answer["paths"], {**answer, "rails": [], "paths": []}], _OF_A_BILL))
        tables = _tables(page)
        for number in expected:
            assert number in tables, number
        drawn = " ".join(words.text for root in drawings(page) for words in texts(root))
        power = set(NUMBER.findall(answer["text"]))
        for number in {*NUMBER.findall(drawn), *NUMBER.findall(tables)} - expected - lengths - power:
            assert number in Page(" ".join(path["text"] for path in answer["paths"])).text, number


def test_every_number_of_the_curves_page_is_the_api_s(seed_app: FastAPI) -> None:
    """The same of the curves; the names of fuels have numbers too."""
    fuels = get(seed_app, "/v1/fuels").json()["results"]
    of_names = {number for fuel in fuels for number in NUMBER.findall(fuel["name"])}
    for car in CARS:
        for fuel in FUELS:
            answer = get(seed_app, f"/v1/chassis/{car}/drop-curves?fuel={fuel}").json()
            page = get(seed_app, f"/drop-curves?chassis={car}&fuel={fuel}").text
            bare = {"runs_out": None, "power": None}
            figures = [{**curve, **bare, "carries_kw": curve["power"]["carries_kw"]} for curve in answer["curves"]]
            expected = set(_numbers({**answer, "curves": figures}, _OF_CURVES))
            tables = _tables(page)
            for number in expected:
                assert number in tables, number
            [root] = drawings(page)
            drawn = " ".join(words.text for words in texts(root))
            assert set(NUMBER.findall(drawn)) | set(NUMBER.findall(tables)) <= expected | of_names


def test_pages_are_small_and_nothing_is_inline(seed_app: FastAPI) -> None:
    """No script, no style, no handler; under a policy that would not let them run."""
    paths = [f"/bills/{key}/drawing" for key in _keys(seed_app)[::7]]
    paths += [f"/drop-curves?chassis={car}" for car in ("hollin-25", "pellam-33", "morrow-46")]
    frame = sum(len(static_file(name)) for name in ("counter.css", "counter.js", "drawing.css"))
    for path in paths:
        response = get(seed_app, path)
        assert response.status_code == 200
        assert len(response.content) + frame < MOST_BYTES
        assert response.headers["content-type"] == "text/html; charset=utf-8"
        assert response.headers["content-security-policy"] == PAGE_POLICY
        page = Page(response.text)
        names = {name for _, attributes in page.tags for name in attributes}
        assert not {tag for tag, _ in page.tags} & {"style", "iframe", "object", "img", "base"}
        assert [attributes for tag, attributes in page.tags if tag == "script"] == [OWN_SCRIPT]
        assert not [name for name in names if name.startswith("on") or name in ("style", "srcdoc")]


def test_drawings_of_a_page_have_names_of_their_own(seed_app: FastAPI) -> None:
    """No id is there twice, and each drawing is named by its own title and description."""
    for key in _keys(seed_app)[::9]:
        page = get(seed_app, f"/bills/{key}/drawing").text
        ids = re.findall(r'\sid="(.*?)"', page)
        assert len(ids) == len(set(ids))
        for named in re.findall(r'aria-labelledby="(.*?)"', page):
            assert set(named.split()) <= set(ids)


def _hostile_catalog() -> dict[str, Any]:
    document = catalog()
    for section in ("port_standards", "items", "chassis", "layouts", "fuels"):
        for element in document[section]:
            element["name"] = HOSTILE
    for layout in document["layouts"]:
        layout["summary"] = HOSTILE
    return document


def test_hostile_texts_are_only_texts(tmp_path: Any) -> None:
    """What a catalog's names hold is shown as it is, and nothing of it becomes an element."""
    with library_in(tmp_path / "file", _hostile_catalog()) as library:
        app = create_app(library)
        key = ask(app, RETURN).json()["bills"][0]["key"]
        for path in (f"/bills/{key}/drawing", "/drop-curves?chassis=brook"):
            page = get(app, path)
            read = Page(page.text)
            assert page.status_code == 200
            assert "img" not in {tag for tag, _ in read.tags}
            assert [attributes for tag, attributes in read.tags if tag == "script"] == [OWN_SCRIPT]
            assert " ".join(HOSTILE.split()) in read.text


def test_what_is_not_rated_is_said(tmp_path: Any) -> None:
    """In the drawing and in the table, and nothing is put in its place."""
    document = catalog()
    for item in document["items"]:
        item.pop("flow", None)
    with library_in(tmp_path / "file", document) as library:
        app = create_app(library)
        key = ask(app, HOSE).json()["bills"][0]["key"]
        page = get(app, f"/bills/{key}/drawing").text
        assert "not rated" in _tables(page)
        assert any("not rated, pressure not known" in words.text for root in drawings(page) for words in texts(root))
        assert "Not rated: " in get(app, "/drop-curves?chassis=brook").text


def test_pages_are_the_readers_own(app: FastAPI) -> None:
    """They hold the token of the reader's forms, so nobody else may keep them."""
    key = ask(app, HOSE).json()["bills"][0]["key"]
    for path in (f"/bills/{key}/drawing", "/drop-curves?chassis=brook"):
        assert get(app, path).headers["cache-control"] == "private, no-cache"
        assert call(app, "HEAD", path).status_code == 200


@pytest.mark.parametrize(
    ("path", "status", "said"),
    [
        ("/bills/none/drawing", 404, "There is no bill"),
        ("/drop-curves", 422, "chassis: found"),
        ("/drop-curves?chassis=brook&fuel=petral", 422, "fuel: found"),
        ("/drop-curves?chassis=brook&x=1", 422, "x: found"),
        ("/drop-curves?chassis=brok", 404, "nearest: brook"),
    ],
)
def test_what_is_not_there_is_told_on_a_page(app: FastAPI, path: str, status: int, said: str) -> None:
    """With the status of its problem, what was found and what would be right."""
    page = get(app, path)
    assert (page.status_code, page.headers["content-type"]) == (status, "text/html; charset=utf-8")
    assert said in Page(page.text).text


def test_pages_are_no_operations_and_have_their_stylesheet(app: FastAPI) -> None:
    """The stylesheet is served, small, and fetches nothing."""
    assert not [path for path in app.openapi()["paths"] if not path.startswith(("/v1/", "/b/"))]
    styles = get(app, DRAWING_STYLES_PATH)
    assert (styles.status_code, styles.headers["content-type"]) == (200, "text/css; charset=utf-8")
    assert styles.content == static_file("drawing.css")
    assert b"url(" not in styles.content
    assert b"@import" not in styles.content


@pytest.mark.parametrize("page", ["drawing", "curves"])
def test_inches_come_first_in_drawings_and_tables(app: FastAPI, page: str) -> None:
    """Every figure that stands in both units changes its order, and nothing else does."""
    key = ask(app, QUESTION).json()["bills"][0]["key"]
    path = {"drawing": f"/bills/{key}/drawing", "curves": "/drop-curves?chassis=brook"}[page]
    metric, inch = (get(app, path, headers={"Cookie": f"{UNITS_COOKIE}={one}"}).text for one in ("metric", "inch"))
    assert both_units(Page(metric).text)
    assert both_units(Page(inch).text) == []
    changed = inch_first(_tables(metric)).replace("Inches first", "Metric first")
    assert " ".join(_tables(inch).split()) == " ".join(changed.split())
    scales = {"drawing": "psi lost, station by station", "curves": "Power, hp"}
    assert scales[page] in " ".join(words.text for root in drawings(inch) for words in texts(root))
    assert _tags_outside(inch) == _tags_outside(metric)


def both_units(text: str) -> list[str]:
    """The figures that have the metric unit before the customary one."""
    return re.findall(r"[\d.]+ (?:mm|kPa|L/h|kW) \([\d.]+ \D+?\)", text)
