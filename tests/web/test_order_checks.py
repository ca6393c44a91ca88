"""/v1/order-checks: orders judged and kept, sent again with their keys, and checks that come back by their ids."""

import json
from pathlib import Path
from typing import Any

import pytest
from fastapi import FastAPI

from service.documents.catalog import Catalog
from service.documents.order import OrderRequest
from service.documents.order_answer import OrderResult
from service.storage.errors import StorageBusyError
from service.usecases.library import Edition, Library
from service.web.app import create_app
from tests.support.catalogs import changed, small_catalog
from tests.support.orders import ORDER, WHOLE, three_plugs
from tests.web.calls import call, check, get, problem, told
from tests.web.conftest import checks_of, library_in


def test_a_check_is_made_and_found_where_it_says(order_app: FastAPI) -> None:
    """201 with the place and the revision of the check; what stands there is what was answered, and one member more."""
    made = check(order_app, ORDER)
    assert (made.status_code, made.headers["content-type"]) == (201, "application/json")
    assert (made.headers["x-catalog-revision"], made.headers["cache-control"]) == ("2", "no-store")
    document = made.json()
    assert (document["verdict"], document["revision"]) == ("short", 2)
    assert made.headers["location"] == f"/v1/order-checks/{document['id']}"
    found = get(order_app, made.headers["location"])
    assert found.content.startswith(made.content.removesuffix(b"}"))
    assert found.json() == document | {"current": found.json()["current"]}
    assert (found.headers["x-catalog-revision"], found.headers["cache-control"]) == ("2", "private, no-cache")


def test_null_is_told(order_app: FastAPI) -> None:
    """What a check has not is null, not left out."""
    assert check(order_app, WHOLE).json()["bill"] is None


def test_a_check_that_the_caller_has_is_not_sent_again(order_app: FastAPI) -> None:
    """By its strong ETag; HEAD tells the same."""
    path = check(order_app, ORDER).headers["location"]
    whole = get(order_app, path)
    tag = whole.headers["etag"]
    assert tag.startswith('"')
    bare = get(order_app, path, headers={"If-None-Match": tag})
    assert (bare.status_code, bare.content, bare.headers["etag"]) == (304, b"", tag)
    head = call(order_app, "HEAD", path)
    assert (head.status_code, head.content, head.headers["etag"]) == (200, b"", tag)
    assert int(head.headers["content-length"]) == len(whole.content)


def test_a_newer_catalog_is_asked_too(tmp_path: Path) -> None:
    """The check stays as it was; what the newest revision says, and the ETag with it, changes."""
    with library_in(tmp_path / "file", small_catalog()) as library:
        app = create_app(library, checks_of(library, three_plugs))
        made = check(app, WHOLE)
        before = get(app, made.headers["location"])
        assert before.json()["current"]["same"] is True
        catalog = small_catalog()
        library.publish(
            Catalog.model_validate(changed(catalog, {"/items/1/sku": "P", "/items/-": small_catalog()["items"][1]}))
        )
        after = get(app, made.headers["location"])
        current = after.json()["current"]
        assert (current["revision"], current["same"], current["verdict"]) == (2, False, "short")
        assert after.content.startswith(made.content.removesuffix(b"}"))
        assert after.headers["etag"] != before.headers["etag"]
        assert (after.json()["revision"], after.headers["x-catalog-revision"]) == (1, "1")


def test_the_same_order_again_with_its_key(order_app: FastAPI) -> None:
    """200 with the very same bytes, in quotation marks or without, however the order is written."""
    first = check(order_app, ORDER, '"order-7"')
    assert first.status_code == 201
    for key in ("order-7", '"order-7"'):
        for body in (ORDER, dict(reversed(ORDER.items())), json.dumps(ORDER | {"sets": 1}, indent=2).encode()):
            again = check(order_app, body, key)
            assert (again.status_code, again.content) == (200, first.content)
            assert again.headers["location"] == first.headers["location"]
    assert check(order_app, ORDER, "order-8").json()["id"] != first.json()["id"]


