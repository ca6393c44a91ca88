"""POST /v1/questions/read: a question as a customer says it, over HTTP."""

from typing import Any

import pytest
from fastapi import FastAPI

from tests.web.calls import call

PATH = "/v1/questions/read"


def read(app: FastAPI, text: str, **more: Any) -> Any:
    response = call(app, "POST", PATH, json={"text": text, **more})
    assert response.status_code == 200, response.text
    return response.json()


def test_a_question_is_read(app: FastAPI) -> None:
    answer = read(app, "Brook hatchback with a turbo, 90 kW, e85, gauge on top, please")
    assert answer["request"] == {"chassis": "brook", "fuel": "e85", "power_kw": 90.0, "gauge": "top"}
    assert {"words": "90 kW", "field": "power_kw", "value": 90.0, "says": "90 kW (121 hp)"} in answer["understood"]
    assert [one["field"] for one in answer["open"]] == ["layout", "addons"]
    assert answer["unread"] == []


def test_what_is_whole_is_a_request_for_bills(app: FastAPI) -> None:
    answer = read(app, "Brook hatchback on the factory line, no gauge", revision=1)
    assert (answer["revision"], answer["open"]) == (1, [])
    bills = call(app, "POST", "/v1/bills", json=answer["request"])
    assert bills.status_code == 200
    assert bills.json()["total_valid"] > 0


def test_nothing_of_it_is_kept(app: FastAPI) -> None:
    response = call(app, "POST", PATH, json={"text": "Brook"})
    assert response.headers["cache-control"] == "no-store"


def test_the_longest_text_is_read(app: FastAPI) -> None:
    assert read(app, "brook 90 kw, " * 769)["request"]["chassis"] == "brook"


@pytest.mark.parametrize(
    ("sent", "pointer"),
    [
        ({"text": "x" * 10_001}, "/text"),
        ({"text": 1}, "/text"),
        ({}, "/text"),
        ({"text": "x", "revision": 9}, "/revision"),
        ({"text": "x", "chassis": "brook"}, "/chassis"),
    ],
)
def test_what_is_wrong_is_told_with_its_place(app: FastAPI, sent: Any, pointer: str) -> None:
    response = call(app, "POST", PATH, json=sent)
    assert response.status_code == 422
    assert [error["pointer"] for error in response.json()["errors"]] == [f"#{pointer}"]
