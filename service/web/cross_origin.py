"""Shop pages of other origins: which may read what the API answers. Plain ASGI, round Starlette's own CORS."""

from collections.abc import Collection

from starlette.datastructures import Headers, MutableHeaders
from starlette.middleware.cors import CORSMiddleware
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from service.web.asgi import Around

_API, _DESCRIPTION = ("/v1/", "/sandbox/v1/"), "/openapi.json"
_METHODS = ("GET", "HEAD", "POST")
_SENT = ("Content-Type", "Idempotency-Key", "If-None-Match")
_EXPOSED = (
    *("Deprecation", "ETag", "Link", "Location", "RateLimit", "RateLimit-Policy", "Retry-After", "Sunset"),
    *("X-Catalog-Revision", "X-Request-ID"),
)
_OF_CORS = "access-control-"


class CrossOrigin(Around):
    """Let pages of exactly these origins call the API, without credentials; never read the HTML pages.

    A preflight for anything else is answered as any OPTIONS is, without the headers that would allow it.
    """

    def __init__(self, app: ASGIApp, origins: Collection[str]) -> None:
        super().__init__(app)
        self._cors = CORSMiddleware(
            app, allow_origins=origins, allow_methods=_METHODS, allow_headers=_SENT, expose_headers=_EXPOSED
        )

    async def _around(self, scope: Scope, receive: Receive, send: Send) -> None:
        if not (scope["path"].startswith(_API) or scope["path"] == _DESCRIPTION):
            await self._app(scope, receive, send)
            return
        headers = Headers(scope=scope)
        if scope["method"] == "OPTIONS" and {"origin", "access-control-request-method"} <= set(headers):
            preflight = self._cors.preflight_response(headers)
            if preflight.status_code < 400:
                await preflight(scope, receive, send)
                return

        async def send_unless_a_page(message: Message) -> None:
            if message["type"] == "http.response.start":
                _settle(MutableHeaders(scope=message))
            await send(message)

        await self._cors.simple_response(scope, receive, send_unless_a_page, request_headers=headers)


def _settle(headers: MutableHeaders) -> None:
    """Take the permission from a page, which is known by its own policy, also in a 304; else let it be embedded."""
    allowed = "access-control-allow-origin" in headers and "content-security-policy" not in headers
    if allowed:
        headers["Cross-Origin-Resource-Policy"] = "cross-origin"
        return
    for name in [name for name in headers if name.startswith(_OF_CORS)]:
        del headers[name]
