"""A client for load, as light as can be: sockets, one thread, one request on a connection at a time."""

import select
import socket
from collections import deque
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from time import perf_counter, process_time
from urllib.parse import urlsplit

_PATIENCE_S = 20.0
_LOOK_EVERY_S = 0.1
_NO_CONTENT = (204, 304)


@dataclass
class Load:
    """What came of a load: how many answers of which status, and how long each took."""

    seconds: float = 0.0
    own_s: float = 0.0
    """What the client itself took of a processor [s]."""
    took_s: list[float] = field(default_factory=list)
    sizes_bytes: list[int] = field(default_factory=list)
    statuses: dict[int, int] = field(default_factory=dict)

    @property
    def rate(self) -> float:
        """Answers a second."""
        return len(self.took_s) / self.seconds

    def at(self, share: float) -> float:
        """The time [s] within which this share of the answers came."""
        found = sorted(self.took_s)
        return found[min(int(len(found) * share), len(found) - 1)]

    def count(self, status: int, size_bytes: int, took_s: float) -> None:
        """Add an answer."""
        self.statuses[status] = self.statuses.get(status, 0) + 1
        self.sizes_bytes.append(size_bytes)
        self.took_s.append(took_s)


class Connection:
    """A kept connection: sends a request, takes in its answer."""

    def __init__(self, url: str) -> None:
        address = urlsplit(url)
        self.socket = socket.create_connection((address.hostname, address.port), timeout=_PATIENCE_S)
        self.socket.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
        self.begun_s = 0.0
        self._came = b""
        self._whole_bytes: int | None = None
        self._status = 0

    def send(self, request: bytes, begun_s: float | None = None) -> None:
        """Send a request; `begun_s`: when it ought to have gone out, if that was before."""
        self.begun_s = perf_counter() if begun_s is None else begun_s
        self._came, self._whole_bytes = b"", None
        self.socket.sendall(request)

    def take(self) -> tuple[int, bytes] | None:
        """Take in what is there; status and content once the answer is whole."""
        came = self.socket.recv(1 << 18)
        if not came:
            raise ConnectionError("the server closed the connection before its answer")
        self._came = self._came + came if self._came else came
        if self._whole_bytes is None and not self._read_head():
            return None
        head_bytes = self._came.index(b"\r\n\r\n") + 4
        if self._whole_bytes is None:  # in chunks
            return (self._status, self._came[head_bytes:]) if self._came.endswith(b"\r\n0\r\n\r\n") else None
        if len(self._came) < head_bytes + self._whole_bytes:
            return None
        return self._status, self._came[head_bytes:]

    def ask(self, request: bytes) -> tuple[int, bytes]:
        """Send a request and wait for its answer, the head included."""
        self.send(request)
        while (answer := self.take()) is None:
            pass
        return answer

    def whole(self) -> bytes:
        """The last answer, as it came."""
        return self._came

    def head(self) -> str:
        """The head of the last answer, in small letters."""
        return self._came.partition(b"\r\n\r\n")[0].decode("latin-1").lower()

    def _read_head(self) -> bool:
        """Read status and length once they are there; an answer in chunks has no length."""
        head, end, _ = self._came.partition(b"\r\n\r\n")
        if not end:
            return False
        self._status = int(head[9:12])
        _, _, length = head.lower().partition(b"content-length: ")
        if self._status in _NO_CONTENT:
            self._whole_bytes = 0
        elif length:
            self._whole_bytes = int(length.partition(b"\r\n")[0])
        return True


def request(url: str, method: str, target: str, body: bytes = b"", **headers: str) -> bytes:
    """The bytes of a request; `headers` by name, with underscores for hyphens."""
    lines = [f"{method} {target} HTTP/1.1", f"Host: {urlsplit(url).netloc}"]
    if method == "POST":
        lines += ["Content-Type: application/json", f"Content-Length: {len(body)}"]
    lines += [f"{name.replace('_', '-')}: {value}" for name, value in headers.items()]
    return "\r\n".join([*lines, "", ""]).encode() + body


def flood(url: str, requests: Iterator[bytes], seconds: float, connections: int) -> Load:
    """Ask one thing after the other on each connection, for so long."""
    load = Load()
    lines = {line.socket.fileno(): line for line in (Connection(url) for _ in range(connections))}
    poll = select.epoll()
    begun_s, own_s = perf_counter(), process_time()
    for number, line in lines.items():
        poll.register(number, select.EPOLLIN)
        line.send(next(requests))
    until = begun_s + seconds
    waiting = len(lines)
    while waiting:
        for number, _ in poll.poll(_PATIENCE_S):
            line = lines[number]
            if (answer := line.take()) is None:
                continue
            now = perf_counter()
            load.count(answer[0], len(answer[1]), now - line.begun_s)
            following = next(requests, None) if now < until else None
            if following is None:
                waiting -= 1
            else:
                line.send(following)
    load.seconds, load.own_s = perf_counter() - begun_s, process_time() - own_s
    _close(lines, poll)
    return load


def steady(url: str, requests: Iterator[bytes], rate: float, connections: int, goes_on: Callable[[], bool]) -> Load:
    """Ask so many things a second, whatever has been answered; each is timed from when it ought to have gone out."""
    load = Load()
    lines = {line.socket.fileno(): line for line in (Connection(url) for _ in range(connections))}
    poll = select.epoll()
    for number in lines:
        poll.register(number, select.EPOLLIN)
    free = deque(lines.values())
    begun_s, own_s = perf_counter(), process_time()
    due = begun_s
    while (is_on := goes_on()) or len(free) < len(lines):
        while is_on and free and due <= perf_counter():
            free.popleft().send(next(requests), due)
            due += 1 / rate
        wait_s = max(due - perf_counter(), 0.0) if is_on and free else _LOOK_EVERY_S
        for number, _ in poll.poll(wait_s):
            line = lines[number]
            if (answer := line.take()) is not None:
                load.count(answer[0], len(answer[1]), perf_counter() - line.begun_s)
                free.append(line)
    load.seconds, load.own_s = perf_counter() - begun_s, process_time() - own_s
    _close(lines, poll)
    return load


def _close(lines: dict[int, Connection], poll: "select.epoll") -> None:
    poll.close()
    for line in lines.values():
        line.socket.close()
