"""Backups: one state of the whole, restored on either database, and looked through; erasing by contact line."""

from contextlib import closing
from dataclasses import replace
from datetime import datetime
from pathlib import Path

import pytest
from sqlalchemy import Connection, select, update

from service.documents.catalog import Catalog
from service.storage.backup import back_up, counts_of, restore
from service.storage.drafts import DraftStore
from service.storage.engine import Database, open_database
from service.storage.erasing import erase_contact
from service.storage.errors import NotEmptyError
from service.storage.inquiries import InquiryStore, StoredInquiry
from service.storage.keys import KeyStore, SignIn, StoredKey
from service.storage.order_checks import OrderCheckStore, StoredOrderCheck
from service.storage.order_readings import OrderReadingStore
from service.storage.revisions import RevisionStore
from service.storage.tables import METADATA
from service.storage.verifying import verify
from tests.storage.databases import Spares

HARBOUR = "Zoë, +00 555 0119"


@pytest.fixture(name="full")
def _full(database: Database, small: Catalog, noon: datetime) -> Database:
    """A database in which something of most kinds is kept."""
    store = RevisionStore(database)
    store.add(small, created_at=noon)
    dearer = [item.model_copy(update={"price": item.price + 100}) for item in small.items]
    store.add(small.model_copy(update={"items": dearer}), created_at=noon)
    once = {"revision": 1, "created_at": noon, "idempotency_key": "k", "body_digest": "0" * 64}
    OrderCheckStore(database).save(StoredOrderCheck(id="check", request="{}", result='{"x": "\\u0000"}', **once))
    told = {"document": "{}", "missing": "room", "contact": HARBOUR, "note": "100 % _sure_"}
    inquiry = StoredInquiry(id="inquiry", **once, **told)
    InquiryStore(database).save(inquiry)
    InquiryStore(database).save(replace(inquiry, id="other", idempotency_key="l", contact="Bo", note="x"))
    OrderReadingStore(database).save("reading", '{"text": "from zoë, +00 555 0119"}', noon)
    DraftStore(database).add("draft", "spring", None, 2, noon)
    KeyStore(database).add(StoredKey("0123456789", "harbour", "desk", b"\x00salt", b"\xffdigest", noon))
    KeyStore(database).note(SignIn(noon, "0123456789", "harbour", "signed in"))
    return database


def everything(connection: Connection) -> dict[str, list[dict[str, object]]]:
    return {
        table.name: [dict(row) for row in connection.execute(select(table).order_by(*table.primary_key)).mappings()]
        for table in METADATA.sorted_tables
    }


@pytest.mark.parametrize("other", ["sqlite", pytest.param("postgresql", marks=pytest.mark.postgres)])
def test_a_backup_is_restored_on_either_database(
    full: Database, other: str, spares: Spares, tmp_path: Path, noon: datetime
) -> None:
    """Row for row; new rows are numbered on, and everything is sound."""
    file = tmp_path / "kept.backup"
    counts = back_up(full, file)
    assert file.stat().st_mode & 0o777 == 0o600
    assert {path.name for path in tmp_path.iterdir() if path.name.startswith((".backup", "kept"))} == {"kept.backup"}
    with spares.database(other, tmp_path) as url, closing(open_database(url)) as empty:
        assert restore(file, empty) == counts
        with full.reading() as before, empty.reading() as after:
            assert everything(after) == everything(before)
        assert verify(empty) == (counts, [])
        last = DraftStore(full).get("draft").number
        assert DraftStore(empty).add("next", "summer", None, 2, noon).number == last + 1
        with pytest.raises(NotEmptyError, match="revision"):
            restore(file, empty)


def test_no_file_is_written_over(full: Database, tmp_path: Path) -> None:
    """What is there stays."""
    file = tmp_path / "there"
    file.write_text("mine")
    with pytest.raises(FileExistsError):
        back_up(full, file)
    assert file.read_text() == "mine"


SPOILS = {
    "a price": ("catalog_object", "document", "{}", "has the content hash"),
    "an order check": ("order_check", "result", "{", "order_check check: result is not the JSON that was written"),
    "a reading": ("order_reading", "document", "", "order_reading reading: document is not"),
}


@pytest.mark.parametrize(("table", "column", "value", "told"), SPOILS.values(), ids=SPOILS)
def test_what_was_changed_by_hand_is_found(full: Database, table: str, column: str, value: str, told: str) -> None:
    """A sentence names the place."""
    assert verify(full)[1] == []
    with full.writing() as connection:
        connection.execute(update(METADATA.tables[table]).values({column: value}))
    assert any(told in fault for fault in verify(full)[1])


def test_what_somebody_sent_is_found_and_erased(full: Database) -> None:
    """By any part of the contact line, whatever its capitals; signs of patterns mean themselves; others stay."""
    listed = erase_contact(full, "+00 555", only_list=True)
    assert listed == {"inquiry": ["inquiry"], "order_reading": ["reading"], "batch_order": []}
    for written in ("ZOË", "Zoe\u0308, +00"):  # a capital that is not English, and the mark as a sign of its own
        assert erase_contact(full, written, only_list=True) == listed
    assert erase_contact(full, "100 %  ") == {"inquiry": [], "order_reading": [], "batch_order": []}
    assert erase_contact(full, "%") == {"inquiry": ["inquiry"], "order_reading": [], "batch_order": []}
    assert erase_contact(full, "555 0119")["order_reading"] == ["reading"]
    with full.reading() as connection:
        counts = counts_of(connection)
    assert (counts["inquiry"], counts["order_reading"], counts["order_check"]) == (1, 0, 1)
