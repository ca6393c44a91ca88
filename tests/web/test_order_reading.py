"""POST /v1/orders/read: an order as somebody wrote it, over HTTP."""

from typing import Any

import pytest
from fastapi import FastAPI

from tests.web.calls import call

PATH = "/v1/orders/read"


def read(app: FastAPI, text: str, **more: Any) -> Any:
    response = call(app, "POST", PATH, json={"text": text, **more})
    assert response.status_code == 200, response.text
    return response.json()


def test_an_order_is_read(app: FastAPI) -> None:
    answer = read(app, "Hello\n2 x rail-s\nPLUG-8 nitrle (4)")
    sure, asked = answer["lines"]
    assert (sure["row"], sure["sku"], sure["qty"], sure["sure"], sure["asks"]) == (2, "RAIL-S", 2, True, None)
    assert (asked["sure"], asked["candidates"][0]["qty"]) == (False, 4)
    assert asked["asks"]
    assert answer["unread"] == [{"row": 1, "text": "Hello"}]
    assert answer["total"] is None


def test_the_total_stands_when_all_is_sure(app: FastAPI) -> None:
    answer = read(app, "2 x RAIL-S")
    item = call(app, "GET", "/v1/items/RAIL-S").json()["result"]
    assert answer["total"] == {"price": 2 * item["price"], "currency": "OVC", "tax": None}


def test_what_fits_the_car_is_offered_first(app: FastAPI) -> None:
    fitting = {one["sku"] for one in call(app, "GET", "/v1/items?fits=brook&limit=100").json()["results"]}
    [line] = read(app, "2 x rial s", chassis="brook")["lines"]
    fits = [candidate["sku"] in fitting for candidate in line["candidates"]]
    assert fits == sorted(fits, reverse=True)


@pytest.mark.parametrize(
    ("sent", "pointer"),
    [
        ({"text": "x", "chassis": "brok"}, "/chassis"),
        ({"text": "x", "revision": 9}, "/revision"),
        ({"text": "\n" * 5_000}, "/text"),
        ({"text": "x" * 200_001}, "/text"),
        ({"text": 1}, "/text"),
        ({}, "/text"),
    ],
)
def test_what_is_wrong_is_told_with_its_place(app: FastAPI, sent: Any, pointer: str) -> None:
    response = call(app, "POST", PATH, json=sent)
    assert response.status_code == 422
    assert [error["pointer"] for error in response.json()["errors"]] == [f"#{pointer}"]
