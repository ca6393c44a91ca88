"""Batches of orders: kept with their orders, one worker at a time, outcomes once and for all, deleted when old."""

from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from threading import Barrier

import pytest

from service.documents.catalog import Catalog
from service.storage.engine import Database
from service.storage.errors import RowsRefusedError
from service.storage.keeping import BATCH_DAYS
from service.storage.order_batches import BatchOrder, OrderBatchStore, StoredBatch
from service.storage.revisions import RevisionStore

WORKERS = 4
LONGER = timedelta(seconds=30)


@pytest.fixture(name="batches")
def _batches(database: Database, store: RevisionStore, small: Catalog, noon: datetime) -> OrderBatchStore:
    """A store of batches in a database with one revision."""
    store.add(small, created_at=noon)
    return OrderBatchStore(database)


@pytest.fixture(name="batch")
def _batch(noon: datetime) -> StoredBatch:
    return StoredBatch("Xq3vYb0TzLr8mWk2hNc5Ug", 1, noon, "ann", noon + LONGER)


def orders(*verdicts: str | None) -> list[BatchOrder]:
    return [
        BatchOrder(place, f'{{"name":"\u2265 {place} \\u0000"}}', verdict, verdict and f'["{verdict}"]')
        for place, verdict in enumerate(verdicts)
    ]


def test_a_batch_comes_back_as_it_was_kept(batches: OrderBatchStore, batch: StoredBatch) -> None:
    batches.save(batch, orders(None, None))
    kept = batches.get(batch.id)
    assert kept == batch
    assert kept.created_at.tzinfo is UTC
    assert batches.unjudged(batch.id, 9) == orders(None, None)
    assert batches.unjudged(batch.id, 1) == orders(None)
    assert [batches.get(x) for x in ("", "other", "\0", "\ud800", "' OR 1", "A" * 999)] == [None] * 6


def test_outcomes_stand_in_the_order_of_the_file(batches: OrderBatchStore, batch: StoredBatch) -> None:
    """Whenever they come; a batch beside it has its own."""
    other = StoredBatch("other", 1, batch.created_at, "bo", batch.lease_ends)
    batches.save(batch, orders(None, None, None, None))
    batches.save(other, orders(None))
    done = orders("short", "complete", None, "wrong")
    batches.record(batch.id, [done[3], done[0]])
    batches.record(batch.id, [done[1]])
    assert batches.counts(batch.id) == {"short": 1, "complete": 1, "wrong": 1, None: 1}
    assert batches.judged(batch.id) == [done[0], done[1], done[3]]
    assert batches.judged(batch.id, without="complete") == [done[0], done[3]]
    assert batches.judged(batch.id, without="complete", limit=1) == [done[0]]
    assert batches.unjudged(batch.id, 9) == [done[2]]
    assert batches.counts(other.id) == {None: 1}


def test_a_batch_is_one_worker_s_until_its_lease_ends(
    batches: OrderBatchStore, batch: StoredBatch, noon: datetime
) -> None:
    batches.save(batch, orders(None))
    later = noon + 2 * LONGER
    assert batches.claim(batch.id, "ann", noon, noon + LONGER)
    assert not batches.claim(batch.id, "bo", noon, later)
    assert not batches.claim(batch.id, "bo", noon + LONGER, later)
    assert batches.claim(batch.id, "bo", noon + LONGER + timedelta(seconds=1), later)
    assert not batches.claim(batch.id, "ann", noon + LONGER, later)
    assert not batches.claim("nowhere", "ann", later, later)


def test_of_several_who_take_over_one_succeeds(batches: OrderBatchStore, batch: StoredBatch, noon: datetime) -> None:
    batches.save(batch, orders(None))
    together = Barrier(WORKERS)

    def claim(worker: int) -> bool:
        together.wait()
        return batches.claim(batch.id, f"worker {worker}", noon + 2 * LONGER, noon + 3 * LONGER)

    with ThreadPoolExecutor(WORKERS) as threads:
        assert sorted(threads.map(claim, range(WORKERS))) == [False] * (WORKERS - 1) + [True]


def test_old_batches_go_with_their_orders(batches: OrderBatchStore, batch: StoredBatch, noon: datetime) -> None:
    """Nothing finds them any more, and whatever is kept next deletes them."""
    old = replace(batch, created_at=noon - timedelta(days=BATCH_DAYS))
    newer = StoredBatch("newer", 1, noon + LONGER, "ann", noon + LONGER)
    batches.save(old, orders(None, "short"))
    assert batches.get(batch.id) is None
    batches.save(newer, orders(None))
    assert batches.get(newer.id) == newer
    assert batches.counts(batch.id) == {}
    assert batches.counts(newer.id) == {None: 1}
    batches.record(batch.id, orders("short"))
    assert batches.counts(batch.id) == {}


def test_a_batch_of_a_revision_that_is_not_there_is_refused_whole(batches: OrderBatchStore, noon: datetime) -> None:
    with pytest.raises(RowsRefusedError):
        batches.save(StoredBatch("lost", 7, noon, "ann", noon), orders(None))
    assert batches.get("lost") is None
