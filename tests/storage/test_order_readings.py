"""Orders that were read: found by their ids, changed, and gone after their days."""

from datetime import UTC, datetime, timedelta

from service.storage.engine import Database
from service.storage.keeping import READING_DAYS
from service.storage.order_readings import OrderReadingStore


def test_a_reading_is_kept_changed_and_ends(database: Database) -> None:
    store = OrderReadingStore(database)
    now = datetime.now(UTC)
    store.save("a" * 32, '{"lines":[]}', now)
    store.save("b" * 32, "{}", now - timedelta(days=READING_DAYS, minutes=1))
    store.change("a" * 32, '{"fields":{}}')
    store.change("c" * 32, "{}")
    assert store.get("a" * 32) == '{"fields":{}}'
    for other in ("b" * 32, "c" * 32, "", "\0", "a b"):
        assert store.get(other) is None
