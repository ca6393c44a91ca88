"""Everything that is kept has an end: then nothing finds it, its key is free, and later writes delete it."""

from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest
from sqlalchemy import text

from service.documents.catalog import Catalog
from service.storage.drafts import DraftStore
from service.storage.engine import Database
from service.storage.errors import RowsRefusedError
from service.storage.inquiries import InquiryStore, StoredInquiry
from service.storage.keeping import KEY_DAYS, USUAL, Keeping
from service.storage.order_batches import BatchOrder, OrderBatchStore, StoredBatch
from service.storage.order_checks import OrderCheckStore, StoredOrderCheck
from service.storage.revisions import RevisionStore
from service.storage.short_links import ShortLinkStore
from service.storage.sweeping import sweep_much
from service.storage.trail import TrailStore

CONTACT = "Zebedee Quill, zebedee-quill@nowhere.example"


@pytest.fixture(autouse=True)
def _catalog(store: RevisionStore, small: Catalog, noon: datetime) -> None:
    store.add(small, created_at=noon)


def _ago(days: float) -> datetime:
    return datetime.now(UTC) - timedelta(days=days)


def _check(id_: str, days: float, key: str | None = None) -> StoredOrderCheck:
    return StoredOrderCheck(id_, 1, "{}", "{}", _ago(days), key, "0" * 64)


def _inquiry(id_: str, days: float, key: str | None = None) -> StoredInquiry:
    return StoredInquiry(id_, 1, "{}", "room", f"{CONTACT} {id_}", CONTACT * 9, _ago(days), key, "0" * 64)


def _count(database: Database, table: str) -> int:
    with database.reading() as connection:
        found: int = connection.execute(text(f"SELECT count(*) FROM {table}")).scalar_one()
    return found


def _age_links(database: Database, days: float) -> None:
    with database.writing() as connection:
        moment = _ago(days) if not database.is_sqlite else str(_ago(days))[:26]
        connection.execute(text("UPDATE short_link SET created_at = :moment"), {"moment": moment})


def _age_draft(database: Database, id_: str, days: float) -> None:
    with database.writing() as connection:
        moment = _ago(days) if not database.is_sqlite else str(_ago(days))[:26]
        told = {"moment": moment, "id": id_}
        connection.execute(text("UPDATE draft SET changed_at = :moment WHERE id = :id"), told)


def test_drafts_that_nobody_changes_go_and_their_trail_stays(database: Database, noon: datetime) -> None:
    """Those that were published stay, as what became of them is told by their page."""
    drafts, trail = DraftStore(database), TrailStore(database)
    days = USUAL.drafts_days
    for id_, age in (("old", days + 1), ("young", days - 1), ("done", days + 1)):
        drafts.add(id_, id_, "Ada", 1, noon)
        drafts.edit(id_, ("items", "NEW"), lambda _: '{"sku":"NEW"}', (None, None), noon)
        _age_draft(database, id_, age)
    with database.writing() as connection:
        connection.execute(text("UPDATE draft SET published = 1 WHERE id = 'done'"))
    left = drafts.ends_at(drafts.get("young"))
    assert left is not None
    assert left > datetime.now(UTC)
    assert drafts.ends_at(drafts.get("done")) is None
    sweep_much(database, USUAL)
    assert {one.id for one in drafts.page(9)} == {"young", "done"}
    assert _count(database, "draft_object") == 2
    [last] = trail.last_of_draft("old")
    assert (last.what, last.reason) == ("discarded", f"nobody changed it for {days} days")
    assert not sweep_much(database, USUAL)


def test_what_has_had_its_time_is_not_found(database: Database) -> None:
    """By id, by key, in pages and in groups; what has a day to go is."""
    checks, inquiries, links = OrderCheckStore(database), InquiryStore(database), ShortLinkStore(database)
    for days, is_found in ((-1, True), (1, False)):
        checks.save(_check(f"check{days}", USUAL.order_checks_days + days))
        assert (checks.get(f"check{days}") is not None) is is_found
        inquiries.save(_inquiry(f"inquiry{days}", USUAL.inquiries_days + days))
        assert (inquiries.get(f"inquiry{days}") is not None) is is_found
        links.save("a-key", ["abc"])
        _age_links(database, USUAL.short_links_days + days)
        assert (links.key("abc") is not None) is is_found
    assert [one.id for one in inquiries.page(9)] == ["inquiry-1"]
    assert [group.count for group in inquiries.groups()] == [1]
    assert links.save("another", ["abc"]) == ("abc", True)


@pytest.mark.parametrize("kind", ["sqlite"], indirect=True)
def test_the_days_can_be_set(database: Database) -> None:
    """Shorter and longer than is usual."""
    check = _check("check", 100)
    OrderCheckStore(database, Keeping(order_checks_days=101)).save(check)
    assert OrderCheckStore(database, Keeping(order_checks_days=101)).get("check") == check
    assert OrderCheckStore(database, Keeping(order_checks_days=99)).get("check") is None


def test_a_key_is_free_after_its_time(database: Database) -> None:
    """What it gave stays; until then it gives that, whatever is sent with it."""
    checks, inquiries = OrderCheckStore(database), InquiryStore(database)
    for days, is_free in ((KEY_DAYS - 1, False), (KEY_DAYS + 1, True)):
        key = f"key-{days}"
        old_check, check = _check(f"old-{days}", days, key), _check(f"new-{days}", 0, key)
        assert checks.save(old_check) is old_check
        assert checks.of_key(key) == (None if is_free else old_check)
        assert checks.save(check) == (check if is_free else old_check)
        assert checks.get(old_check.id) == replace(old_check, idempotency_key=None if is_free else key)
        old_inquiry, inquiry = _inquiry(f"old-{days}", days, key), _inquiry(f"new-{days}", 0, key)
        assert inquiries.save(old_inquiry) is old_inquiry
        assert inquiries.save(inquiry) == (inquiry if is_free else old_inquiry)


