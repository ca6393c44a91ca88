"""/v1/items/{sku}/uses: where a part could be used, by page, from one revision; and the part's page."""

from pathlib import Path
from typing import Any

import pytest
from fastapi import FastAPI

from service.documents.catalog import Catalog
from service.web.app import create_app
from tests.support.builders import catalog, twin
from tests.support.catalogs import small_catalog
from tests.web.calls import get, problem, told
from tests.web.conftest import dearer, library_in
from tests.web.test_sections import _pages, _results

BROOK, HERON = ("brook", "Brook hatchback"), ("heron", "Heron coupe")


def _use(car: tuple[str, str], layout: str, spots: list[str], **more: Any) -> dict[str, Any]:
    names = {"factory": "Factory line", "hose-centre": "Own hose to the centre"}
    names |= {"through-return": "Through flow with return", "linked-banks": "Factory line, banks linked"}
    told: dict[str, Any] = {"chassis": car[0], "chassis_name": car[1], "layout": layout, "layout_name": names[layout]}
    return told | {"spots": spots, "roles": [], "needs_gauge": False} | more


_USES = {
    "SPIGOT-B8-Q": [_use(BROOK, "factory", ["left"]), _use(HERON, "linked-banks", ["1.left"])],
    "REG-F6": [_use(BROOK, "through-return", ["right"])],
    "GAUGE-T": [
        _use(BROOK, "factory", ["top"], needs_gauge=True),
        _use(BROOK, "hose-centre", ["top"], needs_gauge=True),
        _use(BROOK, "through-return", ["top"], needs_gauge=True),
        _use(HERON, "linked-banks", ["1.top"], needs_gauge=True),
    ],
    "SEALANT": [],
}


@pytest.mark.parametrize("sku", list(_USES))
def test_uses(app: FastAPI, sku: str) -> None:
    """Every car and layout with the spots, page by page; in any case of the SKU."""
    for written in (sku, sku.lower()):
        pages = _pages(app, f"/v1/items/{written}/uses?limit=1")
        assert _results(pages) == _USES[sku]
        assert {(page["revision"], page["sku"]) for page in pages} == {(2, sku)}
        assert len(pages) == max(1, len(_USES[sku]))
    whole = get(app, f"/v1/items/{sku}/uses")
    assert whole.json() == {"revision": 2, "sku": sku, "results": _USES[sku]}
    assert get(app, f"/v1/items/{sku}/uses", headers={"If-None-Match": whole.headers["etag"]}).status_code == 304


def test_a_rail_and_a_screw_are_at_no_spot(app: FastAPI) -> None:
    for sku, role in (("RAIL-S", "rail"), ("SCREW-6", "mounting")):
        found = get(app, f"/v1/items/{sku}/uses").json()["results"]
        assert {(*use["spots"], *use["roles"]) for use in found} == {(role,)}
        assert len(found) == 4


@pytest.mark.parametrize(
    ("query", "parameter"),
    [("limit=0", "limit"), ("limit=201", "limit"), ("cursor=nonsense", "cursor"), ("kind=plug", "kind")],
)
def test_what_is_no_page_is_refused(app: FastAPI, query: str, parameter: str) -> None:
    assert told(problem(get(app, f"/v1/items/RAIL-S/uses?{query}"), 422, "invalid-request"))[0][0] == parameter


def test_a_cursor_is_of_one_part_and_one_revision(app: FastAPI) -> None:
    path = get(app, "/v1/items/GAUGE-T/uses?limit=1&revision=1").json()["next"]
    assert get(app, path).json()["revision"] == 1
    problem(get(app, path.replace("GAUGE-T", "REG-F6")), 422, "invalid-request")
    problem(get(app, f"{path}&revision=2"), 422, "invalid-request")
    problem(get(app, path.replace("/v1/items/GAUGE-T/uses", "/v1/items")), 422, "invalid-request")


def test_an_unknown_part_is_told_the_nearest(app: FastAPI) -> None:
    found = problem(get(app, "/v1/items/GAUGE-X/uses"), 404, "unknown-id")
    assert told(found) == [("sku", '"GAUGE-X"', "the sku of a known item")]
    assert found["errors"][0]["nearest"][0] == "GAUGE-T"


def test_a_sku_may_have_slashes_and_end_in_uses(tmp_path: Path) -> None:
    """One of its own before `uses` is escaped."""
    document = catalog({"items/-": twin("PLUG-B8", "a/b")}, {"items/-": twin("PLUG-B8", "a/uses")})
    with library_in(tmp_path / "file", document) as library:
        app = create_app(library)
        for path, sku in (("a/b/uses", "a/b"), ("a%2Fb/uses", "a/b"), ("a/uses/uses", "a/uses")):
            assert get(app, f"/v1/items/{path}").json()["sku"] == sku
        assert get(app, "/v1/items/a%2Fuses").json()["result"]["sku"] == "a/uses"
        assert len(_results(_pages(app, "/v1/items/a/b/uses?limit=1"))) == 4


def test_the_parts_page_tells_the_same(tmp_path: Path) -> None:
    """With the spots, and with a gauge where it takes one."""
    with library_in(tmp_path / "file", small_catalog()) as library:
        library.publish(Catalog.model_validate(dearer(small_catalog())))
        app = create_app(library)
        page = get(app, "/catalog/gauge-t?cars=yes").text
        assert "Brook hatchback" in page
        assert ">top, with a gauge<" in page
        assert "More cars" not in page
        assert "none" in get(app, "/catalog/SEALANT?cars=yes").text
        for start in ("7", "99999999999", "x", "-1"):
            assert get(app, f"/catalog/GAUGE-T?cars=yes&from={start}").status_code == 200
        assert "Brook hatchback" not in get(app, "/catalog/GAUGE-T?cars=yes&from=7").text
