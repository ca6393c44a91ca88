"""/v1/inquiries: questions sent to the workshop; what is personal goes in and never comes out."""

from pathlib import Path
from typing import Any

import httpx
import pytest
from fastapi import FastAPI

from service.usecases.library import Library
from service.web.app import create_app
from tests.support.catalogs import small_catalog
from tests.web.calls import ask, call, get, problem, told
from tests.web.conftest import QUESTION, inquiries_of, library_in

TOO_CHEAP = QUESTION | {"max_price": 1}
INQUIRY: dict[str, Any] = {"request": TOO_CHEAP, "contact": "Ottilie, +00 555 0119", "note": "urgent"}


def send(app: FastAPI, body: Any, key: str | None = None) -> httpx.Response:
    headers = {"Content-Type": "application/json"} | ({} if key is None else {"Idempotency-Key": key})
    if isinstance(body, bytes):
        return call(app, "POST", "/v1/inquiries", content=body, headers=headers)
    return call(app, "POST", "/v1/inquiries", json=body, headers=headers)


def test_an_inquiry_is_made_and_found_where_it_says(app: FastAPI) -> None:
    """201 with place and revision; it says what POST /v1/bills says, and nothing that is personal."""
    made = send(app, INQUIRY)
    assert (made.status_code, made.headers["content-type"]) == (201, "application/json")
    assert (made.headers["x-catalog-revision"], made.headers["cache-control"]) == ("2", "no-store")
    document, answer = made.json(), ask(app, TOO_CHEAP).json()
    for name in ("revision", "total_valid", "conflicts", "stories", "repairs"):
        assert document[name] == answer[name]
    assert made.headers["location"] == f"/v1/inquiries/{document['id']}"
    found = get(app, made.headers["location"])
    assert found.content == made.content
    assert (found.headers["x-catalog-revision"], found.headers["cache-control"]) == ("2", "private, no-cache")
    for text in (made.text, found.text):
        assert "Ottilie" not in text
        assert "urgent" not in text


def test_what_the_caller_says_of_the_answer_is_refused(app: FastAPI) -> None:
    """Conflicts are worked out here, never taken."""
    for more in ({"conflicts": []}, {"total_valid": 0}, {"missing": "x"}):
        problem(send(app, INQUIRY | more), 422, "invalid-request")


@pytest.mark.parametrize("path", ["/v1/inquiries", "/v1/inquiries/"])
def test_there_is_no_list(app: FastAPI, path: str) -> None:
    """Nobody reads contact lines here; the page that has them asks for the right to edit (`test_access.py`)."""
    made = send(app, INQUIRY)
    listed = get(app, path)
    assert listed.status_code in (404, 405)
    assert made.json()["id"] not in listed.text
    assert call(app, "DELETE", made.headers["location"]).status_code == 405


def patch(app: FastAPI, path: str, body: Any, tag: str | None = "*") -> httpx.Response:
    headers = {} if tag is None else {"If-Match": tag}
    return call(app, "PATCH", path, json=body, headers=headers)


def test_an_inquiry_is_answered_and_closed(app: FastAPI) -> None:
    """Under the state that was read; the reply with its time, which closing leaves alone."""
    path = send(app, INQUIRY).headers["location"]
    read = get(app, path)
    assert [read.json()[name] for name in ("status", "reply", "answered")] == ["open", None, None]
    answered = patch(app, path, {"reply": "In May."}, read.headers["etag"])
    assert answered.json() == read.json() | {
        "status": "answered",
        "reply": "In May.",
        "answered": answered.json()["answered"],
    }
    again = get(app, path)
    assert (again.content, again.headers["etag"]) == (answered.content, answered.headers["etag"])
    assert again.json()["answered"] is not None
    refused = problem(patch(app, path, {"status": "closed"}, read.headers["etag"]), 412, "edited-meanwhile")
    assert "the inquiry is answered, its reply is of " in refused["detail"]
    problem(patch(app, path, {"status": "closed"}, None), 428, "precondition-required")
    closed = patch(app, path, {"status": "closed"}, f'"other", {again.headers["etag"]}')
    assert closed.json() == again.json() | {"status": "closed"}
    taken_back = patch(app, path, {"reply": None, "status": "open"})
    assert taken_back.json() == read.json()


