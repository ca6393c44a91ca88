"""The outbox: news is written in the transaction of what it tells, and sent from here until it is taken."""

import json
import secrets
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta

from sqlalchemy import Connection, delete, func, insert, select, update

from service.storage.accounts import OfAccounts
from service.storage.tables import METADATA

_WEBHOOK = METADATA.tables["webhook"]
_MESSAGE = METADATA.tables["webhook_message"]
PAUSED = "paused"
PUBLISHED, ANSWERED, PING = "revision.published", "inquiry.answered", "ping"
_IS_SENT = _MESSAGE.c.webhook.not_in(select(_WEBHOOK.c.id).where(_WEBHOOK.c.events.startswith(PAUSED)))
"""What waits for a paused endpoint waits on."""
WAITING, DELIVERED, GIVEN_UP = "waiting", "delivered", "given up"


@dataclass(frozen=True)
class StoredWebhook:
    """An endpoint of an account; `events` are split by spaces, behind `paused` where nothing is sent."""

    id: str
    account: str
    url: str
    events: str
    secret: str
    created_at: datetime


@dataclass(frozen=True)
class StoredMessage:
    """A message for an endpoint; `outcome` is waiting, delivered, given up, or what the last try came to."""

    number: int
    id: str
    webhook: str
    event: str
    payload: str
    created_at: datetime
    due_at: datetime | None
    tries: int
    outcome: str


def announce(
    connection: Connection, event: str, data: Mapping[str, object], at: datetime, account: str | None = None
) -> None:
    """Write news for every endpoint that wants the event, of all accounts or of one; it goes with the transaction."""
    wanted = select(_WEBHOOK.c.id, _WEBHOOK.c.events)
    if account is not None:
        wanted = wanted.where(_WEBHOOK.c.account == account)
    for id_, events in connection.execute(wanted).all():
        if event in (wanted_events := events.split()) and PAUSED not in wanted_events:
            _write(connection, id_, event, data, at)


def _write(connection: Connection, webhook: str, event: str, data: Mapping[str, object], at: datetime) -> None:
    told = {"type": event, "timestamp": at.isoformat(timespec="seconds").replace("+00:00", "Z"), "data": dict(data)}
    row = {"id": f"msg_{secrets.token_urlsafe(16)}", "webhook": webhook, "event": event, "payload": json.dumps(told)}
    connection.execute(insert(_MESSAGE), row | {"created_at": at, "due_at": at, "tries": 0, "outcome": WAITING})


class OutboxStore(OfAccounts):
    """Keeps endpoints and messages."""

    def add(self, webhook: StoredWebhook, most: int) -> bool:
        """Keep an endpoint; False where its account has so many already."""
        own = select(func.count()).where(_WEBHOOK.c.account == webhook.account)
        with self._database.writing() as connection:
            if connection.execute(own).scalar_one() >= most:
                return False
            connection.execute(insert(_WEBHOOK), vars(webhook))
        return True

    def all(self) -> list[StoredWebhook]:
        """Return the endpoints, oldest first."""
        wanted = select(_WEBHOOK).where(self._is_own(_WEBHOOK)).order_by(_WEBHOOK.c.created_at, _WEBHOOK.c.id)
        return self._read_all(StoredWebhook, wanted)

    def get(self, id_: str) -> StoredWebhook | None:
        """Return the endpoint of an id."""
        wanted = select(_WEBHOOK).where(_WEBHOOK.c.id == id_, self._is_own(_WEBHOOK))
        return self._read_one(StoredWebhook, wanted)

    def change(self, id_: str, values: Mapping[str, str]) -> bool:
        """Change columns of an endpoint; False where there is none."""
        own = _WEBHOOK.c.id == id_, self._is_own(_WEBHOOK)
        return self._changes_one(update(_WEBHOOK).where(*own).values(**values))

    def delete(self, id_: str) -> bool:
        """Delete an endpoint with all that waits for it; False where there is none."""
        own = _WEBHOOK.c.id == id_, self._is_own(_WEBHOOK)
        with self._database.writing() as connection:
            if connection.execute(select(_WEBHOOK.c.id).where(*own)).one_or_none() is None:
                return False
            connection.execute(delete(_MESSAGE).where(_MESSAGE.c.webhook == id_))
            connection.execute(delete(_WEBHOOK).where(*own))
        return True

    def messages(self, webhook: str, limit: int, before: int | None = None) -> list[StoredMessage]:
        """Return the newest messages for an endpoint, of those before that number, newest first."""
        wanted = select(_MESSAGE).where(_MESSAGE.c.webhook == webhook).order_by(_MESSAGE.c.number.desc()).limit(limit)
        wanted = wanted if before is None else wanted.where(_MESSAGE.c.number < before)
        return self._read_all(StoredMessage, wanted)

    def ping(self, webhook: str, at: datetime) -> None:
        """Write a message that only tries an endpoint."""
        with self._database.writing() as connection:
            _write(connection, webhook, PING, {"webhook": webhook}, at)

    def is_due(self, at: datetime) -> bool:
        """Whether anything is to be sent; a look that holds up no writer."""
        wanted = select(_MESSAGE.c.number).where(_MESSAGE.c.due_at <= at, _IS_SENT).limit(1)
        return self._value(wanted) is not None

    def take(self, at: datetime, lease_s: float, most: int) -> list[tuple[StoredMessage, StoredWebhook]]:
        """Take what is due, with where it goes to. Nobody else is given it before the lease is over: then whoever took
        it is taken for dead, and it is sent again."""
        due = (
            select(_MESSAGE)
            .where(_MESSAGE.c.due_at <= at, _IS_SENT)
            .order_by(_MESSAGE.c.due_at, _MESSAGE.c.number)
            .limit(most)
            .with_for_update(skip_locked=True)
        )
        with self._database.writing() as connection:
            taken = [StoredMessage(**row) for row in connection.execute(due).mappings()]
            numbers = [message.number for message in taken]
            until = at + timedelta(seconds=lease_s)
            connection.execute(update(_MESSAGE).where(_MESSAGE.c.number.in_(numbers)).values(due_at=until))
            known = select(_WEBHOOK).where(_WEBHOOK.c.id.in_({message.webhook for message in taken}))
            to = {row["id"]: StoredWebhook(**row) for row in connection.execute(known).mappings()}
        return [(message, to[message.webhook]) for message in taken]

    def settle(self, number: int, outcome: str, due_at: datetime | None) -> None:
        """Note what a try came to, and when the next one is; None: there is none."""
        tried = {"outcome": outcome, "due_at": due_at, "tries": _MESSAGE.c.tries + 1}
        with self._database.writing() as connection:
            connection.execute(update(_MESSAGE).where(_MESSAGE.c.number == number).values(tried))
