"""How a process stops: it says that it is not ready, goes on for a moment, then ends what is under way."""

import asyncio
import logging
import signal
from collections.abc import Iterator
from contextlib import contextmanager
from threading import current_thread, main_thread
from types import FrameType

_log = logging.getLogger("uvicorn.error")


class Stopping:
    """Whether this process has been told to stop. `pause_s`: so long it still takes what comes, and is not ready."""

    def __init__(self, pause_s: float = 0.0) -> None:
        self._pause_s = pause_s
        self.has_begun = False

    @contextmanager
    def noticed(self) -> Iterator[None]:
        """Put the pause before what SIGTERM does; told a second time, the process does not wait. In the event loop."""
        if current_thread() is not main_thread():
            yield  # only there are signals handled: whoever runs it elsewhere ends it by other means
            return
        loop, before = asyncio.get_running_loop(), signal.getsignal(signal.SIGTERM)

        def stop(number: int, frame: FrameType | None) -> None:
            is_again, self.has_begun = self.has_begun, True
            if not callable(before):
                return
            if is_again or not self._pause_s:
                before(number, frame)
                return
            _log.info("told to stop: not ready from now on, and takes nothing more in %g s", self._pause_s)
            loop.call_soon_threadsafe(loop.call_later, self._pause_s, before, number, None)

        signal.signal(signal.SIGTERM, stop)
        try:
            yield
        finally:
            signal.signal(signal.SIGTERM, before)
