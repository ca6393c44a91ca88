"""Bodies that are refused: each with its status, its place and what would be right; never a 500, never an echo."""

import asyncio
import json
from collections.abc import AsyncIterator

import pytest
from fastapi import FastAPI

from service.usecases.library import Library
from service.web.app import BODY_LIMIT_BYTES, create_app
from tests.web.calls import ask, call, problem, told
from tests.web.conftest import QUESTION


def _with(field: str) -> bytes:
    """The question with one more field, written by hand."""
    return f'{{"chassis": "brook", "layout": "factory", {field}}}'.encode()


_MALFORMED = {
    "nothing": (b"", "nothing at all"),
    "no JSON": (b"chassis=brook", "a value is missing or is no JSON value (line 1, column 1)"),
    "cut": (b'{"chassis": "brook",\n', "a key in double quotes is missing (line 2, column 1)"),
    "not UTF-8": (b'{"chassis": "\xff\xfe"}', "bytes that are not UTF-8 (line 1, column 14)"),
    "UTF-16": ('{"chassis": "brook"}'.encode("utf-16"), "bytes that are not UTF-8 (line 1, column 1)"),
    "deep lists": (b"[" * 100_000, "nesting deeper than 64 levels"),
    "deep objects": (b'{"a":' * 40_000 + b"1" + b"}" * 40_000, "nesting deeper than 64 levels"),
    "huge integer": (_with('"limit": ' + "9" * 5_000), "an integer of more than 40 digits"),
    "raw control character": (b'{"chassis": "br\x00ook"}', "a control character stands unescaped in a text"),
    "two values": (b"{} {}", "something follows after the end of the value"),
}


@pytest.mark.parametrize("name", list(_MALFORMED))
def test_what_is_no_json_is_400(app: FastAPI, name: str) -> None:
    """The detail tells what stopped the reading, and where."""
    raw, reason = _MALFORMED[name]
    found = problem(ask(app, raw), 400, "malformed-json")
    assert reason in found["detail"]
    assert len(found["detail"]) < 200


_INVALID = {
    "NaN": (_with('"power_kw": NaN'), "#/power_kw", "NaN", "a finite number"),
    "Infinity": (_with('"power_kw": Infinity'), "#/power_kw", "Infinity", "a finite number"),
    "-Infinity": (_with('"boost_kpa": -Infinity'), "#/boost_kpa", "-Infinity", "a finite number"),
    "1e400": (_with('"power_kw": 1e400'), "#/power_kw", "1e400", "a number that a double can hold"),
    "lone surrogate": (_with(r'"finish": "\ud800"'), "#/finish", "a lone surrogate", "whole Unicode characters"),
    "surrogate key": (_with(r'"\udfff": 1'), "#/%3F", "a lone surrogate", "whole Unicode characters"),
    "zero character": (_with(r'"finish": "a\u0000b"'), "#/finish", r'"a\u0000b"', "without control characters"),
    "escape character": (_with(r'"finish": "\u001b[31m"'), "#/finish", r"\u001b", "without control characters"),
    "doubled key": (_with('"limit": 1, "limit": 2'), "#/limit", 'the key "limit" more than once', "each key once"),
    "unknown field": (_with('"power": 90'), "#/power", "90", "no such field; nearest: power_kw"),
    "text for a number": (_with('"limit": "7"'), "#/limit", '"7"', "a whole number"),
    "text for a float": (_with('"power_kw": "90"'), "#/power_kw", '"90"', "a number in kW"),
    "truth for a number": (_with('"limit": true'), "#/limit", "true", "a whole number"),
    "truth for a float": (_with('"power_kw": true'), "#/power_kw", "true", "a number in kW"),
    "number for a truth": (_with('"in_stock_only": 1'), "#/in_stock_only", "1", "true or false"),
    "fraction": (_with('"limit": 1.5'), "#/limit", "1.5", "a whole number"),
    "none for many": (_with('"exclude": null'), "#/exclude", "null", "a list"),
    "over the limit": (_with('"limit": 101'), "#/limit", "101", "at most 100"),
    "big integer": (_with(f'"revision": {2**63}'), "#/revision", str(2**63), "at most 2147483647"),
    "negative clearance": (
        _with('"clearances": [{"spot": "left", "axial_mm": -1}]'),
        "#/clearances/0/axial_mm",
        "-1",
        "a number of at least 0 mm",
    ),
    "unknown field within": (
        _with('"clearances": [{"spot": "left", "axial": 9}]'),
        "#/clearances/0/axial",
        "9",
        "no such field; nearest: axial_mm",
    ),
    "no such spot": (_with('"clearances": [{"spot": "middle"}]'), "#/clearances/0/spot", '"middle"', "a spot: left"),
    "too many": (_with('"exclude": ' + json.dumps(["A"] * 201)), "#/exclude", "[", "at most 200 element(s)"),
    "too long": (_with(f'"finish": "{"x" * 121}"'), "#/finish", '"xxx', "at most 120 characters"),
    "no id": (_with('"fuel": "../x"'), "#/fuel", '"../x"', "an id: letters, digits"),
    "missing": (b'{"chassis": "brook"}', "#/layout", "nothing", "the field is required"),
    "a list": (b"[]", "#", "[]", "an object"),
    "a text": (b'"brook"', "#", '"brook"', "an object"),
    "null": (b"null", "#", "null", "an object"),
    "markup": (_with('"<script>alert(1)</script>": 1'), "#/", "1", "no such field"),
}


