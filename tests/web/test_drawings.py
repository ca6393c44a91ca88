"""/v1/bills/{key}/drawing and /v1/chassis/{id}/drop-curves over HTTP."""

import pytest
from fastapi import FastAPI

from tests.web.calls import ask, call, get, problem, told
from tests.web.conftest import QUESTION

CURVES = "/v1/chassis/brook/drop-curves"


@pytest.fixture(scope="module")
def path(app: FastAPI) -> str:
    """The path of the drawing of a bill with a return."""
    bill = ask(app, QUESTION | {"layout": "through-return", "revision": 1}).json()["bills"][0]
    return f"/v1/bills/{bill['key']}/drawing"


def test_a_drawing_is_of_its_bill_and_lasts(app: FastAPI, path: str) -> None:
    """In its own revision, cached as the bill is, known again by its tag."""
    response = get(app, path)
    drawing, recalled = response.json(), get(app, path.removesuffix("/drawing")).json()
    assert (drawing["key"], drawing["revision"]) == (recalled["bill"]["key"], recalled["revision"]) == (path[10:-8], 1)
    assert [one["drop_kpa"] for one in drawing["paths"]] == [
        one["drop_kpa"] for one in recalled["bill"]["flow"]["paths"]
    ]
    assert response.headers["cache-control"] == "public, max-age=3600"
    assert response.headers["x-catalog-revision"] == "1"
    for method in ("GET", "HEAD"):
        known = call(app, method, path, headers={"If-None-Match": response.headers["etag"]})
        assert (known.status_code, known.content) == (304, b"")


def test_the_rails_are_those_of_the_sheet(app: FastAPI, path: str) -> None:
    """Word for word."""
    assert get(app, path).json()["rails"] == get(app, path.replace("/drawing", "/sheet")).json()["rails"]


@pytest.mark.parametrize("key", ["none", "1AAAA", "1%00", "9x"])
def test_what_is_no_key_is_not_found(app: FastAPI, key: str) -> None:
    """As of the bill itself."""
    found = problem(get(app, f"/v1/bills/{key}/drawing"), 404, "unknown-id")
    assert [place for place, _, _ in told(found)] == ["key"]


def test_curves_are_cached_by_revision(app: FastAPI) -> None:
    """The newest is asked for again, a named one lasts; each has its tag."""
    newest, first = get(app, CURVES), get(app, f"{CURVES}?revision=1")
    assert (newest.headers["cache-control"], newest.json()["revision"]) == ("no-cache", 2)
    assert (first.headers["cache-control"], first.json()["revision"]) == ("public, max-age=3600", 1)
    assert get(app, CURVES, headers={"If-None-Match": newest.headers["etag"]}).status_code == 304


def test_curves_go_by_fuel_and_power(app: FastAPI) -> None:
    """Both as asked."""
    told = get(app, f"{CURVES}?fuel=e85&power_kw=87.5").json()
    assert (told["fuel"], told["chassis"]) == ("e85", "brook")
    assert {curve["points"][-1]["power_kw"] for curve in told["curves"]} == {87.5}


@pytest.mark.parametrize("value", ["0", "-1", "5000.1", "1e3", "nan", "inf", "", "90kW", "9" * 40, "٣"])
def test_powers_that_are_none(app: FastAPI, value: str) -> None:
    """Told with what would be right."""
    found = problem(get(app, CURVES, params={"power_kw": value}), 422, "invalid-request")
    [(place, _, expected)] = told(found)
    assert (place, expected[:21]) == ("power_kw", "where the curves end,")


def test_unknown_things_are_named(app: FastAPI) -> None:
    """A car, a fuel, a name of a parameter, each in its place."""
    car = problem(get(app, "/v1/chassis/brok/drop-curves"), 404, "unknown-id")
    fuel = problem(get(app, f"{CURVES}?fuel=petral"), 422, "invalid-request")
    name = problem(get(app, f"{CURVES}?fule=petrol"), 422, "invalid-request")
    assert [told(one)[0][0] for one in (car, fuel, name)] == ["id", "fuel", "fule"]


def test_a_slash_before_the_end_may_be_the_id_s_own(app: FastAPI) -> None:
    """Then it is a chassis of that id that is asked for."""
    found = problem(get(app, "/v1/chassis/brook%2Fdrop-curves"), 404, "unknown-id")
    assert told(found)[0][1] == '"brook/drop-curves"'
