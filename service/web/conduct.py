"""How connections have behaved of late: what their requests cost, and who waits when there is a crowd. Plain ASGI.

Nobody can see from a request what it costs, but who asked much a moment ago will ask much again. So each connection has
an account. It matters only in a crowd: whoever asked little goes first, and whoever was refused rests for a moment
before the next request is read, so that refusals cost next to nothing.
"""

import math
from collections import OrderedDict
from collections.abc import Callable, Mapping
from time import monotonic

from starlette.types import ASGIApp, Message, Receive, Scope, Send

from service.web.asgi import Around

CROWD = 24
"""With so many requests at once there is a crowd."""
_NEWCOMER_S = 0.004
_COSTLY_S = 0.006
_WEIGHT = 0.1
"""What the last request counts for, beside all before it."""
_FIRST_WEIGHT = 0.5
_HALF_LIFE_S = 5.0
_REFUSED_S = 0.03
"""What a refusal is put down as: one is a slip, two in a row are costly."""
_REST_S = 0.5
_DOUBLED = 3
"""Each refusal in a row makes the rest twice as long, so many times: 4 s."""
_LIGHT_S = 0.001
_RESTS = 40
"""In a crowd, who had more of the processor than a light question takes rests for so many times that."""
_TOLD_TO_REST_S = 1.0
"""Whoever is told to come again in a second is not read before."""
_READ_A_SECOND_BYTES = 1024 * 1024
_LONGEST_REST_S = 2.0
"""What was refused before it was read is not read at once either, so that large files are not sent again and again."""
_MOST_DIGITS = 15
_KEPT_ACCOUNTS = 4096
_REFUSALS = range(400, 500)
_COME_AGAIN = (503, 507)
_ACCOUNT, _REST = "account", "rest_s"


class Account:
    """What a request of a connection usually costs [s of processor time]; of a newcomer, something in between."""

    __slots__ = ("_at", "_is_known", "_usual_s", "now_s", "refused_in_row")

    def __init__(self) -> None:
        self._usual_s = _NEWCOMER_S
        self.now_s = 0.0
        self.refused_in_row = 0
        self._at = monotonic()
        self._is_known = False

    def usual_s(self) -> float:
        """The usual cost, with that of the request which is answered now; what was much is forgotten after a while."""
        excess_s = max(self._usual_s - _NEWCOMER_S, 0.0) * (1 - math.exp2((self._at - monotonic()) / _HALF_LIFE_S))
        return self._usual_s - excess_s + self.now_s

    @property
    def is_costly(self) -> bool:
        """Whether it asks more than most do."""
        return self.usual_s() > _COSTLY_S

    def put_down(self, refusal_s: float) -> None:
        """Count the request that is answered now as one that took at least this."""
        self.now_s = max(self.now_s, refusal_s)

    def add(self, seconds: float) -> None:
        """Count what the request that is answered now has taken."""
        self.now_s += seconds

    def end_request(self) -> None:
        """Count the request that was answered among those before."""
        cost_s, self.now_s = self.now_s, 0.0
        before_s = self.usual_s()
        weight = _WEIGHT if self._is_known else _FIRST_WEIGHT
        self._usual_s, self._at, self._is_known = before_s + weight * (cost_s - before_s), monotonic(), True


def account_of(scope: Scope) -> Account:
    """The account of the connection of a request; where none is kept, a new one."""
    kept = scope.get("state", {}).get(_ACCOUNT)
    return kept if isinstance(kept, Account) else Account()


def rest_of(scope: Mapping[str, object]) -> float:
    """How long [s] its connection rests after the answer to a request."""
    state = scope.get("state")
    return float(state.get(_REST, 0.0)) if isinstance(state, dict) else 0.0


def _nothing() -> None:
    """Tell nobody."""


class Crowd:
    """How many requests are being answered at once. `entered`, `left` are told of each."""

    def __init__(self, entered: Callable[[], None] = _nothing, left: Callable[[], None] = _nothing) -> None:
        self.count = 0
        self._entered = entered
        self._left = left

    def enter(self) -> None:
        """Count one more."""
        self.count += 1
        self._entered()

    def leave(self) -> None:
        """Count one less."""
        self.count -= 1
        self._left()

    @property
    def is_there(self) -> bool:
        """Whether they are many."""
        return self.count >= CROWD


def _declared_bytes(scope: Scope) -> int:
    told = next((value for name, value in scope["headers"] if name == b"content-length"), b"")
    return int(told) if told.isdigit() and len(told) <= _MOST_DIGITS else 0


class Conduct(Around):
    """Keeps the accounts of connections, and has who was refused rest while there is a crowd."""

    def __init__(self, app: ASGIApp, crowd: Crowd) -> None:
        super().__init__(app)
        self._crowd = crowd
        self._accounts: OrderedDict[object, Account] = OrderedDict()

    async def _around(self, scope: Scope, receive: Receive, send: Send) -> None:
        account = self._account(scope.get("client"))
        state = scope.setdefault("state", {})
        state[_ACCOUNT] = account

        async def watched_send(message: Message) -> None:
            if message["type"] == "http.response.start":
                state[_REST] = self._rest_s(account, message["status"], scope)
            await send(message)

        self._crowd.enter()
        try:
            await self._app(scope, receive, watched_send)
        finally:
            self._crowd.leave()
            account.end_request()

    def _rest_s(self, account: Account, status: int, scope: Scope) -> float:
        is_refused = status in _REFUSALS or status in _COME_AGAIN
        account.refused_in_row = account.refused_in_row + 1 if is_refused else 0
        if is_refused:
            account.put_down(_REFUSED_S)
        if not self._crowd.is_there:
            return 0.0
        if status in _COME_AGAIN:
            return _TOLD_TO_REST_S + min(_declared_bytes(scope) / _READ_A_SECOND_BYTES, _LONGEST_REST_S)
        if is_refused and account.is_costly:
            return _REST_S * (1 << min(max(account.refused_in_row - 2, 0), _DOUBLED))
        return 0.0 if is_refused else min(_RESTS * max(account.now_s - _LIGHT_S, 0.0), _REST_S)

    def _account(self, connection: object) -> Account:
        """Give the account of a connection, which is told by its client's address and port."""
        if connection is None:
            return Account()
        account = self._accounts.setdefault(connection, Account())
        self._accounts.move_to_end(connection)
        if len(self._accounts) > _KEPT_ACCOUNTS:
            self._accounts.popitem(last=False)
        return account