def test_another_order_with_a_key_is_refused(order_app: FastAPI) -> None:
    """The problem names the header; the first check is still there."""
    first = check(order_app, ORDER, "order-9")
    found = problem(check(order_app, WHOLE, "order-9"), 422, "idempotency-key-reused")
    expected = "another key, or the request that it came with before"
    assert told(found) == [("Idempotency-Key", '"order-9"', expected)]
    assert check(order_app, ORDER, "order-9").content == first.content


_KEYS = {
    "empty": "",
    "empty in quotes": '""',
    "a space": "order 7",
    "a tab": "order\t7",
    "a control character": "order\x1b7",
    "not ASCII": "bleu \u00e9t\u00e9".replace(" ", ""),
    "too long": "k" * 256,
    "too long in quotes": f'"{"k" * 256}"',
}


@pytest.mark.parametrize("name", list(_KEYS))
def test_what_is_no_key_is_refused(order_app: FastAPI, name: str) -> None:
    """By the header's name; nothing is checked."""
    headers = {b"Idempotency-Key": _KEYS[name].encode("latin-1")}
    response = call(order_app, "POST", "/v1/order-checks", json=ORDER, headers=headers)
    [(place, _, expected)] = told(problem(response, 422, "invalid-request"))
    assert (place, expected) == ("Idempotency-Key", "1 to 255 visible ASCII characters")
    assert len(response.content) < 1_000


@pytest.mark.parametrize("key", ["k", "k" * 255, f'"{"q" * 255}"', "!~", '"', "a,b;c=1"])
def test_the_outermost_keys_are_taken(order_app: FastAPI, key: str) -> None:
    """One character, 255 of them, and every sign."""
    assert check(order_app, ORDER, key).status_code == 201
    assert check(order_app, ORDER, key).status_code == 200


def test_two_keys_are_refused(order_app: FastAPI) -> None:
    """Nobody can tell which one is meant."""
    headers = [("Idempotency-Key", "a1"), ("Idempotency-Key", "a1")]
    response = call(order_app, "POST", "/v1/order-checks", json=ORDER, headers=headers)
    assert told(problem(response, 422, "invalid-request")) == [("Idempotency-Key", "it 2 times", "it once")]


def test_checks_and_keys_outlive_a_restart(tmp_path: Path) -> None:
    """A new process over the same file gives the same bytes, by the id and by the key."""
    with library_in(tmp_path / "file", small_catalog()) as library:
        app = create_app(library, checks_of(library, three_plugs))
        made = check(app, ORDER, "order-7")
        found = get(app, made.headers["location"])
    with library_in(tmp_path / "file") as library:
        later = create_app(library, checks_of(library, three_plugs))
        assert check(later, ORDER, "order-7").content == made.content
        again = get(later, made.headers["location"])
        assert (again.content, again.headers["etag"]) == (found.content, found.headers["etag"])
        problem(check(later, WHOLE, "order-7"), 422, "idempotency-key-reused")


@pytest.mark.parametrize("id_", ["Xq3vYb0TzLr8mWk2hNc5Ug", "1%00", "%ED%A0%80", "1%E2%82%AC", "A" * 9_000, "%27"])
def test_what_is_no_id_is_not_found(order_app: FastAPI, id_: str) -> None:
    """404, without a word about the ids that there are."""
    response = get(order_app, f"/v1/order-checks/{id_}")
    found = problem(response, 404, "unknown-id")
    [(place, _, expected)] = told(found)
    assert (place, expected, found["errors"][0]["nearest"]) == ("id", "the id of a known order check", [])
    assert len(response.content) < 1_000


def _with(field: str) -> bytes:
    return f'{{"chassis": "brook", "lines": [{{"sku": "RAIL-S", "qty": 1}}], {field}}}'.encode()


def _keyed(field: str) -> bytes:
    return f'{{"key": "1abc", "lines": [{{"sku": "RAIL-S", "qty": 1}}], {field}}}'.encode()


