"""A whole question as a query: the same answer as by POST, cached, every fault told by its parameter."""

from typing import Any
from urllib.parse import urlencode

import pytest
from fastapi import FastAPI

from tests.web.calls import ask, get, problem, told

BROOK = {"chassis": "brook", "layout": "through-return"}
ASKED: dict[str, tuple[dict[str, str], dict[str, Any]]] = {
    "plain": ({}, {}),
    "numbers": (
        {"power_kw": "120.5", "boost_kpa": "20", "return_hose_m": "2", "feed_hose_m": "1.5", "pump_l_h": "150"},
        {"power_kw": 120.5, "boost_kpa": 20.0, "return_hose_m": 2.0, "feed_hose_m": 1.5, "pump_l_h": 150.0},
    ),
    "flags": (
        {"in_stock_only": "true", "allow_unsold": "false", "group_variants": "false", "order_by": "drop", "limit": "3"},
        {"in_stock_only": True, "allow_unsold": False, "group_variants": False, "order_by": "drop", "limit": 3},
    ),
    "lists": (
        {"addons": "blower", "exclude": "PLUG-T,REG-F6", "have": "PLUG-B8:2,GAUGE-T:1"},
        {
            "addons": ["blower"],
            "exclude": ["PLUG-T", "REG-F6"],
            "have": [{"sku": "PLUG-B8", "qty": 2}, {"sku": "GAUGE-T", "qty": 1}],
        },
    ),
    "a pump": (
        {"pump": "0:180,400:120", "pump_v": "12:13.5"},
        {"pump": [{"kpa": 0, "l_h": 180}, {"kpa": 400, "l_h": 120}], "pump_v": {"rated": 12, "fed": 13.5}},
    ),
    "room, gauge, price": (
        {"clearances": "left:axial_mm:60,top:across_mm:40.5", "gauge": "top", "max_price": "90000", "fuel": "e85"},
        {
            "clearances": [{"spot": "left", "axial_mm": 60.0}, {"spot": "top", "across_mm": 40.5}],
            "gauge": "top",
            "max_price": 90_000,
            "fuel": "e85",
        },
    ),
    "own rail": (
        {"own_rail": "left:boss-8:female,right:boss-8:female", "revision": "1"},
        {"own_rail": {x: {"standard": "boss-8", "end": "female"} for x in ("left", "right")}, "revision": 1},
    ),
}


def path_of(**given: str) -> str:
    return f"/v1/bills?{urlencode(BROOK | given)}"


@pytest.mark.parametrize(("query", "body"), ASKED.values(), ids=ASKED.keys())
def test_the_query_is_answered_as_the_body(app: FastAPI, query: dict[str, str], body: dict[str, Any]) -> None:
    """Every field of a question has its form in the query."""
    answer = get(app, path_of(**query))
    assert answer.status_code == 200, answer.text
    assert answer.json() == ask(app, BROOK | body).json()


def test_an_answer_is_cached(app: FastAPI) -> None:
    """With its tag it is not sent again; of a named revision it lasts."""
    first = get(app, path_of())
    assert first.headers["cache-control"] == "no-cache"
    again = get(app, path_of(), headers={"If-None-Match": first.headers["etag"]})
    assert (again.status_code, again.content) == (304, b"")
    assert "max-age" in get(app, path_of(revision="1")).headers["cache-control"]


FAULTS = {
    "an unknown id": ({"layout": "through-retur"}, "layout", "through-return"),
    "not a number": ({"power_kw": "much"}, "power_kw", "a number of kW"),
    "out of range": ({"power_kw": "0"}, "power_kw", "kW"),
    "not a list": ({"have": "PLUG-B8"}, "have", "SKU:QTY"),
    "an unknown SKU": ({"have": "PLUG-B9:1"}, "have", "PLUG-B8"),
    "a field that there is not": ({"powr_kw": "3"}, "powr_kw", "power_kw"),
    "a spot twice": ({"own_rail": "left:boss-8:female,left:boss-8:male"}, "own_rail", "each spot once"),
    "a curve that turns": ({"pump": "300:10,200:5"}, "pump", "more than the 300.0 kPa of the point before"),
}


@pytest.mark.parametrize(("query", "parameter", "right"), FAULTS.values(), ids=FAULTS.keys())
def test_a_fault_names_its_parameter(app: FastAPI, query: dict[str, str], parameter: str, right: str) -> None:
    """What was given and what would be right stand beside the parameter's name."""
    answer = get(app, path_of(**query))
    (fault,) = told(problem(answer, 422, "invalid-request"))
    assert fault[0] == parameter
    assert right in answer.text


def test_car_and_layout_are_needed(app: FastAPI) -> None:
    """Both are told as missing at once."""
    assert {fault[0] for fault in told(problem(get(app, "/v1/bills"), 422, "invalid-request"))} == {"chassis", "layout"}
