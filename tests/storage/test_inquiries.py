"""Inquiries are kept once, listed newest first and by what was missing, and deleted without a trace."""

from concurrent.futures import ThreadPoolExecutor
from contextlib import closing
from dataclasses import replace
from datetime import UTC, datetime, timedelta, timezone
from threading import Barrier

import pytest

from service.documents.catalog import Catalog
from service.storage.engine import Database, open_database
from service.storage.errors import RowsRefusedError
from service.storage.inquiries import InquiryStore, StoredGroup, StoredInquiry
from service.storage.revisions import RevisionStore

WORKERS = 4


@pytest.fixture(name="inquiries")
def _inquiries(database: Database, store: RevisionStore, small: Catalog, noon: datetime) -> InquiryStore:
    """A store of inquiries in a database with one revision."""
    store.add(small, created_at=noon)
    return InquiryStore(database)


@pytest.fixture(name="inquiry")
def _inquiry(noon: datetime) -> StoredInquiry:
    return StoredInquiry(
        id="Xq3vYb0TzLr8mWk2hNc5Ug",
        revision=1,
        document='{"text":"\u2265 9 \U0001f600 \\u0000 \'%s\' \\\\", "n": 1.10}\r\n ',
        missing="There is too little room.",
        contact="Zo\u00eb, +00 555 0119",
        note="two\nlines",
        created_at=noon,
        idempotency_key=None,
        body_digest="0" * 64,
    )


def test_an_inquiry_comes_back_word_for_word(
    inquiries: InquiryStore, inquiry: StoredInquiry, empty_url: str, noon: datetime
) -> None:
    """Every byte of it, also from a store that is opened later; its moment in UTC."""
    elsewhere = replace(inquiry, created_at=noon.astimezone(timezone(timedelta(hours=9))))
    assert inquiries.save(elsewhere) is elsewhere
    with closing(open_database(empty_url)) as later:
        kept = InquiryStore(later).get(inquiry.id)
    assert kept == inquiry
    assert kept.created_at.tzinfo is UTC


@pytest.mark.parametrize("id_", ["", "other", "xq3vyb0tzlr8mwk2hnc5ug", "\0", "\ud800", "%", "A" * 9_999, "' OR 1"])
def test_what_is_no_id_finds_and_deletes_nothing(inquiries: InquiryStore, inquiry: StoredInquiry, id_: str) -> None:
    """Neither a part of an id nor what a database could choke on."""
    inquiries.save(inquiry)
    assert inquiries.get(id_) is None
    assert not inquiries.delete(id_)
    assert inquiries.get(inquiry.id) == inquiry


def test_a_key_that_is_taken_gives_what_has_it(inquiries: InquiryStore, inquiry: StoredInquiry) -> None:
    """The first stays as it is, and nothing of the second is kept; keys are told apart by every letter."""
    first = replace(inquiry, idempotency_key="ask-7")
    assert inquiries.save(first) is first
    assert inquiries.save(replace(first, id="other", body_digest="1" * 64)) == first
    assert inquiries.get("other") is None
    assert inquiries.of_key("Ask-7") is None


def test_of_several_with_one_key_one_is_kept(inquiries: InquiryStore, inquiry: StoredInquiry, empty_url: str) -> None:
    """Workers that keep at the same moment, each with its own connections, all get the same inquiry."""
    together = Barrier(WORKERS)

    def keep(number: int) -> StoredInquiry:
        with closing(open_database(empty_url)) as own:
            together.wait()
            return InquiryStore(own).save(replace(inquiry, id=f"inquiry-{number}", idempotency_key="ask-7"))

    with ThreadPoolExecutor(WORKERS) as workers:
        [kept] = set(workers.map(keep, range(WORKERS)))
    assert inquiries.page(10) == [kept]


@pytest.mark.parametrize("wrong", [{"revision": 2}, {"id": "Xq3vYb0TzLr8mWk2hNc5Ug"}], ids=["no revision", "id taken"])
@pytest.mark.parametrize("key", [None, "another"])
def test_what_the_table_does_not_take_is_refused(
    inquiries: InquiryStore, inquiry: StoredInquiry, wrong: dict[str, object], key: str | None
) -> None:
    """An unknown revision or an id that is taken is no matter of idempotency keys."""
    inquiries.save(inquiry)
    with pytest.raises(RowsRefusedError):
        inquiries.save(replace(inquiry, **({"id": "new", "idempotency_key": key} | wrong)))


def _many(inquiries: InquiryStore, inquiry: StoredInquiry, noon: datetime) -> list[StoredInquiry]:
    """Keep seven, two at a time at one moment, of two sorts; return them newest first."""
    made = [
        replace(
            inquiry,
            id=f"inquiry-{number}",
            created_at=noon + timedelta(minutes=number // 2),
            missing="room" if number % 3 else "flow",
        )
        for number in range(7)
    ]
    for one in made:
        inquiries.save(one)
    return sorted(made, key=lambda one: (one.created_at, one.id), reverse=True)


@pytest.mark.parametrize("limit", [1, 2, 3, 7, 100])
@pytest.mark.parametrize("missing", [None, "room", "flow", "nothing"])
def test_pages_follow_one_another(
    inquiries: InquiryStore, inquiry: StoredInquiry, noon: datetime, limit: int, missing: str | None
) -> None:
    """Each inquiry once, newest first, also where several came at one moment."""
    wanted = [one for one in _many(inquiries, inquiry, noon) if missing in (None, one.missing)]
    found: list[StoredInquiry] = []
    while page := inquiries.page(limit, found[-1] if found else None, missing):
        assert len(page) <= limit
        found += page
    assert found == wanted


def test_groups_are_counted(inquiries: InquiryStore, inquiry: StoredInquiry, noon: datetime) -> None:
    """The most frequent first, each with the moment of its newest; none while there is no inquiry."""
    assert inquiries.groups() == []
    _many(inquiries, inquiry, noon)
    after_3_min = noon + timedelta(minutes=3)
    assert inquiries.groups() == [
        StoredGroup("room", 4, noon + timedelta(minutes=2)),
        StoredGroup("flow", 3, after_3_min),
    ]


def test_a_change_is_whole_or_none(inquiries: InquiryStore, inquiry: StoredInquiry, noon: datetime) -> None:
    """Status and reply alone change; what is raised in between undoes all."""
    inquiries.save(inquiry)
    assert inquiries.change("other", lambda kept: kept) is None
    given = {"status": "answered", "reply": "In May.", "answered_at": noon}
    changed = inquiries.change(inquiry.id, lambda kept: replace(kept, contact="nobody", **given))
    assert changed is not None
    assert inquiries.get(inquiry.id) == replace(inquiry, **given)

    def refuse(_: StoredInquiry) -> StoredInquiry:
        raise RuntimeError

    with pytest.raises(RuntimeError):
        inquiries.change(inquiry.id, refuse)
    assert [len(inquiries.page(9, status=one)) for one in ("open", "answered", "closed")] == [0, 1, 0]
    assert [len(inquiries.groups(one)) for one in (None, "open", "answered")] == [1, 0, 1]


def test_what_is_deleted_is_gone(inquiries: InquiryStore, inquiry: StoredInquiry, database: Database) -> None:
    """With its contact line and its key, once."""
    inquiries.save(replace(inquiry, idempotency_key="ask-7"))
    assert inquiries.delete(inquiry.id)
    assert not inquiries.delete(inquiry.id)
    assert inquiries.of_key("ask-7") is None
    with database.reading() as connection:
        assert connection.exec_driver_sql("SELECT count(*) FROM inquiry").scalar_one() == 0