WRONG_ANSWERS = [
    ({"status": "answered"}, "#/reply"),
    ({"status": "done"}, "#/status"),
    ({"reply": ""}, "#/reply"),
    ({"reply": "x" * 2_001}, "#/reply"),
    ({"contact": "me"}, "#/contact"),
]


@pytest.mark.parametrize(("body", "place"), WRONG_ANSWERS)
def test_wrong_answers_are_told(app: FastAPI, body: dict[str, Any], place: str) -> None:
    path = send(app, INQUIRY).headers["location"]
    assert [at for at, _, _ in told(problem(patch(app, path, body), 422, "invalid-request"))] == [place]
    assert get(app, path).json()["status"] == "open"


def test_what_is_not_there_is_not_answered(app: FastAPI) -> None:
    problem(patch(app, "/v1/inquiries/none", {"status": "closed"}), 404, "unknown-id")


FAULTS = [
    ({"contact": ""}, "#/contact", '""'),
    ({"contact": " \u00a0"}, "#/contact", '" \\u00a0"'),
    ({"contact": "a\nb"}, "#/contact", '"a\\u000ab"'),
    ({"contact": "x" * 201}, "#/contact", None),
    ({"contact": None}, "#/contact", "null"),
    ({"note": "x" * 1001}, "#/note", None),
    ({"note": "\0"}, "#/note", '"\\u0000"'),
    ({"request": {}}, "#/request/chassis", "nothing"),
    ({"request": QUESTION | {"layout": "hose-center"}}, "#/request/layout", "hose-center"),
    ({"request": QUESTION | {"revision": 7}}, "#/request/revision", "7"),
]


@pytest.mark.parametrize(("change", "place", "found"), FAULTS)
def test_faults_are_told(app: FastAPI, change: dict[str, Any], place: str, found: str | None) -> None:
    """Field, value and what would be right."""
    faults = told(problem(send(app, INQUIRY | change), 422, "invalid-request"))
    assert place in [at for at, _, _ in faults]
    if found is not None:
        assert faults[0][1] == found
    assert all(expected for _, _, expected in faults)


@pytest.mark.parametrize("contact", ["x", "\u00e9", "x" * 200, "  a b  ", "\U0001f600", "<b>\"'&"])
def test_contacts_that_are_taken(app: FastAPI, contact: str) -> None:
    """Any line that says something."""
    assert send(app, INQUIRY | {"contact": contact}).status_code == 201


def test_the_same_again_with_its_key(app: FastAPI) -> None:
    """200 with the same bytes and place; another inquiry with that key is refused."""
    first = send(app, INQUIRY, "inquiry-7")
    again = send(app, INQUIRY, '"inquiry-7"')
    assert (first.status_code, again.status_code) == (201, 200)
    assert (again.content, again.headers["location"]) == (first.content, first.headers["location"])
    problem(send(app, INQUIRY | {"note": "other"}, "inquiry-7"), 422, "idempotency-key-reused")


def test_what_was_deleted_is_not_found(tmp_path: Path) -> None:
    """404 without a guess at another id; its key is free again."""
    with library_in(tmp_path / "file", small_catalog()) as library:
        inquiries = inquiries_of(library)
        app = create_app(library, kept_inquiries=inquiries)
        made = send(app, INQUIRY, "gone")
        inquiries._store.delete(made.json()["id"])
        found = problem(get(app, made.headers["location"]), 404, "unknown-id")
        assert "nearest" not in found["errors"][0] or not found["errors"][0]["nearest"]
        assert send(app, INQUIRY, "gone").status_code == 201


def test_a_revision_may_be_named(app: FastAPI) -> None:
    """That one is asked."""
    made = send(app, INQUIRY | {"request": TOO_CHEAP | {"revision": 1}})
    assert made.headers["x-catalog-revision"] == "1"


def test_without_a_catalog(tmp_path: Path) -> None:
    """503, of an empty database and of an application without inquiries."""
    with library_in(tmp_path / "file") as empty:
        for app in (create_app(empty, kept_inquiries=inquiries_of(empty)), create_app(), create_app(empty)):
            problem(send(app, INQUIRY), 503, "no-catalog")


def test_a_library_alone_takes_none(library: Library) -> None:
    """What was composed without inquiries says so instead of failing."""
    problem(get(create_app(library), "/v1/inquiries/x"), 503, "no-catalog")
