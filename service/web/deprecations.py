"""Operations that are to go: what is told of each, in headers, in the document of the API and on the page of policy.

Sources: RFC 9745 for `Deprecation` and the link `deprecation`, RFC 8594 for `Sunset`, RFC 9651 for dates in headers.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from email.utils import format_datetime
from typing import Any

from fastapi import APIRouter
from fastapi.routing import APIRoute
from starlette.datastructures import MutableHeaders
from starlette.routing import Match
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from service.web.asgi import Around

LEAST = timedelta(days=180)
"""So long an operation still answers after the day from which it is not to be used."""
POLICY_PATH = "/policy"


@dataclass(frozen=True)
class Deprecation:
    """`since`: the day from which an operation is not to be used, in UTC; `ends`: the day on which it ends; `instead`:
    what to ask in its place, in words. Raises ValueError where it ends too soon."""

    since: date
    ends: date
    instead: str

    def __post_init__(self) -> None:
        if self.ends - self.since < LEAST:
            raise ValueError(f"an operation ends at least {LEAST.days} days after it is deprecated")

    @property
    def headers(self) -> dict[str, str]:
        """What each answer of the operation carries; its link comes beside those that it has."""
        return {
            "Deprecation": f"@{int(_begin(self.since).timestamp())}",
            "Sunset": format_datetime(_begin(self.ends), usegmt=True),
            "Link": f'<{POLICY_PATH}>; rel="deprecation"; type="text/html"',
        }


DEPRECATED: Mapping[str, Deprecation] = {}
"""By the id of the operation."""


class Deprecations(Around):
    """Tell with each answer of a deprecated operation that it is one, refusals too."""

    def __init__(self, app: ASGIApp, routers: Iterable[APIRouter], deprecated: Mapping[str, Deprecation]) -> None:
        super().__init__(app)
        self._routes = _routes(routers)
        self._deprecated = deprecated

    async def _around(self, scope: Scope, receive: Receive, send: Send) -> None:
        told = self._told(scope)

        async def send_with_headers(message: Message) -> None:
            if told is not None and message["type"] == "http.response.start":
                _tell(told, MutableHeaders(scope=message))
            await send(message)

        await self._app(scope, receive, send_with_headers)

    def _told(self, scope: Scope) -> Deprecation | None:
        asked = {**scope, "method": "GET"} if scope["method"] == "HEAD" else scope
        found = next((route for route in self._routes if route.matches(asked)[0] is Match.FULL), None)
        return None if found is None else self._deprecated.get(found.operation_id or "")


def _tell(one: Deprecation, headers: MutableHeaders) -> None:
    if "Deprecation" not in headers:  # what another process of ours has answered tells it already
        for name, value in one.headers.items():
            headers.append(name, value)


def policy_text(routers: Iterable[APIRouter], deprecated: Mapping[str, Deprecation]) -> str:
    """What the page of policy says of operations that are to go now. Raises ValueError for one that there is not."""
    names: dict[str | None, str] = {}
    for route in _routes(routers):
        names.setdefault(route.operation_id, f"{' '.join(sorted(route.methods or ()))} {route.path_format}")
    unknown = deprecated.keys() - names.keys()
    if unknown:
        raise ValueError(f"no such operation: {', '.join(sorted(unknown))}")
    if not deprecated:
        return "Nothing is deprecated now."
    told = [f"{names[id_]} from {one.since} on, ends on {one.ends}: {one.instead}" for id_, one in deprecated.items()]
    return f"Deprecated now: {'; '.join(told)}."


def describe_deprecations(paths: Mapping[str, Any], deprecated: Mapping[str, Deprecation]) -> None:
    """Mark deprecated operations in the document of the API, with the headers of their answers."""
    for operation in (operation for operations in paths.values() for operation in operations.values()):
        one = deprecated.get(operation["operationId"])
        if one is None:
            continue
        operation["deprecated"] = True
        says = f"Deprecated since {one.since}; it ends on {one.ends}. In its place: {one.instead}."
        operation["description"] = " ".join(filter(None, (operation.get("description"), says)))
        for response in operation["responses"].values():
            response["headers"] = response.get("headers", {}) | _HEADERS


_HEADERS: dict[str, Any] = {
    "Deprecation": {
        "required": True,
        "description": "since when it is deprecated: seconds since 1970 behind an @, RFC 9745",
        "schema": {"type": "string"},
    },
    "Sunset": {"required": True, "description": "when it ends: an HTTP date, RFC 8594", "schema": {"type": "string"}},
}


def _routes(routers: Iterable[APIRouter]) -> list[APIRoute]:
    return [route for router in routers for route in router.routes if isinstance(route, APIRoute)]


def _begin(day: date) -> datetime:
    return datetime(day.year, day.month, day.day, tzinfo=UTC)
