"""Revisions are numbered one after the other, kept whole or not at all, and never changed unnoticed."""

from contextlib import closing
from datetime import UTC, datetime, timedelta, timezone
from typing import Any

import pytest
from sqlalchemy import text

from service.documents.catalog import Catalog
from service.documents.packed import packed
from service.storage.engine import Database, open_database
from service.storage.errors import (
    DamagedRevisionError,
    RowsRefusedError,
    StorageBusyError,
    UnknownRevisionError,
)
from service.storage.revisions import RevisionStore
from tests.storage.rich_catalog import rich_catalog
from tests.support.catalogs import changed, small_catalog


def test_numbers_follow_one_another(store: RevisionStore, small: Catalog, noon: datetime) -> None:
    """From none to 1, 2, 3; older revisions stay as they were."""
    assert store.latest() is None
    assert store.summaries() == []
    rich = Catalog.model_validate(rich_catalog())
    assert [store.add(catalog, created_at=noon) for catalog in (small, rich, small)] == [1, 2, 3]
    assert store.latest() == 3
    assert [store.load(number) for number in (1, 2, 3)] == [small, rich, small]


def test_a_summary_tells_what_a_revision_is(store: RevisionStore, small: Catalog, noon: datetime) -> None:
    """Newest first: number, moment in UTC, maker, digest, counts."""
    store.add(small, created_at=noon)
    store.add(small, created_at=noon.astimezone(timezone(timedelta(hours=5, minutes=30))))
    newest, oldest = store.summaries()
    assert (newest.number, oldest.number) == (2, 1)
    assert newest.created_at == oldest.created_at == noon
    assert newest.created_at.tzinfo == oldest.created_at.tzinfo == UTC
    assert newest.maker == small.maker.name
    assert newest.digest == oldest.digest == packed(small).digest()
    assert newest.counts == {
        "port_standards": 4,
        "joints": 4,
        "fuels": 2,
        "materials": 2,
        "items": 13,
        "chassis": 2,
        "addons": 1,
        "layouts": 4,
        "contract_cases": 0,
    }


UNKNOWN_NUMBERS = (0, -1, 2, 2**31 - 1, 2**31, 2**63, 10**30, -(10**30))


def test_unknown_numbers_are_told(store: RevisionStore, small: Catalog, noon: datetime) -> None:
    """Any number that there is not, however large, with the newest that there is."""
    for newest, known in ((None, "there is none yet"), (1, "the newest is 1")):
        for number in UNKNOWN_NUMBERS:
            with pytest.raises(UnknownRevisionError, match=f"no revision {number}: {known}") as told:
                store.load(number)
            assert (told.value.number, told.value.newest) == (number, newest)
        store.add(small, created_at=noon)


def test_a_moment_without_time_zone_is_refused(store: RevisionStore, small: Catalog, noon: datetime) -> None:
    """Nobody could tell when that was."""
    with pytest.raises(ValueError, match="needs a time zone"):
        store.add(small, created_at=noon.replace(tzinfo=None))


def test_progress_is_told(store: RevisionStore, small: Catalog, noon: datetime) -> None:
    """Rows written rise to rows in all, over steps of at most 1,000."""
    many = small_catalog()
    many["items"] += [many["items"][-1] | {"sku": f"SPACER-{number}"} for number in range(6, 2506)]
    told: list[tuple[int, int]] = []
    store.add(Catalog.model_validate(many), created_at=noon, progress=lambda done, total: told.append((done, total)))
    done, totals = zip(*told, strict=True)
    assert list(done) == sorted(set(done))
    assert set(totals) == {done[-1]}
    assert max(after - before for before, after in zip((0, *done), done, strict=False)) == 1000


NOT_CHECKED: dict[str, dict[str, Any]] = {
    "doubled id": {"fuels": [*small_catalog()["fuels"], small_catalog()["fuels"][0]]},
}


@pytest.mark.parametrize("change", NOT_CHECKED.values(), ids=NOT_CHECKED)
def test_an_unchecked_catalog_leaves_no_trace(
    store: RevisionStore, database: Database, small: Catalog, noon: datetime, change: dict[str, Any]
) -> None:
    """The tables refuse what was not checked; nothing stays, and its number is still free."""
    store.add(small, created_at=noon)
    with pytest.raises(RowsRefusedError) as told:
        store.add(Catalog.model_validate(small_catalog() | change), created_at=noon)
    assert "\n" not in str(told.value)
    with database.reading() as connection:
        assert connection.execute(text("SELECT max(since) FROM catalog_object")).scalar_one() == 1
    assert store.add(small, created_at=noon) == 2


