"""A proxy of HTTP before several replicas: each request goes to the next one that takes it, by a connection of its own.

Where a replica takes no connection the next one is asked. A request that was sent is not sent again: where its replica
ends without an answer, the client is told 502.
"""

import threading
from collections.abc import Iterator
from contextlib import closing, contextmanager, suppress
from dataclasses import dataclass
from itertools import count
from socketserver import BaseRequestHandler, ThreadingTCPServer
from time import perf_counter

from tests.bench.client import Connection

BAD_GATEWAY = 502
_LOST = b"HTTP/1.1 502 Bad Gateway\r\ncontent-length: 0\r\n\r\n"


@dataclass(frozen=True)
class Lost:
    """A request without an answer: the replica that had it, when it was sent, and when that was known [s]."""

    url: str
    begun_s: float
    ended_s: float


class Balancer(ThreadingTCPServer):
    """The proxy at `url`. `replicas`: where they are; may be changed at any time. `lost`: what came to nothing."""

    daemon_threads = True
    allow_reuse_address = True
    request_queue_size = 64

    def __init__(self, replicas: list[str]) -> None:
        super().__init__(("127.0.0.1", 0), _Handler)
        self.url = f"http://127.0.0.1:{self.server_address[1]}"
        self.replicas = replicas
        self.lost: list[Lost] = []
        self._turns = count()

    def answer(self, request: bytes) -> bytes:
        """The whole answer to a request."""
        url, connection = self._connected()
        begun_s = perf_counter()
        with closing(connection.socket):
            try:
                connection.ask(request)
            except OSError:
                self.lost.append(Lost(url, begun_s, perf_counter()))
                return _LOST
        return connection.whole()

    def _connected(self) -> tuple[str, Connection]:
        while True:
            replicas = self.replicas
            url = replicas[next(self._turns) % len(replicas)]
            try:
                return url, Connection(url)
            except ConnectionRefusedError:
                continue


class _Handler(BaseRequestHandler):
    """A client, one request after the other."""

    server: Balancer

    def handle(self) -> None:
        with suppress(ConnectionError):  # the client has left
            while request := self._next():
                self.request.sendall(self.server.answer(request))

    def _next(self) -> bytes:
        came = b""
        while b"\r\n\r\n" not in came:
            more = self.request.recv(65_536)
            if not more:
                return b""
            came += more
        head, _, body = came.partition(b"\r\n\r\n")
        _, _, length = head.lower().partition(b"content-length: ")
        left = (int(length.partition(b"\r\n")[0]) if length else 0) - len(body)
        while left > 0:
            more = self.request.recv(left)
            came, left = came + more, left - len(more)
        return came


@contextmanager
def balanced(replicas: list[str]) -> Iterator[Balancer]:
    """Have a proxy before these replicas."""
    with Balancer(replicas) as balancer:
        thread = threading.Thread(target=balancer.serve_forever, args=(0.05,), daemon=True)
        thread.start()
        try:
            yield balancer
        finally:
            balancer.shutdown()
            thread.join()
