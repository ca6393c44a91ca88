"""The work at batches beside people: however long each order waits for its turn, what was judged is kept soon."""

import asyncio
from io import BytesIO

import pytest

from service.storage.order_batches import OrderBatchStore
from service.usecases.library import Library
from service.usecases.order_batches import OrderBatches
from service.web import batch_work
from service.web.batch_work import BatchWork
from service.web.lanes import Lanes
from service.web.resources import Resources

SHEET = b"order,chassis,sku,qty\n" + b"".join(b"order-%d,brook,TRUNK-8,1\n" % place for place in range(3))


@pytest.mark.parametrize(("step_s", "kept"), [(60.0, [3, 3]), (-1.0, [1, 2])])
def test_a_step_ends_in_time(library: Library, monkeypatch: pytest.MonkeyPatch, step_s: float, kept: list[int]) -> None:
    """After the time of a step what was judged is kept, and the batch is claimed anew for the rest."""
    monkeypatch.setattr(batch_work, "_STEP_S", step_s)
    batches = OrderBatches(library, OrderBatchStore(library._store._database))
    work = BatchWork(Resources(library, Lanes()), batches)
    id_ = batches.keep(BytesIO(SHEET))

    async def judged_after_each_step() -> list[int]:
        judged = []
        for _ in kept:
            await work._has_more(id_)
            judged.append(batches.progress(id_).judged)
        return judged

    assert asyncio.run(judged_after_each_step()) == kept
