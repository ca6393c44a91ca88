"""Endpoints for news: made, listed, tried and deleted by the account that they belong to."""

import secrets
from datetime import UTC, datetime
from ipaddress import IPv4Address, IPv6Address, IPv6Network, ip_address
from urllib.parse import urlsplit

from service.access.signing import OVERLAP_S, current, new_secret, rotated
from service.documents.rendering import rendered
from service.documents.webhook import MessageTold, NewWebhook, WebhookChange, WebhookTold
from service.storage.outbox import PAUSED, OutboxStore, StoredMessage, StoredWebhook
from service.usecases.errors import FullError, NotFoundError, RequestFault, RequestFaultsError
from service.usecases.moments import moment

MOST_OF_ACCOUNT = 20
KIND = "webhook"
_MESSAGES_TOLD = 20
_NAT64 = IPv6Network("64:ff9b::/96")


class Webhooks:
    """Keeps the endpoints of accounts. `to_private`: whether they may be on this machine or in its own network.

    Safe to share by threads.
    """

    def __init__(self, store: OutboxStore, *, to_private: bool = False) -> None:
        self._store = store
        self.to_private = to_private

    def of(self, account: str | None) -> "Webhooks":
        """The same as an account sees it."""
        return Webhooks(self._store.of(account), to_private=self.to_private)

    def make(self, asked: NewWebhook) -> WebhookTold:
        """Make an endpoint; its secret is told this once. Raises RequestFaultsError for its address, FullError."""
        self._check(asked.url)
        row = StoredWebhook(
            f"wh_{secrets.token_urlsafe(16)}",
            self._store.account or "",
            asked.url,
            " ".join(dict.fromkeys(asked.events)),
            new_secret(),
            datetime.now(UTC),
        )
        if not self._store.add(row, MOST_OF_ACCOUNT):
            raise FullError(f"{MOST_OF_ACCOUNT} webhooks of this account are kept already: delete some")
        return {**_told(row), "secret": row.secret}

    def all(self) -> list[WebhookTold]:
        """The endpoints, oldest first."""
        return [_told(row) for row in self._store.all()]

    def find(self, id_: str) -> WebhookTold:
        """An endpoint with its newest messages. Raises NotFoundError."""
        return self.page(id_, _MESSAGES_TOLD)[0]

    def page(self, id_: str, limit: int, before: int | None = None) -> tuple[WebhookTold, int | None]:
        """An endpoint with so many of its messages before a number, newest first, and the number before which there are
        more. Raises NotFoundError."""
        row = self._known(id_)
        messages = self._store.messages(row.id, limit + 1, before)
        told = [_message(one) for one in messages[:limit]]
        return {**_told(row), "messages": told}, messages[limit - 1].number if len(messages) > limit else None

    def change(self, id_: str, asked: WebhookChange) -> WebhookTold:
        """Change where news goes, of what, and whether. Raises NotFoundError, RequestFaultsError for its address."""
        row = self._known(id_)
        if asked.url is not None:
            self._check(asked.url)
        events = (
            row.events.removeprefix(f"{PAUSED} ") if asked.events is None else " ".join(dict.fromkeys(asked.events))
        )
        is_active = _is_active(row) if asked.active is None else asked.active
        told = {"url": asked.url or row.url, "events": events if is_active else f"{PAUSED} {events}"}
        if not self._store.change(id_, told):
            raise NotFoundError(KIND, id_)
        return _told(self._known(id_))

    def rotate(self, id_: str) -> WebhookTold:
        """Replace the secret, told this once; the one before signs beside it for a day. Raises NotFoundError."""
        row, now = self._known(id_), datetime.now(UTC)
        secret = rotated(row.secret, int(now.timestamp()))
        if not self._store.change(id_, {"secret": secret}):
            raise NotFoundError(KIND, id_)
        ends = datetime.fromtimestamp(int(now.timestamp()) + OVERLAP_S, UTC)
        return {**_told(row), "secret": current(secret), "old_secret_ends": moment(ends)}

    def delete(self, id_: str) -> WebhookTold:
        """Delete an endpoint with what waits for it. Raises NotFoundError."""
        row = self._known(id_)
        if not self._store.delete(id_):
            raise NotFoundError(KIND, id_)
        return _told(row)

    def ping(self, id_: str) -> WebhookTold:
        """Have a message sent that only tries an endpoint. Raises NotFoundError."""
        row = self._known(id_)
        self._store.ping(row.id, datetime.now(UTC))
        return _told(row)

    def _check(self, url: str) -> None:
        fault = address_fault(url, to_private=self.to_private)
        if fault is not None:
            raise RequestFaultsError((RequestFault("/url", rendered(url), fault),))

    def _known(self, id_: str) -> StoredWebhook:
        row = self._store.get(id_)
        if row is None:
            raise NotFoundError(KIND, id_)
        return row


def address_fault(url: str, *, to_private: bool) -> str | None:
    """What would be right where news may not be sent to an address; None where it may, as far as the text tells."""
    try:
        parts = urlsplit(url)
        host, _ = parts.hostname, parts.port
    except ValueError:
        return "an address with a host and a port that there can be"
    if not host or "@" in parts.netloc or parts.fragment:
        return "an address with a host, without user and fragment"
    if to_private:
        return None
    if parts.scheme != "https":
        return "an address that begins with https://"
    try:
        is_public = is_public_address(host)
    except ValueError:
        is_public = host != "localhost" and not host.endswith((".localhost", ".local", ".internal"))
    return None if is_public else "a host that the public reaches"


def is_public_address(text: str) -> bool:
    """Whether an IP address is one that the public reaches, by the registries of IANA (RFC 6890); an IPv4 address
    within an IPv6 one counts as itself. Raises ValueError for what is no address."""
    address = ip_address(text.partition("%")[0])
    within = _embedded(address) if isinstance(address, IPv6Address) else None
    inner = within or address
    return inner.is_global and not inner.is_multicast and not inner.is_reserved


def _embedded(address: IPv6Address) -> IPv4Address | None:
    if address in _NAT64:
        return IPv4Address(int(address) & 0xFFFFFFFF)
    return address.ipv4_mapped or address.sixtofour or (address.teredo[1] if address.teredo else None)


def _is_active(row: StoredWebhook) -> bool:
    return PAUSED not in row.events.split()


def _told(row: StoredWebhook) -> WebhookTold:
    events = [event for event in row.events.split() if event != PAUSED]
    created = moment(row.created_at)
    return {"id": row.id, "url": row.url, "events": events, "active": _is_active(row), "created": created}


def _message(row: StoredMessage) -> MessageTold:
    return {
        "id": row.id,
        "event": row.event,
        "created": moment(row.created_at),
        "tries": row.tries,
        "outcome": row.outcome,
        "due": None if row.due_at is None else moment(row.due_at),
    }