def _keep_check(database: Database) -> None:
    OrderCheckStore(database).save(_check("new", 0))


def _keep_inquiry(database: Database) -> None:
    InquiryStore(database).save(_inquiry("new", 0))


def _keep_link(database: Database) -> None:
    ShortLinkStore(database).save("new", ["xyz"])


def _keep_batch(database: Database) -> None:
    OrderBatchStore(database).save(StoredBatch("new", 1, _ago(0), "ann", _ago(0)), [])


@pytest.mark.parametrize("keep", [_keep_check, _keep_inquiry, _keep_link, _keep_batch])
def test_whatever_is_kept_deletes_what_has_had_its_time(database: Database, keep: Callable[[Database], None]) -> None:
    """A few of each kind, the oldest first; at the start many."""
    lasting = Keeping(*[9_999] * 4)
    ShortLinkStore(database, lasting).save("a-key", ["abc"])
    _age_links(database, USUAL.short_links_days + 1)
    for number in range(12):
        days = 9_000 - number
        OrderCheckStore(database, lasting).save(_check(f"check-{number}", days))
        InquiryStore(database, lasting).save(_inquiry(f"inquiry-{number}", days))
        batch = StoredBatch(f"batch-{number}", 1, _ago(days), "ann", _ago(days))
        OrderBatchStore(database, lasting).save(batch, [BatchOrder(0, "{}")])
    keep(database)
    left = {"order_check": 2, "inquiry": 2, "short_link": 0, "order_batch": 10, "batch_order": 10}
    new = {_keep_check: "order_check", _keep_inquiry: "inquiry", _keep_link: "short_link", _keep_batch: "order_batch"}
    left[new[keep]] += 1
    assert {table: _count(database, table) for table in left} == left
    assert {one.id for one in InquiryStore(database, lasting).page(9)} - {"new"} == {"inquiry-10", "inquiry-11"}
    sweep_much(database, USUAL)
    assert _count(database, "order_check") + _count(database, "inquiry") <= 1
    assert _count(database, "batch_order") == 8


def test_sweeping_stops_no_key_from_being_refused(database: Database) -> None:
    """A check of a revision that is not there is refused as before."""
    with pytest.raises(RowsRefusedError):
        OrderCheckStore(database).save(replace(_check("new", 0, "key"), revision=9))


def _bytes_of(database: Database) -> bytes:
    assert database._file is not None
    return b"".join(path.read_bytes() for path in (database._file.path, *database._file._beside))


@pytest.mark.parametrize("kind", ["sqlite"], indirect=True)
def test_nothing_personal_stays_behind(database: Database) -> None:
    """Of a deleted inquiry there is not a byte in any file, whatever pages it stood on; of the others all."""
    inquiries = InquiryStore(database)
    ids = [f"inquiry-{number:03}" for number in range(120)]
    for number, id_ in enumerate(ids):
        inquiries.save(replace(_inquiry(id_, 0), note=f"{CONTACT} " * (number % 7 * 40)))
    assert _bytes_of(database).count(CONTACT.encode()) > len(ids)
    for id_ in ids[::2]:
        assert inquiries.delete(id_)
        assert f"{CONTACT} {id_}".encode() not in _bytes_of(database)
    for id_ in ids[1::2]:
        assert f"{CONTACT} {id_}".encode() in _bytes_of(database)
        assert inquiries.delete(id_)
    assert b"zebedee" not in _bytes_of(database)


@pytest.mark.parametrize("kind", ["sqlite"], indirect=True)
def test_nothing_personal_outlives_its_time(database: Database) -> None:
    """What the sweep deletes is gone from the log too."""
    InquiryStore(database, Keeping(inquiries_days=9_999)).save(_inquiry("old", 400))
    OrderCheckStore(database).save(_check("new", 0))
    assert b"zebedee" not in _bytes_of(database)


@pytest.mark.parametrize("kind", ["sqlite"], indirect=True)
def test_readers_who_hold_up_erasing_are_told_of(
    database: Database, caplog: pytest.LogCaptureFixture, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The deletion stands, the log of the service says what stays, and the next write takes it away."""
    monkeypatch.setattr(Database.erase_remains, "__defaults__", (0.05,))
    inquiries = InquiryStore(database)
    inquiries.save(_inquiry("one", 0))
    with database.reading() as connection:
        assert connection.execute(text("SELECT count(*) FROM inquiry")).scalar_one() == 1
        assert inquiries.delete("one")
        assert b"zebedee" in _bytes_of(database)
        assert "what was deleted is in sqlite:///" in caplog.text
    OrderCheckStore(database).save(_check("new", 0))
    assert b"zebedee" not in _bytes_of(database)


@pytest.mark.parametrize("kind", ["sqlite"], indirect=True)
def test_what_is_over_is_looked_up_by_an_index(database: Database) -> None:
    """So that a sweep that finds nothing costs nothing."""
    for table in ("order_check", "inquiry", "short_link", "order_batch"):
        with database.reading() as connection:
            ask = f"EXPLAIN QUERY PLAN SELECT 1 FROM {table} WHERE created_at < 'x' ORDER BY created_at LIMIT 10"
            assert "INDEX" in str(connection.exec_driver_sql(ask).all())
