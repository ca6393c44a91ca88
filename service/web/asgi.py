"""The shape of what goes round every request: plain ASGI, which costs a request little."""

from starlette.types import ASGIApp, Receive, Scope, Send


class Around:
    """Goes round the requests of an application; whatever else a server tells it is passed on."""

    def __init__(self, app: ASGIApp) -> None:
        self._app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        await (self._around if scope["type"] == "http" else self._app)(scope, receive, send)

    async def _around(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer a request, mostly by the application."""
        raise NotImplementedError
