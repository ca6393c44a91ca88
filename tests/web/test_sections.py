"""The sections of the catalog: lists by page, one document by its id, filters, revisions."""

import csv
import io
from decimal import Decimal
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
            money = {"currency": "OVC", "tax": None} if path == "items" else {}
            assert response.json() == {"revision": 2, **money, "result": document}
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
    "q=plug&kind=plug": ["PLUG-B8", "PLUG-T"],
    "q=plug-b": ["PLUG-B8"],
    "q=nothinglikeit": [],
    "sku=gauge-t,NO-SUCH,plug-B8,PLUG-B8": ["PLUG-B8", "GAUGE-T"],
    "sku=PLUG-T&kind=gauge": [],
    "sold=false": [],
    "sold=true&kind=plug&utm_source=mail&utm_source=mail": ["PLUG-B8", "PLUG-T"],
    "status=retired": [],
    "status=active&kind=gauge": ["GAUGE-T"],
}


@pytest.mark.parametrize("query", list(_FILTERS))
def test_filters_must_all_hold(app: FastAPI, query: str) -> None:
    """By kind, by the port that an item meets, by the chassis that it stands in a bill for."""
    assert [item["sku"] for item in _results(_pages(app, f"/v1/items?{query}"))] == _FILTERS[query]


def test_skus_that_are_none_are_told(app: FastAPI) -> None:
    """As they were asked for; nothing is told where nobody asked for any."""
    assert get(app, "/v1/items?sku=plug-b8,NO-SUCH").json()["not_found"] == ["NO-SUCH"]
    assert "not_found" not in get(app, "/v1/items").json()
    assert told(problem(get(app, "/v1/items?sku=A,,B"), 422, "invalid-request"))[0][0] == "sku"


@pytest.mark.parametrize(("words", "found"), [("brook", ["brook"]), ("heron v6", []), ("HERON", ["heron"])])
def test_cars_are_found_by_words(app: FastAPI, words: str, found: list[str]) -> None:
    """By name, id and engine; a page has its filter in the link to the next."""
    pages = _pages(app, f"/v1/chassis?q={words}&limit=1")
    assert [one["id"] for one in _results(pages)] == found


def test_boolean_filters_go_along(app: FastAPI) -> None:
    """A next page is asked for as the first one was."""
    pages = _pages(app, "/v1/items?sold=true&status=active&limit=4")
    sold = [item["sku"] for item in _PLAIN["items"] if item["sold"] and item["status"] == "active"]
    assert [item["sku"] for item in _results(pages)] == sold
    assert len(pages) > 1


def test_items_as_rows(tmp_path: Path) -> None:
    """The same page as CSV; no cell begins a formula, however a name does."""
    catalog = small_catalog()
    catalog["items"][1]["name"] = '=HYPERLINK("x")'
    catalog["items"][2]["gtin"] = "02000000000015"
    catalog["maker"]["tax"] = "gross"
    with library_in(tmp_path / "file", catalog) as library:
        app = create_app(library)
        answer = get(app, "/v1/items?limit=3", headers={"Accept": "text/csv"})
    assert answer.headers["content-type"] == "text/csv; charset=utf-8"
    assert answer.headers["x-catalog-revision"] == "1"
    assert 'rel="next"' in answer.headers["link"]
    rows = list(csv.DictReader(io.StringIO(answer.text)))
    assert [row["sku"] for row in rows] == [item["sku"] for item in catalog["items"][:3]]
    assert rows[1]["name"] == '\'=HYPERLINK("x")'
    assert [Decimal(row["unit_price"]) * 100 for row in rows] == [item["price"] for item in catalog["items"][:3]]
    assert {row["currency"] for row in rows} == {catalog["maker"]["currency"]}
    assert {row["tax"] for row in rows} == {"gross"}
    assert [row["gtin"] for row in rows] == ["", "", "02000000000015"]
    assert rows[0]["sold"] == "true"


def test_changes_and_a_bill_as_rows(app: FastAPI) -> None:
    """What the JSON says, a row a change and a row a line."""
    as_rows = {"Accept": "text/csv"}
    changes = list(csv.DictReader(io.StringIO(get(app, "/v1/changes?since=1", headers=as_rows).text)))
    assert {(row["revision"], row["what"], row["fields"]) for row in changes} == {("2", "changed", "price")}
    assert sorted(row["id"] for row in changes) == sorted(item["sku"] for item in _PLAIN["items"])
    bill = get(app, "/v1/bills?chassis=brook&layout=hose-centre&limit=1").json()["bills"][0]
    lines = list(csv.DictReader(io.StringIO(get(app, f"/v1/bills/{bill['key']}", headers=as_rows).text)))
    assert [line["sku"] for line in lines] == [*(line["sku"] for line in bill["lines"]), ""]
    assert Decimal(lines[-1]["price"]) * 100 == bill["price"]
    bought = [line for line in lines[:-1] if line["price"]]
    assert bought
    assert all(Decimal(line["unit_price"]) * int(line["qty"]) == Decimal(line["price"]) for line in bought)


@pytest.mark.parametrize(
    "path",
    [
        "/v1/chassis",
        "/v1/fuels",
        "/v1/fuels/e85",
        "/v1/revisions",
        "/v1/chassis/brook/layouts",
        "/v1/items/PLUG-B8/uses",
    ],
)
def test_where_there_are_no_rows(app: FastAPI, path: str) -> None:
    """Who takes nothing but CSV is told that there is none; who takes anything gets JSON."""
    refused = get(app, path, headers={"Accept": "text/csv"})
    problem(refused, 406, "not-acceptable")
    assert refused.headers["vary"] == "Accept"
    assert get(app, path, headers={"Accept": "text/csv, */*;q=0.1"}).headers["content-type"] == "application/json"


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