@pytest.mark.parametrize("name", list(_INVALID))
def test_json_that_is_not_taken_is_422(app: FastAPI, name: str) -> None:
    """The one fault is told by its pointer, what was found and what would be right."""
    raw, pointer, found, expected = _INVALID[name]
    response = ask(app, raw)
    [(place, stood, right)] = told(problem(response, 422, "invalid-request"))
    assert place.startswith(pointer)
    assert found in stood
    assert expected in right
    assert len(response.content) < 2_000


_TEXTS = {
    "#/chassis": '{"chassis": TEXT, "layout": "factory"}',
    "#/layout": '{"chassis": "brook", "layout": TEXT}',
    "#/fuel": _with('"fuel": TEXT').decode(),
    "#/finish": _with('"finish": TEXT').decode(),
    "#/gauge": _with('"gauge": TEXT').decode(),
    "#/order_by": _with('"order_by": TEXT').decode(),
    "#/addons/0": _with('"addons": [TEXT]').decode(),
    "#/exclude/0": _with('"exclude": [TEXT]').decode(),
    "#/clearances/0/spot": _with('"clearances": [{"spot": TEXT}]').decode(),
}


@pytest.mark.parametrize(
    "character", ["\0", "\x08", "\x1b", "\x7f", "\x9b"], ids=["zero", "backspace", "escape", "delete", "sequence"]
)
@pytest.mark.parametrize("pointer", list(_TEXTS))
def test_no_text_takes_control_characters(app: FastAPI, pointer: str, character: str) -> None:
    """Behind a good value too; what is told of it can be printed."""
    for text in (character, f"brook{character}", f"{character}left"):
        response = ask(app, _TEXTS[pointer].replace("TEXT", json.dumps(text)).encode())
        assert [place for place, _, _ in told(problem(response, 422, "invalid-request"))] == [pointer]
        assert all(character not in part for fault in told(response.json()) for part in fault)


def test_every_fault_is_told(app: FastAPI) -> None:
    """Each with its pointer; the detail has the first three and counts the rest."""
    body = QUESTION | {"limit": 0, "power_kw": -1, "boost_kpa": 2_000, "max_price": -5, "order_by": "colour"}
    found = problem(ask(app, body), 422, "invalid-request")
    assert {place for place, _, _ in told(found)} == {
        *("#/limit", "#/power_kw", "#/boost_kpa", "#/max_price", "#/order_by")
    }
    assert "2 more" in found["detail"]


