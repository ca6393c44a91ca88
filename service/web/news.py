"""Sending what waits in the outbox: at least once, to the very address that was checked, and not for ever."""

import asyncio
import logging
import socket
import ssl
from collections.abc import Awaitable, Callable
from datetime import UTC, datetime, timedelta
from functools import partial
from urllib.parse import urlsplit

import httpx

from service.access.signing import signatures
from service.storage.errors import StorageError
from service.storage.outbox import DELIVERED, GIVEN_UP, OutboxStore, StoredMessage, StoredWebhook
from service.usecases.webhooks import address_fault, is_public_address
from service.web.errors import OverloadedError
from service.web.lanes import Lanes
from service.web.turns import Rank

PAUSES_S = (5, 300, 1_800, 7_200, 18_000, 36_000, 50_400, 72_000, 86_400)
"""After so many seconds a message is tried again: the pauses that Standard Webhooks gives, three days and more."""
LEASE_S = 60.0
"""So long a message is one worker's alone: longer than any try takes."""
PATIENCE_S = 15.0
"""So long a whole try may take, the look for the address included."""
EVERY_S = 1.0
_AT_ONCE = 10
_PORTS = {"http": 80, "https": 443}
_OK, _TOO_FAR, _GONE = 200, 300, 410

_log = logging.getLogger(__name__)
Resolve = Callable[[str, int], Awaitable[list[str]]]


def _utc_now() -> datetime:
    return datetime.now(UTC)


class UnreachableError(Exception):
    """An address that news may not be sent to, or that there is not."""


async def resolved(host: str, port: int) -> list[str]:
    """The addresses of a host. Raises OSError."""
    found = await asyncio.get_running_loop().getaddrinfo(host, port, type=socket.SOCK_STREAM)
    return list(dict.fromkeys(str(address[0]) for *_, address in found))


class Sender:
    """Sends messages from an outbox. `to_private`: whether hosts may be on this machine or in its own network; `trust`:
    whose certificates are taken, None: those that the public trusts."""

    def __init__(
        self,
        store: OutboxStore,
        *,
        to_private: bool = False,
        patience_s: float = PATIENCE_S,
        resolve: Resolve = resolved,
        trust: ssl.SSLContext | None = None,
        now: Callable[[], datetime] = _utc_now,
    ) -> None:
        self._store = store
        self._to_private = to_private
        self._patience_s = patience_s
        self._resolve = resolve
        self._verify = trust or True
        self._now = now

    async def send_due(self, lanes: Lanes) -> int:
        """Send what is due, a few at once, and note what became of each; how many there were.

        Raises StorageError, OverloadedError; what was taken is then sent again when its lease is over.
        """
        if not await lanes.look(partial(self._store.is_due, self._now())):
            return 0
        take = partial(self._store.take, self._now(), LEASE_S, _AT_ONCE)
        taken = await lanes.writes.run(take, rank=Rank.BATCH)
        outcomes = await asyncio.gather(*(self._tried(*one) for one in taken))
        for (message, _), outcome in zip(taken, outcomes, strict=True):
            settle = partial(self._store.settle, message.number, *self._next(message, outcome))
            await lanes.writes.run(settle, rank=Rank.BATCH)
        return len(taken)

    def _next(self, message: StoredMessage, outcome: str) -> tuple[str, datetime | None]:
        if outcome == DELIVERED:
            return outcome, None
        if message.tries >= len(PAUSES_S) or outcome == f"status {_GONE}":
            return f"{GIVEN_UP}: {outcome}", None
        return outcome, self._now() + timedelta(seconds=PAUSES_S[message.tries])

    async def _tried(self, message: StoredMessage, to: StoredWebhook) -> str:
        """Send a message once; what it came to in words."""
        try:
            async with asyncio.timeout(self._patience_s):
                status = await self._post(message, to)
        except TimeoutError:
            return f"no answer within {self._patience_s:g} s"
        except (UnreachableError, OSError, httpx.HTTPError, httpx.InvalidURL, UnicodeError) as error:
            return str(error) if isinstance(error, UnreachableError) else f"no answer: {type(error).__name__}"
        return DELIVERED if _OK <= status < _TOO_FAR else f"status {status}"

    async def _post(self, message: StoredMessage, to: StoredWebhook) -> int:
        url = urlsplit(to.url)
        if address_fault(to.url, to_private=self._to_private) is not None or url.hostname is None:
            raise UnreachableError("the address may not be sent to")
        address = await self._checked(url.hostname, url.port or _PORTS[url.scheme])
        body = message.payload.encode()
        at = int(self._now().timestamp())
        headers = {
            "Host": url.netloc,
            "Content-Type": "application/json",
            "User-Agent": "portwright",
            "webhook-id": message.id,
            "webhook-timestamp": str(at),
            "webhook-signature": signatures(to.secret, message.id, at, body),
        }
        there = httpx.URL(to.url).copy_with(host=address)
        told = {"sni_hostname": url.hostname}  # the certificate is that of the name, the connection that of the address
        async with (
            httpx.AsyncClient(
                trust_env=False, follow_redirects=False, timeout=self._patience_s, verify=self._verify
            ) as client,
            client.stream("POST", there, content=body, headers=headers, extensions=told) as response,
        ):
            return response.status_code  # what it says besides is not read

    async def _checked(self, host: str, port: int) -> str:
        """The first address of a host, all of which the public must reach. Raises UnreachableError, OSError."""
        addresses = await self._resolve(host, port)
        if not addresses:
            raise UnreachableError("the host has no address")
        if not (self._to_private or all(map(is_public_address, addresses))):
            raise UnreachableError("the host has an address that the public does not reach")
        return addresses[0]


async def send_now_and_then(lanes: Lanes, sender: Sender, every_s: float = EVERY_S) -> None:
    """Send what is due for as long as the service runs."""
    while True:
        try:
            while await sender.send_due(lanes):
                pass
        except (StorageError, OverloadedError) as error:  # the next time is soon
            _log.error("news could not be sent: %s", error)
        await asyncio.sleep(every_s)
