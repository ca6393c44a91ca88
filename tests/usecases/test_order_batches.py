"""The work at a batch of orders: claimed by one worker for a while, each order judged whatever befalls another."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from io import BytesIO
from typing import Any

import pytest

from service.domain.work import AbandonedError, TooCostlyError
from service.storage.order_batches import OrderBatchStore
from service.usecases import order_batches
from service.usecases.errors import NotFoundError
from service.usecases.library import Library
from service.usecases.long_work import LongWorkError
from service.usecases.order_batches import COMPLETE, LEASE_S, STEP_ORDERS, OrderBatches, too_costly
from service.usecases.order_sheet import SheetError
from tests.usecases.counting_store import CountingStore

ORDERS = STEP_ORDERS + 2


def sheet(orders: int) -> BytesIO:
    """A file with so many orders of one part each."""
    rows = "".join(f"order-{place},brook,TRUNK-8,1\n" for place in range(orders))
    return BytesIO(f"order,chassis,sku,qty\n{rows}".encode())


@pytest.fixture(name="batches")
def _batches(library: Library, store: CountingStore) -> OrderBatches:
    return OrderBatches(library, OrderBatchStore(store._database))


@pytest.fixture(name="other")
def _other(library: Library, store: CountingStore) -> OrderBatches:
    """Another worker at the same batches."""
    return OrderBatches(library, OrderBatchStore(store._database))


def test_a_batch_is_judged_step_by_step(batches: OrderBatches) -> None:
    """Each claim has the next orders; when none is left, the results stand in the order of the file."""
    id_ = batches.keep(sheet(ORDERS))
    sizes = []
    while (claim := batches.claim(id_)).orders:
        sizes.append(len(claim.orders))
        batches.record(claim, [batches.judge(claim, order) for order in claim.orders])
    assert sizes == [STEP_ORDERS, 2]
    progress = batches.progress(id_)
    assert (progress.judged, progress.total, progress.is_done, progress.needs_worker) == (ORDERS, ORDERS, True, False)
    assert [order.name for order, _ in batches.results(id_)] == [f"order-{place}" for place in range(ORDERS)]


def test_nobody_takes_what_another_works_at(
    batches: OrderBatches, other: OrderBatches, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Until that gives no sign of life any more; then the work is taken over, and it needs a worker until it is."""
    id_ = batches.keep(sheet(2))
    assert len(batches.claim(id_).orders) == 2
    assert other.claim(id_).orders == ()
    assert not other.progress(id_).needs_worker
    later = datetime.now(UTC) + timedelta(seconds=LEASE_S + 1)

    class Later(datetime):
        @classmethod
        def now(cls, tz: Any = None) -> "Later":
            return cls.fromtimestamp(later.timestamp(), tz)

    monkeypatch.setattr(order_batches, "datetime", Later)
    assert other.progress(id_).needs_worker
    assert len(other.claim(id_).orders) == 2
    assert batches.claim(id_).orders == ()


def test_an_order_that_cannot_be_judged_spoils_no_other(
    batches: OrderBatches, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    """It is told as a fault of the service's own, and logged; what ends a question is passed on to who asks."""
    id_ = batches.keep(sheet(2))
    claim = batches.claim(id_)
    judge = order_batches.outcome_of

    def fails_once(*given: Any) -> Any:
        if given[1].name == "order-0":
            raise ZeroDivisionError
        return judge(*given)

    monkeypatch.setattr(order_batches, "outcome_of", fails_once)
    batches.record(claim, [batches.judge(claim, order) for order in claim.orders])
    (_, broken), (_, sound) = batches.results(id_)
    assert ["service's own" in str(outcome) for outcome in (broken, sound)] == [True, False]
    assert "could not be judged" in caplog.text


@pytest.mark.parametrize("ending", [TooCostlyError(1, "order"), AbandonedError(), LongWorkError()])
def test_what_ends_a_question_is_for_who_asks(
    batches: OrderBatches, monkeypatch: pytest.MonkeyPatch, ending: Exception
) -> None:
    """It is no outcome: too much work goes to a slower lane first, and is an outcome of its own after that."""

    def ends(*_: Any) -> None:
        raise ending

    claim = batches.claim(batches.keep(sheet(1)))
    monkeypatch.setattr(order_batches, "outcome_of", ends)
    with pytest.raises(type(ending)):
        batches.judge(claim, claim.orders[0])
    costly = too_costly(claim.orders[0])
    assert costly.verdict not in (None, COMPLETE)
    assert "more work" in str(costly.outcome)
    assert replace(costly, verdict=None, outcome=None) == claim.orders[0]


def test_what_is_no_batch(batches: OrderBatches) -> None:
    """A file without an order; an id that nobody was given."""
    with pytest.raises(SheetError):
        batches.keep(sheet(0))
    with pytest.raises(NotFoundError):
        batches.claim("unknown")
    with pytest.raises(NotFoundError):
        batches.order(batches.keep(sheet(1)), 1)
