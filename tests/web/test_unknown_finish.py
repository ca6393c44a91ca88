"""A finish that no part comes in has no bill, and every answer says so with the nearest: API, pages, orders."""

from html import unescape
from typing import Any

import pytest
from fastapi import FastAPI

from tests.web.calls import ask, call, get
from tests.web.conftest import QUESTION

ASKED = QUESTION | {"finish": "slat"}
TOLD = "no part comes in slat; nearest: slate"


def _repairs(answer: Any) -> list[str]:
    return [repair["text"] for repair in answer["repairs"] if "finish" in repair["change"]]


@pytest.mark.parametrize("detail", ["brief", "reasons", "full"])
def test_the_answer_says_so_in_each_detail(app: FastAPI, detail: str) -> None:
    """By body and by query; a finish that there is has none of it."""
    for answer in (
        ask(app, ASKED | {"detail": detail}).json(),
        get(app, "/v1/bills", params=ASKED | {"detail": detail}).json(),
    ):
        assert (answer["total_valid"], answer["conflicts"]) == (0, [["finish"]])
        assert TOLD in _repairs(answer)[0]
        assert detail == "brief" or TOLD in answer["stories"][0]["text"]
    assert "no part comes in" not in ask(app, QUESTION | {"finish": "slate", "detail": detail}).text


def test_where_none_is_alike_some_are_named(app: FastAPI) -> None:
    told = _repairs(ask(app, QUESTION | {"finish": "qqq"}).json())[0]
    assert told.startswith("Accept any finish (no part comes in qqq; there is ")


def test_of_a_rail_of_the_customer_s_own_it_is_not_judged(app: FastAPI) -> None:
    """No part has to have a finish that its family does not offer, and the rail is not ours: so it is said."""
    spots = ("left", "centre", "right", "top")
    own = {"own_rail": {spot: {"standard": "boss-8", "end": "female"} for spot in spots}}
    answer = ask(app, ASKED | own).json()
    assert answer["total_valid"] == ask(app, QUESTION | own).json()["total_valid"] > 0
    assert "Whether your own rail has the finish slat was not judged." in str(answer["bills"][0]["cautions"])


def test_the_page_the_layouts_and_the_sandbox_say_so(app: FastAPI) -> None:
    page = unescape(get(app, "/ask", params=ASKED).text)
    assert TOLD in page
    layouts = get(app, "/v1/chassis/brook/layouts", params={"finish": "slat"}).json()["layouts"]
    assert "No part comes in slat; nearest: slate." in str(layouts)
    seed = get(app, "/sandbox/v1/chassis?limit=1").json()["results"][0]["id"]
    layout = get(app, f"/sandbox/v1/chassis/{seed}/layouts").json()["layouts"][0]["layout"]
    answer = call(app, "POST", "/sandbox/v1/bills", json={"chassis": seed, "layout": layout, "finish": "satinn"}).json()
    assert "no part comes in satinn; nearest: satin" in answer["stories"][0]["text"]


def test_an_order_and_an_explanation_say_so(app: FastAPI) -> None:
    check = call(app, "POST", "/v1/order-checks", json=ASKED | {"lines": [{"sku": "RAIL-S", "qty": 1}]}).json()
    assert check["verdict"] == "impossible"
    assert "No part comes in slat; nearest: slate." in str(check["reasons"])
    told = call(app, "POST", "/v1/explain", json={"request": ASKED, "sku": "RAIL-S"}).json()
    assert "sk for finish slate" in str(told["verdicts"])
