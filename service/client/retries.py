"""When to try a call again, and after how long: pure, so that both clients share it."""

import math
import random
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import UTC, datetime
from email.utils import parsedate_to_datetime

_RETRIED = frozenset({429, 503})
_MOST_DIGITS = 15


def _now() -> datetime:
    return datetime.now(UTC)


@dataclass(frozen=True)
class Retries:
    """At most `most` tries beyond the first, each after at most `longest_wait_s`.

    Where the service asks for a longer wait nothing is tried again. Where it asks for none, the wait doubles from
    `first_wait_s`, and chance takes up to a half of it, so that many callers do not come back at once.
    """

    most: int = 3
    first_wait_s: float = 0.25
    longest_wait_s: float = 10.0
    now: Callable[[], datetime] = _now
    chance: Callable[[], float] = field(default=random.random)

    def wait_s(self, tried: int, *, status: int | None, retry_after: str | None) -> float | None:
        """How long to wait after `tried` tries of a call that may be repeated; None: do not try again.

        `status` and the header Retry-After are those of the last answer, None where none came.
        """
        if tried > self.most or not (status is None or status in _RETRIED):
            return None
        asked_s = asked_wait_s(retry_after, self.now())
        if asked_s is not None:
            return asked_s if asked_s <= self.longest_wait_s else None
        wait_s = min(self.first_wait_s * 2.0 ** (tried - 1), self.longest_wait_s)
        return wait_s * (1 - self.chance() / 2)


NO_RETRIES = Retries(most=0)


def asked_wait_s(retry_after: str | None, now: datetime) -> float | None:
    """The seconds that a header Retry-After asks for, told as seconds or as HTTP date; None where it tells neither."""
    text = (retry_after or "").strip()
    if text.isascii() and text.isdecimal():
        return float(text) if len(text) <= _MOST_DIGITS else math.inf
    try:
        until = parsedate_to_datetime(text)
    except ValueError:
        return None
    if until.tzinfo is None:  # the zone -0000: UTC without more
        until = until.replace(tzinfo=UTC)
    return max(0.0, (until - now).total_seconds())
