"""The outbox on every database: written with what it tells or not at all, taken by one at a time."""

from datetime import datetime, timedelta

import pytest

from service.storage.engine import Database
from service.storage.outbox import DELIVERED, PUBLISHED, OutboxStore, StoredWebhook, announce


def test_what_is_taken_is_nobody_else_s(database: Database, noon: datetime) -> None:
    """Until its lease is over; what is settled is not sent again, and goes with its endpoint."""
    store = OutboxStore(database)
    webhook = StoredWebhook("wh_1", "shop", "https://shop.example/", PUBLISHED, "whsec_AA==", noon)
    assert store.add(webhook, most=1)
    assert not store.add(webhook, most=1)
    with database.writing() as connection:
        announce(connection, PUBLISHED, {"revision": 1}, noon)
        announce(connection, "inquiry.answered", {}, noon)
        announce(connection, PUBLISHED, {"revision": 2}, noon, account="else")
    assert store.is_due(noon)
    [(message, to)] = store.take(noon, 60, 10)
    assert (to, message.tries) == (webhook, 0)
    assert not store.is_due(noon)
    assert store.take(noon, 60, 10) == []
    later = noon + timedelta(seconds=60)
    assert [one.id for one, _ in store.take(later, 60, 10)] == [message.id]
    store.settle(message.number, DELIVERED, None)
    assert [(one.outcome, one.tries, one.due_at) for one in store.messages("wh_1", 5)] == [(DELIVERED, 1, None)]
    assert store.of("shop").all() == [webhook]
    assert store.of("else").all() == []
    assert store.delete("wh_1")
    assert store.messages("wh_1", 5) == []


def test_what_is_undone_is_not_told(database: Database, noon: datetime) -> None:
    """News goes with the transaction of what it tells."""
    store = OutboxStore(database)
    store.add(StoredWebhook("wh_1", "", "https://shop.example/", PUBLISHED, "whsec_AA==", noon), most=1)

    def fail() -> None:
        with database.writing() as connection:
            announce(connection, PUBLISHED, {"revision": 1}, noon)
            raise RuntimeError

    with pytest.raises(RuntimeError):
        fail()
    assert store.messages("wh_1", 5) == []
