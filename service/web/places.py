"""Places for connections: so many at once, so many of one client, and who gives way when all are taken.

Whoever keeps the server waiting gives way, the one that does so for the longest first: so a thousand connections that
are opened and left half said take the places of one another, not those of questions that are being answered.
"""

import logging
import time
from collections.abc import Iterable
from typing import Protocol

_log = logging.getLogger(__name__)
_TOLD_EVERY_S = 60.0


class Guest(Protocol):
    """A connection that holds a place."""

    @property
    def client_host(self) -> str:
        """The address of the client, without a port."""

    def waits_since(self) -> float | None:
        """Since when (monotonic, in s) the server has been waiting for this client; None while it works for it."""

    def give_way(self) -> None:
        """Close now; the place is free at once."""


class Places:
    """The places of one process."""

    def __init__(self, most: int, most_a_client: int) -> None:
        self._most = most
        self._most_a_client = most_a_client
        self._taken: dict[str, dict[Guest, None]] = {}
        self._count = 0
        self._told_s = 0.0

    def take(self, guest: Guest) -> bool:
        """Take a place, if need be that of another one; False where all who hold one are being worked for."""
        own = self._taken.get(guest.client_host, {})
        is_free = len(own) < self._most_a_client or self._clear_one_of(own)
        if not is_free or not (self._count < self._most or self._clear_one_of(self._all())):
            return False
        self._taken.setdefault(guest.client_host, {})[guest] = None
        self._count += 1
        return True

    def leave(self, guest: Guest) -> None:
        """Give the place back, if there is one."""
        own = self._taken.get(guest.client_host, {})
        if guest in own:
            del own[guest]
            self._count -= 1
            if not own:
                del self._taken[guest.client_host]

    def _all(self) -> Iterable[Guest]:
        return (guest for own in self._taken.values() for guest in own)

    def _clear_one_of(self, guests: Iterable[Guest]) -> bool:
        waiting = [(since, id(guest), guest) for guest in guests if (since := guest.waits_since()) is not None]
        if not waiting:
            return False
        _, _, longest = min(waiting)
        self.leave(longest)
        longest.give_way()
        self._tell()
        return True

    def _tell(self) -> None:
        """Log that places are short, at most once a minute: an attack must not fill the disk."""
        if time.monotonic() - self._told_s > _TOLD_EVERY_S:
            self._told_s = time.monotonic()
            _log.warning("all places for connections are taken: those that keep us waiting give way")
