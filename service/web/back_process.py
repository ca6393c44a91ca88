"""The back process itself: the same application on a socket of its own, niced, and started anew when it dies."""

import logging
import os
import signal
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from multiprocessing import get_context
from multiprocessing.connection import wait
from multiprocessing.context import SpawnProcess
from pathlib import Path
from threading import Event, Thread
from time import monotonic
from typing import Any

import uvicorn
from starlette.types import Message, Receive, Scope, Send

from service.web.access import heard, set_caller
from service.web.asgi import Around
from service.web.back import CALLER, COST, OUTCOME, VISITOR, outcome
from service.web.conduct import account_of
from service.web.process import EVENT_LOOP

SOCKET = "PORTWRIGHT_BACK_SOCKET"
"""The variable that tells the processes in front where the back process listens; `serve` sets it for its own."""

_APP = "service.web.serving:back_app_from_environment"
_KEPT_OPEN_S = 24 * 3600
"""The process in front closes what it needs no more; were it closed here, a request might just be on its way."""
_STOP_WITHIN_S = 30
_SOON_S = 10.0
_LONGEST_PAUSE_S = 30.0

_log = logging.getLogger("uvicorn.error")


class FromFront(Around):
    """Takes requests as the process in front hands them on, and tells it what they cost. Plain ASGI."""

    async def _around(self, scope: Scope, receive: Receive, send: Send) -> None:
        caller = next((value for name, value in scope["headers"] if name == CALLER), None)
        if caller is not None:
            set_caller(scope, heard(caller))
        told = next((value for name, value in scope["headers"] if name == VISITOR), b"")
        host, _, port = told.decode("latin-1").rpartition(" ")
        scope["client"] = (host, int(port)) if host else None
        scope["headers"] = [header for header in scope["headers"] if header[0] not in (VISITOR, CALLER)]

        async def send_with_cost(message: Message) -> None:
            if message["type"] == "http.response.start":
                cost = b"%.6f" % account_of(scope).now_s
                message = {**message, "headers": [*message["headers"], (COST, cost), (OUTCOME, outcome(scope))]}
            await send(message)

        await self._app(scope, receive, send_with_cost)


@contextmanager
def worked_behind(folder: Path | None, logging_config: dict[str, Any]) -> Iterator[None]:
    """Have a back process during the block, its socket in this folder; without where the system has no such sockets."""
    if sys.platform == "win32" or folder is None:
        yield
        return
    watched = _Watched(str(folder / "back"), logging_config)
    os.environ[SOCKET] = watched.socket
    before = signal.getsignal(signal.SIGTERM)

    def end_at_signal(number: int, _: object) -> None:
        """End it, then do what the signal would have done."""
        watched.end()
        signal.signal(number, before)
        signal.raise_signal(number)

    signal.signal(signal.SIGTERM, end_at_signal)
    try:
        watched.start()
        yield
    finally:
        signal.signal(signal.SIGTERM, before)
        os.environ.pop(SOCKET, None)
        watched.end()


class _Watched:
    """The back process and the thread that starts it, anew when it ended."""

    def __init__(self, socket: str, logging_config: dict[str, Any]) -> None:
        self.socket = socket
        self._logging_config = logging_config
        self._is_over = Event()
        self._process: SpawnProcess | None = None
        self._thread = Thread(target=self._watch, name="watches-back", daemon=True)

    def start(self) -> None:
        self._thread.start()

    def end(self) -> None:
        """Have it end, with what it has begun."""
        self._is_over.set()
        process = self._process
        if process is not None and process.is_alive():
            process.terminate()
            process.join(_STOP_WITHIN_S)
            process.kill()

    def _watch(self) -> None:
        pause_s = 0.0
        while not self._is_over.wait(pause_s):
            begun = monotonic()
            # No daemon: it may need processes of its own. It ends with this one all the same.
            process = get_context("spawn").Process(target=_work, args=(self.socket, self._logging_config))
            process.start()
            self._process = process
            if self._is_over.is_set():
                process.terminate()
            wait([process.sentinel])
            process.join()
            if not self._is_over.is_set():
                _log.error("the back process ended (%s): a new one is started", process.exitcode)
            is_sound = monotonic() - begun > _SOON_S
            pause_s = 0.0 if is_sound else min(max(2 * pause_s, 0.5), _LONGEST_PAUSE_S)


def _work(socket: str, logging_config: dict[str, Any]) -> None:
    """Be the back process.

    In a group of its own: who is told to stop at the terminal is the one in front. Not in a session of its own: Linux
    shares out processors among sessions first, so that being nice would mean nothing to the one in front.
    """
    os.setpgid(0, 0)
    os.environ.pop(SOCKET, None)
    uvicorn.run(
        _APP,
        factory=True,
        uds=socket,
        http="httptools",
        loop=EVENT_LOOP,
        ws="none",
        log_config=logging_config,
        log_level="warning",
        access_log=False,
        server_header=False,
        date_header=False,
        proxy_headers=False,
        timeout_keep_alive=_KEPT_OPEN_S,
        timeout_graceful_shutdown=_STOP_WITHIN_S,
    )
