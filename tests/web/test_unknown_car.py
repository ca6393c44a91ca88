"""A car that is not in the catalog: by words it is told apart, by POST /v1/inquiries/cars it goes to the workshop."""

from typing import Any

import pytest
from fastapi import FastAPI

from tests.web.calls import call, get, problem, told
from tests.web.test_counter_pages import sent

PATH = "/v1/inquiries/cars"
CAR: dict[str, Any] = {"car": "Quillet 1600", "cylinders": 4, "banks": 1, "rail": "four ports, M14"}
ASKED: dict[str, Any] = {"car": CAR, "contact": "Ottilie, +00 555 0119", "note": "urgent"}
SAID = "I have a Quillet 1600, four cylinders, 90 kW on e85, fuel pressure 3 bar"


def test_a_car_is_kept_with_its_facts_and_answered(app: FastAPI) -> None:
    made = call(app, "POST", PATH, json=ASKED)
    assert (made.status_code, made.headers["cache-control"]) == (201, "no-store")
    answer = made.json()
    assert answer["inquiry"]["request"] == answer["said"]["car"] == CAR
    assert get(app, made.headers["location"]).json() == answer["inquiry"]
    assert "Ottilie" not in made.text
    assert "urgent" not in made.text
    chassis = get(app, "/v1/chassis").json()["results"]
    alike = {x["id"] for x in chassis if (x["cylinders"], x["banks"]) == (4, 1)}
    patterns = answer["said"]["patterns"]
    assert {car["id"] for one in patterns for car in one["cars"]} == alike
    for one in patterns:
        for rail in one["rails"]:
            assert one["pattern"] in get(app, f"/v1/items/{rail['sku']}").json()["result"]["patterns"]
    assert [one["what"] for one in answer["said"]["measure"]] == [
        *("pattern", "rail", "ends", "room", "pressure_kpa", "fuel", "power_kw")
    ]
    assert "burns" in answer["said"]["caution"]


def test_without_facts_all_patterns_may_be_and_with_others_none(app: FastAPI) -> None:
    bare = call(app, "POST", PATH, json=ASKED | {"car": {"car": "x"}}).json()["said"]
    assert {one["what"] for one in bare["measure"]} >= {"cylinders", "banks"}
    assert "not told" in bare["by_pattern"]
    assert bare["patterns"]
    odd = call(app, "POST", PATH, json=ASKED | {"car": {"car": "x", "cylinders": 11}}).json()["said"]
    assert odd["patterns"] == []
    assert odd["by_pattern"].startswith("No rail")


def test_sent_again_with_its_key_it_is_the_same_inquiry(app: FastAPI) -> None:
    headers = {"Idempotency-Key": "cars-0001"}
    first, again = (call(app, "POST", PATH, json=ASKED, headers=headers) for _ in range(2))
    assert (first.status_code, again.status_code, again.content) == (201, 200, first.content)
    other = call(app, "POST", PATH, json=ASKED | {"note": ""}, headers=headers)
    problem(other, 422, "idempotency-key-reused")


@pytest.mark.parametrize(
    ("change", "pointer"),
    [
        ({"car": {}}, "#/car/car"),
        ({"car": CAR | {"car": ""}}, "#/car/car"),
        ({"car": CAR | {"cylinders": 49}}, "#/car/cylinders"),
        ({"car": CAR | {"banks": 3}}, "#/car/banks"),
        ({"car": CAR | {"power_kw": 10_001}}, "#/car/power_kw"),
        ({"car": CAR | {"pressure_kpa": 0}}, "#/car/pressure_kpa"),
        ({"car": CAR | {"ends": "x" * 201}}, "#/car/ends"),
        ({"car": CAR | {"wheels": 4}}, "#/car/wheels"),
        ({"contact": ""}, "#/contact"),
        ({"note": "x" * 1001}, "#/note"),
    ],
)
def test_what_is_wrong_is_told_with_its_place(app: FastAPI, change: dict[str, Any], pointer: str) -> None:
    faults = told(problem(call(app, "POST", PATH, json=ASKED | change), 422, "invalid-request"))
    assert [at for at, _, _ in faults] == [pointer]


def test_by_words_it_is_told_apart_with_its_facts(app: FastAPI) -> None:
    """What is read is taken as it is by the operation that sends it."""
    read = call(app, "POST", "/v1/questions/read", json={"text": SAID}).json()
    said = read["unknown_car"]
    assert "chassis" not in read["request"]
    assert (said["car"]["car"], said["car"]["cylinders"]) == ("Quillet 1600", 4)
    assert (said["car"]["power_kw"], said["car"]["pressure_kpa"]) == (90.0, 300.0)
    assert said["car"]["fuel"]
    answer = call(app, "POST", PATH, json=ASKED | {"car": said["car"]}).json()
    assert answer["said"] == said
    known = call(app, "POST", "/v1/questions/read", json={"text": "a Brook hatchback"}).json()
    assert known["unknown_car"] is None


def test_its_page_leads_to_the_form_filled_in(app: FastAPI) -> None:
    page = sent(app, "/ask/said", {"text": SAID}).text
    assert "Not in the catalog: Quillet 1600?" in page
    assert '<input type="hidden" name="pressure_kpa" value="300">' in page
    form = get(app, "/inquiries/car?car=Quillet+1600&cylinders=4&power_kw=90").text
    assert 'value="Quillet 1600"' in form
    assert "Not in the catalog" not in sent(app, "/ask/said", {"text": "a Brook hatchback"}).text
