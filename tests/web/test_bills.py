"""/v1/bills: questions, answers, and bills that come back by their keys."""

from pathlib import Path
from typing import Any

import pytest
from fastapi import FastAPI

from service.documents.catalog import Catalog
from service.usecases.library import Library
from service.web.app import create_app
from tests.support.catalogs import small_catalog
from tests.support.found import by_itself, sorted_lists, spelt_out
from tests.web.calls import ask, get, problem, told
from tests.web.conftest import QUESTION, dearer, library_in


def test_an_answer_tells_its_revision_and_is_not_kept(app: FastAPI) -> None:
    """The newest revision answers; body and header name it."""
    response = ask(app, QUESTION)
    assert response.status_code == 200
    assert (response.json()["revision"], response.headers["x-catalog-revision"]) == (2, "2")
    assert response.headers["cache-control"] == "no-store"
    assert response.json()["total_valid"] > 0


def test_a_named_revision_answers(app: FastAPI) -> None:
    """Its prices are those of then."""
    then, now = (ask(app, QUESTION | {"revision": number}).json()["bills"][0] for number in (1, 2))
    assert now["price"] - then["price"] == 100 * now["pieces"]


def test_nothing_fits_is_an_answer(app: FastAPI) -> None:
    """A question that no bill answers is understood all the same."""
    response = ask(app, QUESTION | {"max_price": 1})
    assert (response.status_code, response.json()["total_valid"], response.json()["bills"]) == (200, 0, [])


def test_whole_floats_are_whole_numbers(app: FastAPI) -> None:
    """JSON does not tell 3.0 from 3."""
    assert ask(app, b'{"chassis": "brook", "layout": "factory", "limit": 3.0}').status_code == 200


def test_each_bill_comes_back_by_its_key(app: FastAPI) -> None:
    """All of it, in its own revision, with what the newest makes of it."""
    for revision in (1, 2):
        answer = ask(app, QUESTION | {"revision": revision, "limit": 100, "detail": "full"}).json()
        for bill in spelt_out(answer["bills"]):
            response = get(app, f"/v1/bills/{bill['key']}")
            recalled = response.json()
            assert sorted_lists(recalled.pop("bill")) == bill
            current = recalled.pop("current")
            assert (current["revision"], current["valid"]) == (2, True)
            assert current["price"] == bill["price"] + (2 - revision) * 100 * bill["pieces"]
            assert (current["key"] == bill["key"]) is (revision == 2)
            assert recalled == {name: answer[name] for name in ("revision", "currency", "tax", "safety")}
            assert response.headers["x-catalog-revision"] == str(revision)
            assert response.headers["cache-control"] == "no-cache"


def test_a_key_outlives_a_newer_catalog(tmp_path: Path) -> None:
    """The same bill at the same price after an import."""
    with library_in(tmp_path / "file", small_catalog()) as library:
        app = create_app(library)
        bill = ask(app, QUESTION | {"detail": "full"}).json()["bills"][0]
        library.publish(Catalog.model_validate(dearer(small_catalog())))
        assert ask(app, QUESTION).json()["bills"][0]["price"] > bill["price"]
        assert get(app, f"/v1/bills/{bill['key']}").json()["bill"] == by_itself(bill)


def _spoilt(key: str) -> dict[str, str]:
    return {
        "cut": key[:-1],
        "longer": key + "A",
        "padded": key + "=",
        "other format": "9" + key[1:],
        "nonsense": "no-key",
        "not ASCII": "1%E2%82%AC",
        "control": "1%00",
        "long": "1" + "A" * 20_000,
    }


@pytest.mark.parametrize("way", list(_spoilt("")))
def test_what_is_no_key_is_not_found(app: FastAPI, way: str) -> None:
    """Whatever has been done to a key, the answer is 404 and never repeats it at length."""
    key = ask(app, QUESTION).json()["bills"][0]["key"]
    response = get(app, f"/v1/bills/{_spoilt(key)[way]}")
    found = problem(response, 404, "unknown-id")
    assert [place for place, _, _ in told(found)] == ["key"]
    assert len(response.content) < 1_000


@pytest.mark.parametrize(
    ("wish", "fault", "nearest"),
    [
        ({"chassis": "brok"}, ("#/chassis", "brok", "the id of a chassis of this revision"), ["brook"]),
        (
            {"layout": "hose-center"},
            ("#/layout", "hose-center", "the id of a layout of this revision"),
            ["hose-centre"],
        ),
        ({"fuel": "petroll"}, ("#/fuel", "petroll", "the id of a fuel of this revision"), ["petrol"]),
        ({"exclude": ["PLUG-T", "PLUG-B9"]}, ("#/exclude/1", "PLUG-B9", "the id of an item of this revision"), None),
        ({"addons": ["blowr"]}, ("#/addons/0", "blowr", "the id of an add-on of this revision"), ["blower"]),
        ({"revision": 9}, ("#/revision", "9", "the number of a known revision"), []),
        ({"revision": 2**31 - 1}, ("#/revision", "2147483647", "the number of a known revision"), []),
    ],
    ids=["chassis", "layout", "fuel", "exclude", "addon", "revision", "largest revision"],
)
def test_unknown_ids_are_named(
    app: FastAPI, wish: dict[str, Any], fault: tuple[str, str, str], nearest: list[str] | None
) -> None:
    """The field, what stood there, what would be right, and what is alike."""
    found = problem(ask(app, QUESTION | wish), 422, "invalid-request")
    assert told(found) == [fault]
    assert nearest is None or found["errors"][0]["nearest"] == nearest
    assert fault[1] in found["detail"]


def test_every_unknown_id_is_told_at_once(app: FastAPI) -> None:
    """Nobody has to come back for the next fault."""
    body = {"chassis": "x", "layout": "y", "fuel": "z"}
    found = problem(ask(app, body), 422, "invalid-request")
    assert [place for place, _, _ in told(found)] == ["#/chassis", "#/layout", "#/fuel"]


def test_without_a_catalog_questions_are_refused(tmp_path: Path) -> None:
    """The problem tells how to import one, and when to come again."""
    with library_in(tmp_path / "file") as empty:
        for library in (empty, None):
            app = create_app(library)
            for response in (ask(app, QUESTION), get(app, "/v1/items"), get(app, "/v1/health/ready")):
                assert "portwright catalog import PATH" in problem(response, 503, "no-catalog")["detail"]
                assert int(response.headers["retry-after"]) > 0


def test_no_library_is_shared(library: Library) -> None:
    """Two applications over one library answer alike, as two workers do."""
    first, second = (ask(create_app(library), QUESTION).content for _ in range(2))
    assert first == second
