"""Questions that are asked again: the same answer without any work, for as long as its revision is the newest."""

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from fastapi import FastAPI

from service.documents.catalog import Catalog
from service.documents.request import BillRequest
from service.usecases.find_bills import find_bills
from service.usecases.library import Library
from service.web.app import create_app
from service.web.kept_answers import KeptAnswer, KeptAnswers
from service.web.routers import bills
from tests.support.catalogs import small_catalog
from tests.web.calls import ask, call, get, problem
from tests.web.conftest import QUESTION, dearer, inquiries_of, library_in

MB = 1024 * 1024


@pytest.fixture(name="own")
def _own(tmp_path: Path) -> Iterator[Library]:
    """A library that takes what it heard of the newest revision for true; a new one of its own is noticed at once."""
    with library_in(tmp_path / "file", small_catalog()) as library:
        library._fresh_s = 60.0
        # What the first question works out for all is not counted: it may be begun a second time for that.
        find_bills(library, BillRequest.model_validate(QUESTION))
        yield library


@pytest.fixture(name="app")
def _app(own: Library) -> FastAPI:
    return create_app(own, kept=KeptAnswers(MB))


@pytest.fixture(name="worked")
def _worked(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The chassis of each question that was worked out."""
    asked: list[str] = []
    found_in = bills.found_in

    def counted(edition: Any, question: Any, detail: Any) -> Any:
        asked.append(question.chassis)
        return found_in(edition, question, detail)

    monkeypatch.setattr(bills, "found_in", counted)
    return asked


def test_a_question_is_worked_out_once(app: FastAPI, worked: list[str]) -> None:
    """By body and by query; the answers are the same to the byte, but for the id of the request."""
    get(app, "/v1/health/ready")
    for asked in (lambda: ask(app, QUESTION), lambda: get(app, "/v1/bills", params=QUESTION)):
        first, again = asked(), asked()
        assert (again.status_code, again.content) == (200, first.content)
        assert first.headers.pop("x-request-id") != again.headers.pop("x-request-id")
        assert first.headers == again.headers
    assert worked == ["brook", "brook"]


def test_details_are_told_apart(app: FastAPI) -> None:
    """And so is everything else of a question."""
    get(app, "/v1/health/ready")
    for detail in ("brief", "reasons", "full", "brief"):
        assert ask(app, QUESTION | {"detail": detail}).json()["detail"] == detail
    assert len(ask(app, QUESTION | {"limit": 1}).json()["bills"]) == 1


def test_a_new_revision_is_answered_from_at_once(app: FastAPI, own: Library, worked: list[str]) -> None:
    """Nothing of the one before is given for it; a revision that is named stays what it is."""
    get(app, "/v1/health/ready")
    before = [ask(app, QUESTION).json() for _ in range(2)][-1]
    own.publish(Catalog.model_validate(dearer(small_catalog())))
    for _ in range(3):
        after = ask(app, QUESTION)
        assert (after.headers["x-catalog-revision"], after.json()["revision"]) == ("2", 2)
        assert after.json()["bills"][0]["price"] > before["bills"][0]["price"]
        assert ask(app, QUESTION | {"revision": 1}).json()["bills"] == before["bills"]


def test_who_has_it_is_not_sent_it_again(app: FastAPI, worked: list[str]) -> None:
    """304 with the same headers, without any work."""
    get(app, "/v1/health/ready")
    whole = get(app, "/v1/bills", params=QUESTION)
    known = get(app, "/v1/bills", params=QUESTION, headers={"If-None-Match": whole.headers["etag"]})
    assert (known.status_code, known.content, known.headers["etag"]) == (304, b"", whole.headers["etag"])
    assert known.headers["cache-control"] == whole.headers["cache-control"]
    assert worked == ["brook"]


def test_who_had_it_before_it_was_kept_is_told_so_at_once(app: FastAPI, worked: list[str]) -> None:
    """The first who asks with a tag has the answer worked out and kept, whole, for those who have it not."""
    tag = get(create_app(app.state.resources.library), "/v1/bills", params=QUESTION).headers["etag"]
    get(app, "/v1/health/ready")
    for _ in range(2):
        assert get(app, "/v1/bills", params=QUESTION, headers={"If-None-Match": tag}).status_code == 304
    assert get(app, "/v1/bills", params=QUESTION).headers["etag"] == tag
    assert worked == ["brook", "brook"]


def test_each_encoding_is_kept_as_it_went_out(app: FastAPI, worked: list[str]) -> None:
    """However the client words what it takes."""
    get(app, "/v1/health/ready")
    for wording in ("gzip", "gzip, identity;q=0.5", "GZIP;q=1"):
        answer = get(app, "/v1/bills", params=QUESTION, headers={"Accept-Encoding": wording})
        assert answer.headers["content-encoding"] == "gzip"
        assert answer.json()["bills"]
    assert worked == ["brook"]


def test_a_long_question_is_not_kept(app: FastAPI, worked: list[str]) -> None:
    """What is kept has its question with it, whose length nobody else sees."""
    get(app, "/v1/health/ready")
    long = ", ".join(["application/json"] * 300)
    for _ in range(2):
        assert get(app, "/v1/bills", params=QUESTION, headers={"Accept": long}).status_code == 200
        assert ask(app, json.dumps(QUESTION).encode() + b" " * 5_000).status_code == 200
    assert len(worked) == 4


def test_a_body_that_is_not_declared_is_refused_though_it_is_known(app: FastAPI) -> None:
    """The type of what is sent counts."""
    get(app, "/v1/health/ready")
    body = json.dumps(QUESTION).encode()
    assert ask(app, body).status_code == 200
    problem(
        call(app, "POST", "/v1/bills", content=body, headers={"Content-Type": "text/plain"}),
        415,
        "unsupported-media-type",
    )


def test_what_was_deleted_is_gone_at_once(own: Library) -> None:
    """An inquiry is somebody's own: it is not kept beside where it is stored, however often it was read."""
    inquiries = inquiries_of(own)
    app = create_app(own, kept_inquiries=inquiries, kept=KeptAnswers(MB))
    get(app, "/v1/health/ready")
    sent = call(app, "POST", "/v1/inquiries", json={"request": QUESTION, "contact": "anne@example.org"})
    path = sent.headers["location"]
    assert [get(app, path).status_code for _ in range(2)] == [200, 200]
    inquiries.store.delete(path.rsplit("/", 1)[1])
    assert get(app, path).status_code == 404


def test_bytes_are_bounded() -> None:
    """Those that were asked for longest ago go first; what is too long is not kept."""
    kept = KeptAnswers(100_000)
    for place in range(50):
        kept.keep(place, KeptAnswer([], b"x" * 9_000))
        kept.get(0)
    assert kept.get(0) is not None
    assert [place for place in range(50) if kept.get(place) is not None] == [0, 45, 46, 47, 48, 49]
    kept.keep("long", KeptAnswer([], b"x" * MB))
    assert kept.get("long") is None
