"""How often somebody may ask: counted by key or by address in windows of a minute, and told with every answer.

The fields `RateLimit-Policy` and `RateLimit` are those of draft-ietf-httpapi-ratelimit-headers-10: a policy by its name
with its quota `q` in a window of `w` seconds, and what remains of it, `r`, until it begins anew in `t` seconds.
"""

import logging
from collections import OrderedDict
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from math import ceil
from time import monotonic, time
from typing import Protocol

from limits import RateLimitItemPerMinute
from limits.aio.storage import RedisStorage
from limits.aio.storage.redis.redispy import RedispyBridge
from limits.aio.strategies import FixedWindowRateLimiter
from limits.errors import StorageError

from service.access.allowances import A_MINUTE, NO_LIMIT

_WINDOW_S = 60
_ANSWERS_WITHIN_S = 0.25
_TRIED_AGAIN_S = 5.0

_log = logging.getLogger(__name__)


@dataclass(slots=True)  # frozen takes three times as long to make, and there is one for each answer
class Quota:
    """What is left of a policy to somebody: requests, until it begins anew [s]."""

    policy: str
    most: int
    left: int
    anew_s: int
    is_over: bool

    def fields(self) -> list[tuple[str, str]]:
        """How it is told, as the fields of an answer."""
        return [("RateLimit-Policy", self._policy()), ("RateLimit", self._rest())]

    def headers(self) -> list[tuple[bytes, bytes]]:
        """The same, as a server sends it."""
        return [(b"ratelimit-policy", self._policy().encode()), (b"ratelimit", self._rest().encode())]

    def _policy(self) -> str:
        return f'"{self.policy}";q={self.most};w={_WINDOW_S}'

    def _rest(self) -> str:
        return f'"{self.policy}";r={self.left};t={self.anew_s}'


class Counts(Protocol):
    """Counts requests; `add` False only looks. Whether one more is within the limit, how many are left then, and in how
    many seconds it begins anew."""

    async def count(self, limit: RateLimitItemPerMinute, who: str, *, add: bool) -> tuple[bool, int, float]: ...
    async def close(self) -> None: ...


class Here:
    """Counts in the memory of this process, by a clock that nobody sets. For one event loop."""

    def __init__(self, clock_s: Callable[[], float] = monotonic) -> None:
        self._clock_s = clock_s
        self._windows: OrderedDict[str, tuple[float, int]] = OrderedDict()  # in the order in which they end

    async def count(self, limit: RateLimitItemPerMinute, who: str, *, add: bool) -> tuple[bool, int, float]:
        now_s = self._clock_s()
        window = self._windows.get(who)
        if window is None or window[0] <= now_s:
            self._forget(now_s)
            window = now_s + _WINDOW_S, 0
        ends_s, counted = window
        if add:
            self._windows[who] = ends_s, counted + 1
        return counted < limit.amount, max(limit.amount - counted - add, 0), ends_s - now_s

    def _forget(self, now_s: float) -> None:
        """Forget all windows that have ended."""
        while self._windows:
            who, window = self._windows.popitem(last=False)
            if window[0] > now_s:
                self._windows[who] = window
                self._windows.move_to_end(who, last=False)
                return

    async def close(self) -> None:
        """Nothing is open."""


class Shared:
    """Counts in a Redis for several processes; in this one's memory while that does not answer."""

    def __init__(self, url: str) -> None:
        self._storage = RedisStorage(
            f"async+{url}",
            wrap_exceptions=True,
            implementation="redispy",
            socket_timeout=_ANSWERS_WITHIN_S,
            socket_connect_timeout=_ANSWERS_WITHIN_S,
        )
        self._limiter = FixedWindowRateLimiter(self._storage)
        self._here = Here()
        self._gone_until = 0.0

    async def count(self, limit: RateLimitItemPerMinute, who: str, *, add: bool) -> tuple[bool, int, float]:
        if monotonic() >= self._gone_until:
            try:
                is_within = await (self._limiter.hit if add else self._limiter.test)(limit, who)
                window = await self._limiter.get_window_stats(limit, who)
                return is_within, window.remaining, window.reset_time - time()
            except StorageError as error:
                self._gone_until = monotonic() + _TRIED_AGAIN_S
                _log.warning("the store of the limits does not answer, so each process counts alone: %s", error)
        return await self._here.count(limit, who, add=add)

    async def close(self) -> None:
        """Close the connections."""
        bridge = self._storage.bridge
        if isinstance(bridge, RedispyBridge):
            await _close(bridge.get_connection())


async def _close(client: object) -> None:
    from redis.asyncio import Redis  # of an extra

    if isinstance(client, Redis):
        await client.aclose()


class RateLimits:
    """Counts who asks how often. `a_minute`: how often each policy allows; 0: as often as it is."""

    def __init__(self, a_minute: Mapping[str, int] = A_MINUTE, url: str | None = None) -> None:
        allowed = {**A_MINUTE, **a_minute}
        self._limits = {name: RateLimitItemPerMinute(most) for name, most in allowed.items() if most != NO_LIMIT}
        self._counts: Counts = Here() if url is None else Shared(url)

    async def count(self, policy: str, who: str) -> Quota | None:
        """Count one request; what is left, None where nothing is limited."""
        return await self._quota(policy, who, add=True)

    async def look(self, policy: str, who: str) -> Quota | None:
        """What is left, without counting anything."""
        return await self._quota(policy, who, add=False)

    async def close(self) -> None:
        """Let go of what is counted elsewhere."""
        await self._counts.close()

    async def _quota(self, policy: str, who: str, *, add: bool) -> Quota | None:
        limit = self._limits.get(policy)
        if limit is None:
            return None
        is_within, left, anew_s = await self._counts.count(limit, f"{policy} {who}", add=add)
        return Quota(policy, limit.amount, left, min(max(ceil(anew_s), 1), _WINDOW_S), not is_within)
