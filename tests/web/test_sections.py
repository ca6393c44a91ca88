"""The sections of the catalog: lists by page, one document by its id, filters, revisions."""

from pathlib import Path
from typing import Any

import pytest
from fastapi import FastAPI

from service.documents.catalog import Catalog
from service.web.app import create_app
from service.web.queries import PageQuery, RevisionQuery
from service.web.representations import LASTING, REVALIDATE
from service.web.routers.sections import SECTIONS, caching
from tests.support.catalogs import small_catalog
from tests.web.calls import get, problem, told
from tests.web.conftest import dearer, library_in

_FIELDS = {section.path: section.field for section in SECTIONS}
_PLAIN = Catalog.model_validate(dearer(small_catalog())).model_dump(exclude_none=True)


def _pages(app: FastAPI, path: str) -> list[dict[str, Any]]:
    """Follow a list to its end."""
    pages = []
    while path:
        response = get(app, path)
        assert response.status_code == 200, response.text
        pages.append(response.json())
        path = pages[-1].get("next", "")
        assert response.headers.get("link", "") == (f'<{path}>; rel="next"' if path else "")
    return pages


def _results(pages: list[dict[str, Any]]) -> list[Any]:
    return [result for page in pages for result in page["results"]]


@pytest.mark.parametrize("path", list(_FIELDS))
def test_a_list_is_the_section_of_the_catalog(app: FastAPI, path: str) -> None:
    """Page by page it is what the catalog document has, in its order, from one revision."""
    pages = _pages(app, f"/v1/{path}?limit=3")
    assert _results(pages) == _PLAIN[_FIELDS[path]]
    assert {page["revision"] for page in pages} == {2}
    assert all(len(page["results"]) == 3 for page in pages[:-1])


@pytest.mark.parametrize("path", list(_FIELDS))
def test_each_document_is_found_by_its_id(app: FastAPI, path: str) -> None:
    """Also where the id has a slash, written as it is or escaped."""
    for document in _PLAIN[_FIELDS[path]]:
        wanted = document.get("sku") or document["id"]
        for written in {wanted, wanted.replace("/", "%2F")}:
            response = get(app, f"/v1/{path}/{written}")
            assert response.json() == {"revision": 2, "result": document}
            assert response.headers["x-catalog-revision"] == "2"


@pytest.mark.parametrize(
    ("path", "kind", "parameter", "nearest"),
    [
        ("items/PLUG-B9", "item", "sku", "PLUG-B8"),
        ("chassis/brok", "chassis", "id", "brook"),
        ("chassis/brok/layouts", "chassis", "id", "brook"),
        ("layouts/factry", "layout", "id", "factory"),
        ("addons/blowre", "add-on", "id", "blower"),
        ("fuels/e58", "fuel", "id", "e85"),
        ("materials/aluminum", "material", "id", "aluminium"),
        ("port-standards/boss-9", "port standard", "id", "boss-8"),
        ("problems/unknown-ids", "problem type", "code", "unknown-id"),
    ],
)
def test_an_unknown_id_is_told_the_nearest(app: FastAPI, path: str, kind: str, parameter: str, nearest: str) -> None:
    """The parameter, what was asked and what is alike."""
    wanted = path.split("/")[1]
    found = problem(get(app, f"/v1/{path}"), 404, "unknown-id")
    assert told(found) == [(parameter, f'"{wanted}"', f"the {parameter} of a known {kind}")]
    assert found["errors"][0]["nearest"][0] == nearest
    assert f'There is no {kind} "{wanted}"; nearest: {nearest}' in found["detail"]


@pytest.mark.parametrize(
    "wanted", ["", "%00", "%1B%5B31m", "%ED%A0%80", "%FF", "x" * 20_000, "%3Cscript%3E", "..%2F..%2Fetc"]
)
def test_hostile_ids_are_just_not_found(app: FastAPI, wanted: str) -> None:
    """Whatever is asked for, the answer is short, printable and 404."""
    response = get(app, f"/v1/items/{wanted}")
    problem(response, 404, "unknown-id")
    assert len(response.content) < 1_000
    assert response.text.isprintable()


_FILTERS = {
    "kind=plug": ["PLUG-B8", "PLUG-T"],
    "mates=taper-1/8:female": ["PLUG-T", "GAUGE-T"],
    "mates=taper-1/8:male": ["RAIL-S", "REG-F6"],
    "kind=gauge&mates=taper-1/8:female": ["GAUGE-T"],
    "kind=rail&mates=taper-1/8:female": [],
    "kind=gauge&fits=brook": ["GAUGE-T"],
}