_BESIDE = "nothing beside a key"
_INVALID = {
    "a car beside a key": (_keyed('"chassis": "brook"'), "#/chassis", '"brook"', _BESIDE),
    "a wish beside a key": (_keyed('"gauge": "none"'), "#/gauge", '"none"', _BESIDE),
    "a revision beside a key": (_keyed('"revision": 1'), "#/revision", "1", _BESIDE),
    "an unknown field beside a key": (_keyed('"finsh": "moss"'), "#/finsh", '"moss"', "no such field"),
    "a key without an end": (
        json.dumps({"key": "1" * 40_001, "lines": [{"sku": "A", "qty": 1}]}).encode(),
        *("#/key", '"1111', "at most 40000 characters"),
    ),
    "a key that is no text": (b'{"key": 1, "lines": [{"sku": "A", "qty": 1}]}', "#/key", "1", "a text"),
    "no chassis": (b'{"lines": [{"sku": "A", "qty": 1}]}', "#/chassis", "nothing", "the field is required"),
    "no lines": (b'{"chassis": "brook"}', "#/lines", "nothing", "the field is required"),
    "empty order": (b'{"chassis": "brook", "lines": []}', "#/lines", "[]", "at least 1 element(s)"),
    "long order": (
        json.dumps({"chassis": "brook", "lines": [{"sku": "A", "qty": 1}] * 201}).encode(),
        *("#/lines", "[", "at most 200 element(s)"),
    ),
    "no quantity": (b'{"chassis": "brook", "lines": [{"sku": "A"}]}', "#/lines/0/qty", "nothing", "is required"),
    "none of it": (b'{"chassis": "brook", "lines": [{"sku": "A", "qty": 0}]}', "#/lines/0/qty", "0", "at least 1"),
    "far too many": (
        b'{"chassis": "brook", "lines": [{"sku": "A", "qty": 10001}]}',
        *("#/lines/0/qty", "10001", "at most 10000"),
    ),
    "half a part": (
        b'{"chassis": "brook", "lines": [{"sku": "A", "qty": 1.5}]}',
        *("#/lines/0/qty", "1.5", "a whole number"),
    ),
    "a truth for a number": (_with('"sets": true'), "#/sets", "true", "a whole number"),
    "no set": (_with('"sets": 0'), "#/sets", "0", "at least 1"),
    "too many sets": (_with('"sets": 1001'), "#/sets", "1001", "at most 1000"),
    "a field of bills": (_with('"limit": 5'), "#/limit", "5", "no such field"),
    "another field of bills": (_with('"order_by": "price"'), "#/order_by", '"price"', "no such field"),
    "unknown field": (_with('"finsh": "moss"'), "#/finsh", '"moss"', "no such field; nearest: finish"),
    "no part had": (_with('"have": [{"sku": "A", "qty": 0}]'), "#/have/0/qty", "0", "at least 1"),
    "too many had": (
        _with('"have": ' + json.dumps([{"sku": "A", "qty": 1}] * 51)),
        *("#/have", "[", "at most 50 element(s)"),
    ),
    "own rail without spots": (_with('"own_rail": {}'), "#/own_rail", "{}", "at least 1 element(s)"),
    "own rail with another spot": (
        _with('"own_rail": {"1.top": {"standard": "boss-8", "end": "female"}}'),
        *("#/own_rail/1.top", '"1.top"', "one of: left, centre, right or top"),
    ),
    "own rail without an end": (
        _with('"own_rail": {"top": {"standard": "boss-8"}}'),
        *("#/own_rail/top/end", "nothing", "the field is required"),
    ),
    "zero character": (_with(r'"finish": "a\u0000b"'), "#/finish", r'"a\u0000b"', "without control characters"),
    "lone surrogate": (_with(r'"finish": "\ud800"'), "#/finish", "a lone surrogate", "whole Unicode characters"),
    "doubled key": (_with('"sets": 1, "sets": 1'), "#/sets", 'the key "sets" more than once', "each key once"),
    "big integer": (_with(f'"revision": {2**63}'), "#/revision", str(2**63), "at most 2147483647"),
    "unknown revision": (_with('"revision": 9'), "#/revision", "9", "the number of a known revision"),
    "unknown chassis": (
        b'{"chassis": "brok", "lines": [{"sku": "RAIL-S", "qty": 1}]}',
        *("#/chassis", "brok", "the id of a chassis of this revision"),
    ),
    "unknown item": (
        b'{"chassis": "brook", "lines": [{"sku": "RAIL-X", "qty": 1}]}',
        *("#/lines/0/sku", "RAIL-X", "the id of an item of this revision"),
    ),
}


