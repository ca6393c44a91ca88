"""What probes ask again and again, whether the service is well, is told again while it is fresh. Plain ASGI."""

from dataclasses import dataclass
from time import monotonic

from starlette.types import ASGIApp, Message, Receive, Scope, Send

from service.web.asgi import Around

_FOLDER = "/v1/health"
_FRESH_S = 0.1
_LOOKED_AT_S = 1.0
"""So old may be what is told while another probe finds out anew."""
_OK = 200


@dataclass(frozen=True, slots=True)
class _Told:
    """The messages of an answer that all is well, and when it was asked for."""

    at: float
    messages: tuple[Message, ...]


class Probes(Around):
    """Answers plain questions about health; what is not well is looked at anew each time, and told as it is."""

    def __init__(self, app: ASGIApp) -> None:
        super().__init__(app)
        self._told: dict[str, _Told] = {}
        self._looking: set[str] = set()

    async def _around(self, scope: Scope, receive: Receive, send: Send) -> None:
        path = scope["path"]
        if scope["method"] != "GET" or not path.startswith(_FOLDER) or scope["query_string"]:
            await self._app(scope, receive, send)
            return
        told = self._told.get(path)
        if told is not None and monotonic() - told.at < (_LOOKED_AT_S if path in self._looking else _FRESH_S):
            for message in told.messages:
                await send(message)
            return
        self._looking.add(path)
        try:
            await self._look(scope, receive, send)
        finally:
            self._looking.discard(path)

    async def _look(self, scope: Scope, receive: Receive, send: Send) -> None:
        begun = monotonic()
        messages: list[Message] = []

        async def send_and_keep(message: Message) -> None:
            messages.append(message)
            await send(message)

        await self._app(scope, receive, send_and_keep)
        if messages and messages[0].get("status") == _OK:
            self._told[scope["path"]] = _Told(begun, tuple(messages))
        else:
            self._told.pop(scope["path"], None)
