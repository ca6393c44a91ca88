"""Every operation that takes JSON refuses what is none, what no field can hold and what is no JSON at all, alike.

Each row is a body by which a service out of the box answers 500, or takes what it should not: RFC 8259, RFC 7493
(I-JSON) 2.1 to 2.3, RFC 9110 15.5.14 and 15.5.16.
"""

from collections.abc import Iterator
from typing import Any

import pytest

from service.web.app import BODY_LIMIT_BYTES, create_app
from tests.support.catalogs import small_catalog
from tests.web.calls import Caller, caller, problem
from tests.web.conftest import (
    QUESTION,
    cases_of,
    checks_of,
    drafts_of,
    inquiries_of,
    library_in,
    links_of,
    readings_of,
    sweeps_of,
    webhooks_of,
)

_BODIES: dict[str, tuple[bytes, int]] = {
    "NaN": (b'{"x": NaN}', 422),
    "infinity": (b'{"x": -Infinity}', 422),
    "1e400": (b'{"x": 1e400}', 422),
    "lone surrogate": (rb'{"x": "\ud800"}', 422),
    "zero character": (rb'{"x": "a\u0000"}', 422),
    "doubled key": (b'{"x": 1, "x": 2}', 422),
    "unknown field": (b'{"no_such_field": 1}', 422),
    "a list": (b"[]", 422),
    "too deep": (b'{"x":' + b"[" * 100_000, 400),
    "huge integer": (b'{"x": ' + b"9" * 5_000 + b"}", 400),
    "not UTF-8": (b'{"x": "\xff"}', 400),
    "nothing": (b"", 400),
    "cut": (b'{"x": ', 400),
    "too large": (b" " * (BODY_LIMIT_BYTES + 1), 413),
}
_JSON, _PATCH = "application/json", "application/merge-patch+json"


@pytest.fixture(scope="module", name="client")
def _client(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Caller]:
    with library_in(tmp_path_factory.mktemp("bodies") / "catalog.sqlite3", small_catalog()) as library:
        app = create_app(
            library,
            checks_of(library),
            kept_inquiries=inquiries_of(library),
            links=links_of(library),
            readings=readings_of(library),
            kept_drafts=drafts_of(library),
            kept_sweeps=sweeps_of(library),
            partner_cases=cases_of(library),
            kept_webhooks=webhooks_of(library),
        )
        with caller(app) as client:
            yield client


@pytest.fixture(scope="module", name="operations")
def _operations(client: Caller) -> list[tuple[str, str, str]]:
    """Method, path and media type of every operation that takes JSON; what its path names is there."""
    draft = client.post("/v1/drafts", json={"name": "bodies", "author": "tests"}).json()["id"]
    sent = client.post("/v1/inquiries", json={"request": QUESTION, "contact": "desk@shop.example"}).json()["id"]
    named = {"{section}/{key}": "items/PLUG-T", "{number}": "1"}
    found = []
    for path, methods in client.get("/openapi.json").json()["paths"].items():
        for method, operation in methods.items():
            told: dict[str, Any] = operation.get("requestBody", {}).get("content", {})
            for type_ in {_JSON, _PATCH} & told.keys():
                at = path.replace("{id}", sent if "inquiries" in path else draft)
                for name, value in named.items():
                    at = at.replace(name, value)
                found.append((method.upper(), at, type_))
    return found


@pytest.mark.parametrize("name", list(_BODIES))
def test_every_operation_refuses_it(client: Caller, operations: list[tuple[str, str, str]], name: str) -> None:
    body, status = _BODIES[name]
    assert len(operations) > 15
    for method, path, type_ in operations:
        headers = {"Content-Type": type_, "If-Match": "*"}
        told = client.request(method, path, content=body, headers=headers)
        assert told.status_code == status, (method, path, told.status_code, told.text)
        problem(told, status, told.json()["type"].rpartition("/")[2])


def test_every_operation_refuses_another_type(client: Caller, operations: list[tuple[str, str, str]]) -> None:
    for method, path, _ in operations:
        headers = {"Content-Type": "text/plain", "If-Match": "*"}
        told = client.request(method, path, content=b"{}", headers=headers)
        assert told.status_code == 415, (method, path, told.status_code, told.text)