@pytest.mark.parametrize("name", list(_INVALID))
def test_an_order_that_is_not_taken_is_422(order_app: FastAPI, name: str) -> None:
    """The one fault is told by its pointer, what was found and what would be right."""
    raw, pointer, found, expected = _INVALID[name]
    response = check(order_app, raw)
    [(place, stood, right)] = told(problem(response, 422, "invalid-request"))
    assert place == pointer
    assert found in stood
    assert expected in right
    assert len(response.content) < 2_000


def test_the_outermost_order_is_taken(order_app: FastAPI) -> None:
    """As many lines, units, sets and had parts as there may be; whole numbers written with a point."""
    lines = [{"sku": "PLUG-B8", "qty": 10_000.0}] * 200
    had = [{"sku": "PLUG-T", "qty": 10_000}] * 50
    rail = {place: {"standard": "boss-8", "end": "female"} for place in ("left", "centre", "right", "top")}
    order = {"chassis": "brook", "lines": lines, "sets": 1_000, "have": had, "own_rail": rail}
    assert check(order_app, order).json()["remove"][0]["qty"] == 200 * 10_000 - 3


@pytest.mark.parametrize(
    ("options", "status", "code"),
    [
        ({"content": b"{"}, 400, "malformed-json"),
        ({"content": b""}, 400, "malformed-json"),
        ({"content": b"[" * 100_000}, 400, "malformed-json"),
        ({"content": b" " * 300_000}, 413, "body-too-large"),
        ({"content": b"{}", "headers": {"Content-Type": "application/x-ndjson"}}, 415, "unsupported-media-type"),
        ({"content": b"{}", "params": {"x": "1"}}, 422, "invalid-request"),
    ],
    ids=["cut", "nothing", "deep", "too large", "lines", "query"],
)
def test_other_bodies_are_refused(order_app: FastAPI, options: dict[str, Any], status: int, code: str) -> None:
    """As everywhere."""
    given = {"headers": {"Content-Type": "application/json"}} | options
    problem(call(order_app, "POST", "/v1/order-checks", **given), status, code)


@pytest.mark.parametrize(
    ("method", "path", "allow"),
    [
        ("GET", "/v1/order-checks", "OPTIONS, POST"),
        ("PUT", "/v1/order-checks/Xq3vYb0TzLr8mWk2hNc5Ug", "GET, HEAD, OPTIONS"),
        ("POST", "/v1/order-checks/Xq3vYb0TzLr8mWk2hNc5Ug", "GET, HEAD, OPTIONS"),
        ("DELETE", "/v1/order-checks/batch", "OPTIONS, POST"),
    ],
)
def test_other_methods_are_405(order_app: FastAPI, method: str, path: str, allow: str) -> None:
    """With those that the path takes."""
    response = call(order_app, method, path)
    problem(response, 405, "method-not-allowed")
    assert response.headers["allow"] == allow


@pytest.mark.parametrize(
    ("error", "status", "code"),
    [
        (ZeroDivisionError("secret-7341"), 500, "internal-error"),
        (StorageBusyError("sqlite:///secret-7341", "locked"), 503, "storage-unavailable"),
    ],
    ids=["unexpected", "storage"],
)
def test_what_fails_is_logged_and_told_without_the_inside(
    library: Library, caplog: pytest.LogCaptureFixture, error: Exception, status: int, code: str
) -> None:
    """And its key is not used up."""

    def fail(edition: Edition, order: OrderRequest) -> OrderResult:
        raise error

    response = check(create_app(library, checks_of(library, fail)), ORDER, f"failing-{status}")
    problem(response, status, code)
    assert "secret-7341" not in response.text
    assert "secret-7341" in caplog.text
    assert check(create_app(library, checks_of(library, three_plugs)), ORDER, f"failing-{status}").status_code == 201


