"""A TCP proxy that can fall silent, cut answers short, reset and refuse: a network between service and database."""

import select
import socket
import struct
import threading
from collections.abc import Iterator
from contextlib import contextmanager, suppress

LOOPBACK = "127.0.0.1"
_TICK_S = 0.01
_RESET = struct.pack("ii", 1, 0)


class Proxy:
    """Passes bytes on between its port and a server, until it is told otherwise."""

    def __init__(self, host: str, port: int) -> None:
        self._server = (host, port)
        self._pairs: list[tuple[socket.socket, socket.socket]] = []
        self._silenced: list[tuple[socket.socket, socket.socket]] = []
        self._is_over = False
        self.is_silent = False
        self.answer_bytes: int | None = None
        """So many bytes of answers pass yet, before the proxy falls silent; None: all."""
        self._listener = socket.create_server((LOOPBACK, 0))
        self.port: int = self._listener.getsockname()[1]
        self._thread = threading.Thread(target=self._work, daemon=True)
        self._thread.start()

    def reset(self) -> None:
        """Break all connections off."""
        for pair in (*self._pairs, *self._silenced):
            for end in pair:
                with suppress(OSError):
                    end.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, _RESET)
                    end.shutdown(socket.SHUT_RDWR)
                end.close()
        self._pairs, self._silenced = [], []

    def silence_those_there_are(self) -> None:
        """Pass nothing on any more between the connections that there are; new ones are not touched."""
        self._silenced += self._pairs
        self._pairs = []

    def refuse(self) -> None:
        """Take no new connections, and break those off that there are."""
        self._listener.close()
        self.reset()

    def accept_again(self) -> None:
        """Take connections at the same port again."""
        self._listener = socket.create_server((LOOPBACK, self.port))

    def close(self) -> None:
        """End it."""
        self._is_over = True
        self._thread.join()
        self.refuse()

    def _work(self) -> None:
        while not self._is_over:
            pairs, listener = list(self._pairs), self._listener  # others may close them, or listen anew, meanwhile
            peers = {one: other for pair in pairs for one, other in (pair, pair[::-1])}
            answering = {server for _, server in pairs}
            try:
                ready, _, _ = select.select([*peers, listener], [], [], _TICK_S)
            except (OSError, ValueError):  # closed meanwhile
                threading.Event().wait(_TICK_S)
                continue
            if self.is_silent:
                threading.Event().wait(_TICK_S)
                ready = [one for one in ready if one is listener]
            for one in ready:
                with suppress(OSError):
                    if one is listener:
                        client, _ = one.accept()
                        self._pairs.append((client, socket.create_connection(self._server)))
                    else:
                        self._pass_on(one, peers[one], is_answer=one in answering)

    def _pass_on(self, one: socket.socket, other: socket.socket, *, is_answer: bool) -> None:
        taken = 65_536
        if is_answer and self.answer_bytes is not None:
            if self.answer_bytes <= 0:
                self.is_silent = True
                return
            taken = min(taken, self.answer_bytes)
        content = one.recv(taken)
        if is_answer and self.answer_bytes is not None:
            self.answer_bytes -= len(content)
        if content:
            other.sendall(content)
        else:
            self._pairs = [pair for pair in self._pairs if one not in pair]
            one.close()
            other.close()


@contextmanager
def proxy_to(host: str, port: int) -> Iterator[Proxy]:
    """Give a proxy to a server."""
    proxy = Proxy(host, port)
    try:
        yield proxy
    finally:
        proxy.close()