@pytest.mark.parametrize(
    ("headers", "parameter"),
    [
        ({"Content-Type": "text/plain"}, "Content-Type"),
        ({"Content-Type": "application/x-www-form-urlencoded"}, "Content-Type"),
        ({"Content-Type": "application/json; charset=latin-1"}, "Content-Type"),
        ({"Content-Type": "application/jsonx"}, "Content-Type"),
        ({"Content-Type": "\x1b[31m"}, "Content-Type"),
        ({}, "Content-Type"),
        ({"Content-Type": "application/json", "Content-Encoding": "gzip"}, "Content-Encoding"),
    ],
    ids=["text", "form", "latin-1", "alike", "control character", "none", "gzip"],
)
def test_other_media_types_are_415(app: FastAPI, headers: dict[str, str], parameter: str) -> None:
    """The header is named, and what it should be."""
    response = call(app, "POST", "/v1/bills", content=json.dumps(QUESTION).encode(), headers=headers)
    assert [place for place, _, _ in told(problem(response, 415, "unsupported-media-type"))] == [parameter]


@pytest.mark.parametrize("declared", ["application/json", "Application/JSON; charset=UTF-8", "application/json;x=y"])
def test_json_may_be_declared_in_its_ways(app: FastAPI, declared: str) -> None:
    """Case and parameters do not matter."""
    headers = {"Content-Type": declared}
    assert call(app, "POST", "/v1/bills", content=json.dumps(QUESTION), headers=headers).status_code == 200


def _padded(size: int) -> bytes:
    raw = json.dumps(QUESTION).encode()
    return raw + b" " * (size - len(raw))


async def _in_chunks(raw: bytes) -> AsyncIterator[bytes]:
    for start in range(0, len(raw), 10_000):
        yield raw[start : start + 10_000]


@pytest.mark.parametrize("chunked", [False, True], ids=["plain", "chunked"])
def test_the_largest_body_and_one_byte_more(app: FastAPI, chunked: bool) -> None:
    """256 KiB are taken; one byte more is refused, told by its header or counted."""
    for size, status in ((BODY_LIMIT_BYTES, 200), (BODY_LIMIT_BYTES + 1, 413)):
        raw = _padded(size)
        headers = {"Content-Type": "application/json"}
        content = _in_chunks(raw) if chunked else raw
        response = call(app, "POST", "/v1/bills", content=content, headers=headers)
        assert response.status_code == status
    assert "262144 bytes" in problem(response, 413, "body-too-large")["detail"]


def test_size_comes_before_meaning(app: FastAPI) -> None:
    """What is too large is not parsed, nor is its type looked at."""
    response = call(app, "POST", "/v1/bills", content=b"[" * (BODY_LIMIT_BYTES + 1), headers={"Content-Type": "x/y"})
    problem(response, 413, "body-too-large")


def test_a_length_beyond_counting_is_too_large(app: FastAPI) -> None:
    """A Content-Length of 5,000 digits is no number to work with."""
    headers = {"Content-Type": "application/json", "Content-Length": "9" * 5_000}
    problem(call(app, "POST", "/v1/bills", content=b"{}", headers=headers), 413, "body-too-large")


def test_a_body_that_does_not_end_is_408(library: Library) -> None:
    """Whoever begins a body and stops is not waited for."""

    async def stalled() -> AsyncIterator[bytes]:
        yield b'{"chassis": '
        await asyncio.sleep(60)

    response = call(
        create_app(library, body_timeout_s=0.05),
        *("POST", "/v1/bills"),
        content=stalled(),
        headers={"Content-Type": "application/json"},
    )
    assert "0.05 seconds" in problem(response, 408, "body-timeout")["detail"]
    assert response.headers["connection"] == "close"  # the rest of the body is not waited for either