def test_without_a_catalog_orders_are_refused(tmp_path: Path) -> None:
    """As questions are."""
    with library_in(tmp_path / "file") as empty:
        for app in (create_app(empty, checks_of(empty, three_plugs)), create_app()):
            problem(check(app, ORDER), 503, "no-catalog")


def test_a_named_revision_is_part_of_the_request(order_app: FastAPI) -> None:
    """An order that names its revision is another request than one that does not."""
    first = check(order_app, ORDER | {"revision": 1}, "pinned")
    assert first.json()["revision"] == 1
    assert check(order_app, ORDER | {"revision": 1}, "pinned").content == first.content
    problem(check(order_app, ORDER, "pinned"), 422, "idempotency-key-reused")


def _bill(app: FastAPI, **more: Any) -> dict[str, Any]:
    asked = {"chassis": "brook", "layout": "hose-centre", "limit": 1, "revision": 1} | more
    key = call(app, "POST", "/v1/bills", json=asked).json()["bills"][0]["key"]
    bill: dict[str, Any] = get(app, f"/v1/bills/{key}").json()["bill"]
    return bill


def test_an_order_is_held_against_the_very_bill_of_a_key(app: FastAPI) -> None:
    """In the bill's own revision; null beside the key is nothing."""
    bill = _bill(app)
    bought = [{"sku": line["sku"], "qty": line["qty"]} for line in bill["lines"] if line["source"] == "buy"]
    made = check(app, {"key": bill["key"], "lines": bought, "chassis": None, "sets": 1})
    assert (made.status_code, made.json()["verdict"], made.json()["revision"]) == (201, "complete", 1)
    assert made.json()["bill"] == bill
    again = get(app, made.headers["location"]).json()
    assert (again["current"]["revision"], again["current"]["same"]) == (2, True)


@pytest.mark.parametrize("key", ["1", "nonsense", "1abc", "\u20ac"])
def test_an_unknown_key_is_the_problem_that_recalling_it_gives(app: FastAPI, key: str) -> None:
    """Alone and in a batch."""
    order = {"key": key, "lines": [{"sku": "RAIL-S", "qty": 1}]}
    expected = problem(get(app, f"/v1/bills/{key}"), 404, "unknown-id")
    found = problem(check(app, order), 404, "unknown-id")
    assert {**found, "instance": ""} == {**expected, "instance": ""}
    lines = call(
        app,
        "POST",
        "/v1/order-checks/batch",
        content=json.dumps(order).encode(),
        headers={"Content-Type": "application/x-ndjson"},
    )
    assert json.loads(lines.content)["problem"]["errors"] == expected["errors"]


def test_a_bill_that_a_newer_catalog_has_no_more(tmp_path: Path) -> None:
    """The check stays; the newest revision cannot judge the order."""
    with library_in(tmp_path / "file", small_catalog()) as library:
        app = create_app(library, checks_of(library))
        bill = _bill(app, revision=None)
        made = check(app, {"key": bill["key"], "lines": [{"sku": "RAIL-S", "qty": 1}]})
        retired = [x | ({"status": "retired"} if x["sku"] == "RAIL-S" else {}) for x in small_catalog()["items"]]
        library.publish(Catalog.model_validate(small_catalog() | {"items": retired}))
        current = get(app, made.headers["location"]).json()["current"]
        assert (current["same"], current["verdict"]) == (False, None)
        assert current["text"] == (
            "Catalog revision 2 cannot judge this order: the bill that it was compared with is not valid there."
        )


def test_one_question_has_one_key_in_whatever_case(app: FastAPI) -> None:
    """By body, by query and in an order."""
    first = _bill(app, exclude=["GAUGE-T"])
    assert _bill(app, exclude=["gauge-t"]) == first
    query = "chassis=brook&layout=hose-centre&limit=1&revision=1&exclude=Gauge-T"
    assert [bill["key"] for bill in get(app, f"/v1/bills?{query}").json()["bills"]] == [first["key"]]
    assert get(app, "/v1/items/plug-t").json() == get(app, "/v1/items/PLUG-T").json()
