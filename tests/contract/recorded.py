"""One honest site within this process, whose answers are recorded, and what spoils them on their way."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any
from urllib.parse import parse_qs

import httpx
from anyio.from_thread import BlockingPortal, start_blocking_portal
from fastapi import FastAPI

from service.documents.folder import read_catalog
from service.web.app import create_app
from tests.contract.broken_servers import Answered
from tests.web.conftest import cases_of, checks_of, inquiries_of, library_in, links_of, readings_of, webhooks_of

BASE_URL = "http://127.0.0.1"
SEED = Path(__file__).parents[2] / "seed_data"
_TELLING = (
    "accept",
    "accept-encoding",
    "accept-language",
    "authorization",
    "content-type",
    "if-none-match",
    "origin",
    "x-request-id",
)
Request = httpx.Request


@contextmanager
def application(folder: Path) -> Iterator[FastAPI]:
    """The application over the seed catalog in two revisions, of which the first has another name of a material."""
    catalog = read_catalog(SEED)
    first, *others = catalog["materials"]
    before = catalog | {"materials": [first | {"name": f"{first['name']}, as it was called"}, *others]}
    with library_in(folder / "catalog.sqlite3", before, catalog) as library:
        yield create_app(
            library,
            checks_of(library),
            kept_inquiries=inquiries_of(library),
            links=links_of(library),
            readings=readings_of(library),
            partner_cases=cases_of(library),
            kept_webhooks=webhooks_of(library),
        )


class Recorded(httpx.BaseTransport):
    """Carries requests to an application in this process, each different one once; those with an idempotency key
    always."""

    def __init__(self, app: FastAPI, portal: BlockingPortal) -> None:
        self._transport = httpx.ASGITransport(app)
        self._portal = portal
        self._answers: dict[tuple[Any, ...], Answered] = {}

    def handle_request(self, request: Request) -> httpx.Response:
        answered = self.answered(request)
        return httpx.Response(answered.status, headers=answered.headers, content=answered.content)

    def answered(self, request: Request) -> Answered:
        """The honest answer, its content as it is without compression."""
        if "idempotency-key" in request.headers:
            return self._portal.call(self._sent, request)
        told = tuple(request.headers.get(name) for name in _TELLING)
        name = (request.method, str(request.url), request.read(), told)
        if name not in self._answers:
            self._answers[name] = self._portal.call(self._sent, request)
        return self._answers[name]

    async def _sent(self, request: Request) -> Answered:
        response = await self._transport.handle_async_request(request)
        content = await response.aread()
        kept = {name: value for name, value in response.headers.items() if name != "content-length"}
        if kept.pop("content-encoding", None) is None:
            kept.pop("vary", None)
        asked = {name.lower(): value for name, value in request.headers.items()}
        return Answered(request.method, str(request.url.raw_path, "ascii"), response.status_code, kept, content, asked)


@contextmanager
def recorded(folder: Path) -> Iterator[Recorded]:
    """The recorded site, for many trials."""
    with application(folder) as app, start_blocking_portal() as portal:
        yield Recorded(app, portal)


@dataclass
class Spoilt(httpx.BaseTransport):
    """Carries requests to the recorded site: what is asked may be misheard, what is answered is spoilt."""

    site: Recorded
    corrupt: Callable[[Answered], Answered]
    misheard: Callable[[Request], Request] = lambda request: request

    def handle_request(self, request: Request) -> httpx.Response:
        honest = self.site.answered(self.misheard(request))
        given = self.corrupt(replace(honest, headers=dict(honest.headers)))
        return httpx.Response(given.status, headers=given.headers, content=given.content)


def without_wish(*names: str) -> Callable[[Request], Request]:
    """The questions by query are heard without these wishes."""

    def misheard(request: Request) -> Request:
        left = {name: value[0] for name, value in parse_qs(request.url.query.decode()).items() if name not in names}
        url = request.url.copy_with(params=left) if request.method == "GET" else request.url
        return Request(request.method, url, headers=request.headers, content=request.read())

    return misheard