def test_an_interrupted_add_leaves_no_trace(store: RevisionStore, small: Catalog, noon: datetime) -> None:
    """An interrupt within the progress undoes all."""

    def stop(done: int, total: int) -> None:
        if done > total / 2:
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        store.add(small, created_at=noon, progress=stop)
    assert store.latest() is None
    assert store.add(small, created_at=noon) == 1


def test_others_read_on_and_write_later(empty_url: str, store: RevisionStore, small: Catalog, noon: datetime) -> None:
    """During an add the others see the old revision at once; a second add gives up when its patience ends."""
    store.add(small, created_at=noon)
    seen: list[object] = []

    def meanwhile(done: int, total: int) -> None:
        if done == total:
            with closing(open_database(empty_url, wait_ms=50)) as other_database:
                other = RevisionStore(other_database)
                seen.extend([other.latest(), other.load(1) == small])
                with pytest.raises(StorageBusyError) as told:
                    other.add(small, created_at=noon)
                seen.append(told.value.code)

    dearer = Catalog.model_validate(changed(small_catalog(), {"/items/0/price": 5}))
    assert store.add(dearer, created_at=noon, progress=meanwhile) == 2
    assert seen == [1, True, "storage-busy"]


def test_a_revision_writes_what_changed(store: RevisionStore, database: Database, noon: datetime) -> None:
    """Objects that stay, in their order, are written once, whatever goes, comes or moves around them."""
    first = small_catalog()
    items = first["items"]
    dearer = {**items[3], "price": 77}
    turns: list[tuple[list[Any], int]] = [
        (items, 1 + 1 + sum(len(x) for x in first.values() if isinstance(x, list))),
        (items, 0),
        ([*items[:3], dearer, *items[4:]], 1),
        ([*items[:3], {**items[3], "sku": "NEW", "ports": []}, dearer, *items[4:]], 1),
        ([*items[1:3], dearer, *items[4:], items[0]], 1),
        ([items[-1], *items[:-1]], 3),
        (list(reversed(items)), len(items) - 2),
    ]
    written = 0
    for number, (told, count) in enumerate(turns, 1):
        catalog = Catalog.model_validate(first | {"items": told})
        store.add(catalog, created_at=noon)
        with database.reading() as connection:
            rows = connection.execute(text("SELECT count(*) FROM catalog_object")).scalar_one()
        assert (number, rows - written) == (number, count)
        written = rows
    for number, (told, _) in enumerate(turns, 1):
        assert store.load(number) == Catalog.model_validate(first | {"items": told})


def test_positions_that_run_out_of_room_are_made_anew(store: RevisionStore, noon: datetime) -> None:
    """Sixty objects one after the other between the same two: more than a double can halve."""
    catalog = small_catalog()
    model = catalog["items"][-1]
    for nth in range(60):
        catalog["items"].insert(1, {**model, "sku": f"NEW-{nth}"})
        number = store.add(Catalog.model_validate(catalog), created_at=noon)
    assert store.load(number) == Catalog.model_validate(catalog)


TAMPERING = {
    "a price": (
        "UPDATE catalog_object SET document = replace(document, 'price', 'mass_g') WHERE key = 'RAIL-S'",
        "its digest is",
    ),
    "an item gone": ("DELETE FROM catalog_object WHERE key = 'LINE-F6'", "its digest is"),
    "an order": ("UPDATE catalog_object SET position = 9 - position WHERE section = 'materials'", "its digest is"),
    "the digest": ("UPDATE revision SET digest = 'none'", "its digest is"),
    "the policies": ("DELETE FROM catalog_object WHERE section = 'policies'", "its digest is"),
    "a shape": (
        "UPDATE catalog_object SET document = replace(document, 'OVC', '') WHERE section = 'maker'",
        "its digest is",
    ),
}


@pytest.mark.parametrize(("statement", "reason"), TAMPERING.values(), ids=TAMPERING)
def test_a_changed_revision_is_told(
    store: RevisionStore, database: Database, small: Catalog, noon: datetime, statement: str, reason: str
) -> None:
    """A revision that was changed by hand is not given out as the one that was published; others are."""
    store.add(small, created_at=noon)
    with database.writing() as connection:
        assert connection.execute(text(statement)).rowcount >= 1
    with pytest.raises(DamagedRevisionError, match=reason) as told:
        store.load(1)
    assert told.value.number == 1
    assert store.load(store.add(small, created_at=noon)) == small


def test_the_digest_stays_the_same(small: Catalog) -> None:
    """Revisions published by earlier versions must still be known: this digest may never change."""
    first = changed(small.model_dump(exclude_none=True), {"/joints/2/turns_past_hand": 2.0})
    digest = packed(Catalog.model_validate(first)).digest()
    assert digest == "441d37bd9e0d7302435ca33ea3504975a447478aed0e49d3e759693ef79bbc0d"
