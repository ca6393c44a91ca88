"""Watches over requests: how long each took and what came of it goes to the metrics and to the log. Plain ASGI."""

from collections.abc import Callable
from time import perf_counter

from starlette.types import ASGIApp, Receive, Scope, Send

from service.web.asgi import Around
from service.web.metrics import Templates, count_request
from service.web.middleware import STATUS

_LEFT = 499
"""As which a request is counted whose client left before there was an answer; no answer has it."""

Tell = Callable[[Scope, str, int, float], None]
"""Is told of each request: its scope, the template of its path, its status, and how long it took [s]."""


class Watch(Around):
    """Counts every request, and tells of it; the outermost of all."""

    def __init__(self, app: ASGIApp, templates: Templates, tell: Tell | None = None) -> None:
        super().__init__(app)
        self._templates = templates
        self._tell = tell

    async def _around(self, scope: Scope, receive: Receive, send: Send) -> None:
        begun_s = perf_counter()
        state = scope.setdefault("state", {})
        try:
            await self._app(scope, receive, send)
        finally:
            took_s = perf_counter() - begun_s
            method, status = scope["method"], state.get(STATUS, _LEFT)
            template = self._templates.of(method, scope["path"])
            count_request(method, template, status, took_s, state)
            if self._tell is not None:
                self._tell(scope, template, status, took_s)