@pytest.mark.parametrize("query", list(_FILTERS))
def test_filters_must_all_hold(app: FastAPI, query: str) -> None:
    """By kind, by the port that an item meets, by the chassis that it stands in a bill for."""
    assert [item["sku"] for item in _results(_pages(app, f"/v1/items?{query}"))] == _FILTERS[query]


def test_filters_go_along_with_the_pages(app: FastAPI) -> None:
    """Each next page keeps the filters and the limit."""
    pages = _pages(app, "/v1/items?kind=fitting&fits=brook&limit=1")
    assert [item["sku"] for item in _results(pages)] == ["ADAPT-B8-F6", "SPIGOT-B8-Q"]
    assert len(pages) == 2


def test_the_last_page_may_be_full(app: FastAPI) -> None:
    """Nothing says there is more where there is not."""
    assert "next" not in get(app, f"/v1/items?limit={len(_PLAIN['items'])}").json()


def test_a_list_stays_in_its_revision(tmp_path: Path) -> None:
    """A catalog that is imported between two pages does not mix into the list."""
    with library_in(tmp_path / "file", small_catalog()) as library:
        app = create_app(library)
        first = get(app, "/v1/items?limit=5").json()
        library.publish(Catalog.model_validate(dearer(small_catalog())))
        pages = _pages(app, first["next"])
        assert {page["revision"] for page in pages} == {1}
        assert [*first["results"], *_results(pages)] == _results(_pages(app, "/v1/items?revision=1"))


def test_a_revision_can_be_named(app: FastAPI) -> None:
    """Each answers with its own prices; one that is not there is not found."""
    prices = [get(app, f"/v1/items/PLUG-T?revision={number}").json()["result"]["price"] for number in (1, 2)]
    assert prices == [400, 500]
    for path in ("items", "items/PLUG-T", "chassis/brook/layouts"):
        found = problem(get(app, f"/v1/{path}?revision=9"), 404, "unknown-id")
        assert told(found) == [("revision", '"9"', "the number of a known revision")]


def test_the_layouts_of_a_chassis_on_an_unknown_fuel(app: FastAPI) -> None:
    """A fuel that is not known is a fault of the query, with the nearest one."""
    answer = get(app, "/v1/chassis/brook/layouts?fuel=petral")
    assert answer.status_code == 422
    (fault,) = answer.json()["errors"]
    assert (fault["parameter"], fault["nearest"]) == ("fuel", ["petrol"])
    on_e85 = get(app, "/v1/chassis/brook/layouts?fuel=e85").json()["layouts"]
    assert on_e85 != get(app, "/v1/chassis/brook/layouts").json()["layouts"]


def test_the_layouts_of_a_chassis(app: FastAPI) -> None:
    """Each has bills from a price, or the rule that rules it out."""
    body = get(app, "/v1/chassis/brook/layouts").json()
    assert (body["revision"], body["chassis"], body["currency"]) == (2, "brook", "OVC")
    choices = {choice["layout"]: choice for choice in body["layouts"]}
    assert list(choices) == [layout["id"] for layout in small_catalog()["layouts"]]
    assert choices["factory"]["total_valid"] > 0
    assert choices["factory"]["lowest_price"] > 0
    assert choices["factory"]["ruled_out_by"] is None
    assert choices["linked-banks"]["total_valid"] == 0
    assert choices["linked-banks"]["lowest_price"] is None
    assert choices["linked-banks"]["ruled_out_by"]["rule"] == "layout"


def test_an_id_may_end_like_a_path(tmp_path: Path) -> None:
    """A chassis whose id ends in /layouts is reached with its slash escaped."""
    catalog = small_catalog()
    catalog["chassis"].append(catalog["chassis"][0] | {"id": "brook/layouts"})
    with library_in(tmp_path / "file", catalog) as library:
        app = create_app(library)
        assert get(app, "/v1/chassis/brook%2Flayouts").json()["result"]["id"] == "brook/layouts"
        assert get(app, "/v1/chassis/brook/layouts").json()["chassis"] == "brook"
        assert get(app, "/v1/chassis/brook%2flayouts/layouts").json()["chassis"] == "brook/layouts"


@pytest.mark.parametrize(
    ("given", "header"),
    [
        (RevisionQuery(), REVALIDATE),
        (RevisionQuery(revision=1), LASTING),
        (PageQuery(), REVALIDATE),
        (PageQuery(limit=3), REVALIDATE),
        (PageQuery(revision=1), LASTING),
        (PageQuery.model_construct(cursor="of a revision"), LASTING),
    ],
)
def test_what_names_its_revision_lasts(given: RevisionQuery, header: str) -> None:
    """A cursor names one; the newest has to be asked for again, however many are wanted."""
    assert caching(given) == header
