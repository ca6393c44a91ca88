"""Calling the application within this process, and reading the problems that it answers with."""

import asyncio
from typing import Any

import httpx
from starlette.types import ASGIApp

HEX_UUID = r"[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}"


def call(app: ASGIApp, method: str, path: str, **options: Any) -> httpx.Response:
    """Send one request; an error that the application lets through fails the test."""

    async def send() -> httpx.Response:
        async with httpx.AsyncClient(transport=httpx.ASGITransport(app), base_url="http://portwright") as client:
            return await client.request(method, path, **options)

    return asyncio.run(send())


def get(app: ASGIApp, path: str, **options: Any) -> httpx.Response:
    return call(app, "GET", path, **options)


def ask(app: ASGIApp, body: Any, **options: Any) -> httpx.Response:
    """Ask for bills; bytes are sent as they are, as JSON."""
    if isinstance(body, bytes):
        return call(app, "POST", "/v1/bills", content=body, headers={"Content-Type": "application/json"}, **options)
    return call(app, "POST", "/v1/bills", json=body, **options)


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
