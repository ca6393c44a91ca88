"""Calling the application within this process, and reading the problems that it answers with."""

import asyncio
import json
from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from typing import Any

import httpx
from anyio.from_thread import BlockingPortal, start_blocking_portal
from starlette.types import ASGIApp

PLAIN = {"Accept-Encoding": "identity"}
"""Content is asked for as it is."""

HEX_UUID = r"[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}"


def call(app: ASGIApp, method: str, path: str, **options: Any) -> httpx.Response:
    """Send one request; an error that the application lets through fails the test."""

    async def send() -> httpx.Response:
        async with httpx.AsyncClient(
            transport=httpx.ASGITransport(app), base_url="http://127.0.0.1", headers=PLAIN
        ) as client:
            return await client.request(method, path, **options)

    return asyncio.run(send())


class Caller:
    """Calls an application in one event loop that goes on between the calls; safe to share by threads."""

    def __init__(self, portal: BlockingPortal, client: httpx.AsyncClient) -> None:
        self._portal = portal
        self._client = client

    def request(self, method: str, path: str, **options: Any) -> httpx.Response:
        """Send one request."""
        return self._portal.call(partial(self._client.request, method, path, **options))

    def get(self, path: str, **options: Any) -> httpx.Response:
        return self.request("GET", path, **options)

    def post(self, path: str, **options: Any) -> httpx.Response:
        return self.request("POST", path, **options)

    def put(self, path: str, **options: Any) -> httpx.Response:
        return self.request("PUT", path, **options)

    def patch(self, path: str, **options: Any) -> httpx.Response:
        return self.request("PATCH", path, **options)

    def delete(self, path: str, **options: Any) -> httpx.Response:
        return self.request("DELETE", path, **options)


@contextmanager
def caller(app: ASGIApp) -> Iterator[Caller]:
    """What calls an application whose work goes on behind people."""
    with start_blocking_portal() as portal:
        client = httpx.AsyncClient(transport=httpx.ASGITransport(app), base_url="http://127.0.0.1", headers=PLAIN)
        yield Caller(portal, client)
        portal.call(client.aclose)


def get(app: ASGIApp, path: str, **options: Any) -> httpx.Response:
    return call(app, "GET", path, **options)


def ask(app: ASGIApp, body: Any, **options: Any) -> httpx.Response:
    """Ask for bills; bytes are sent as they are, as JSON."""
    if isinstance(body, bytes):
        return call(app, "POST", "/v1/bills", content=body, headers={"Content-Type": "application/json"}, **options)
    return call(app, "POST", "/v1/bills", json=body, **options)


def check(app: ASGIApp, body: Any, key: str | None = None, **options: Any) -> httpx.Response:
    """Have an order checked; bytes are sent as they are, as JSON."""
    headers = {} if key is None else {"Idempotency-Key": key}
    if isinstance(body, bytes):
        headers["Content-Type"] = "application/json"
        return call(app, "POST", "/v1/order-checks", content=body, headers=headers, **options)
    return call(app, "POST", "/v1/order-checks", json=body, headers=headers, **options)


def check_batch(app: ASGIApp, *lines: Any, end: str = "\n") -> httpx.Response:
    """Have a batch checked; texts are sent as they are, other things as JSON."""
    text = "".join((line if isinstance(line, str) else json.dumps(line)) + end for line in lines)
    headers = {"Content-Type": "application/x-ndjson"}
    return call(app, "POST", "/v1/order-checks/batch", content=text.encode(), headers=headers)


def lines_of(response: httpx.Response) -> list[dict[str, Any]]:
    """Return the answers of a batch, line by line."""
    assert (response.status_code, response.headers["content-type"]) == (200, "application/x-ndjson")
    assert not response.content or response.content.endswith(b"\n")
    return [json.loads(line) for line in response.content.splitlines()]


def problem(response: httpx.Response, status: int, code: str) -> dict[str, Any]:
    """Return the problem document of a response, which must be one of this status and type."""
    assert (response.status_code, response.headers["content-type"]) == (status, "application/problem+json")
    found: dict[str, Any] = response.json()
    assert (found["status"], found["type"]) == (status, f"/v1/problems/{code}")
    assert found["instance"] == f"urn:uuid:{response.headers['x-request-id']}"
    assert found["title"]
    assert found["detail"]
    return found


def told(found: dict[str, Any]) -> list[tuple[str, str, str]]:
    """Return the faults of a problem as (place, found, expected)."""
    return [
        (fault.get("pointer") or fault["parameter"], fault["found"], fault["expected"]) for fault in found["errors"]
    ]
