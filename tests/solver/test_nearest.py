"""The bill nearest to an order, on a catalog with some hundred bills: the one that looking at all of them finds."""

from collections import Counter
from dataclasses import replace
from random import Random
from typing import Any

import pytest

from service.documents.request import BillRequest
from service.domain.answer import Bill
from service.domain.orders import Order
from service.domain.request import Request
from service.solver.orders.nearest import nearest_first
from service.usecases.library import Edition
from service.usecases.resolve_request import resolve_request
from tests.solver.medium import REQUESTS, medium_catalog, medium_request
from tests.support.builders import Json
from tests.support.engine import edition

ALL_BILLS = 5_000
HAD: Json = {"have": [{"sku": "PLUG-N", "qty": 1}, {"sku": "ADAPT-O", "qty": 1}, {"sku": "RAIL-B", "qty": 1}]}


@pytest.fixture(name="medium", scope="module")
def _medium() -> Edition:
    return edition(medium_catalog())


def requested(medium: Edition, name: str, **more: Any) -> Request:
    asked = BillRequest.model_validate(medium_request(name, group_variants=False, **more))
    return resolve_request(asked, medium.revision)


def ordered(medium: Edition, request: Request, units: Json, sets: int = 1) -> Order:
    items = medium.revision.items
    compared = {sku: qty for sku, qty in units.items() if items[sku].sold}
    list_price = sum(qty * items[sku].price for sku, qty in compared.items())
    return Order(compared, dict(request.have), sets, list_price)


def needed(bill: Bill) -> Counter[str]:
    units = Counter(sku for placed in bill.chains for sku in placed.chain.skus[int(placed.supplied) :])
    units[bill.rail.sku] += bill.banks
    return units


def rank(bill: Bill, order: Order, medium: Edition) -> tuple[object, ...]:
    """What makes a bill near, read off the bill."""
    items = medium.revision.items
    sold = {sku: qty for sku, qty in needed(bill).items() if items[sku].sold}
    got = Counter({sku: max(0, qty * order.sets - order.had.get(sku, 0)) for sku, qty in sold.items()})
    units = Counter(order.units)
    drop = round(max(path.drop_kpa for path in bill.paths), 3)
    chains = sorted(f"{placed.spot}:{placed.chain.text}" for placed in bill.chains)
    changes = (got - units).total() + (units - got).total()
    return changes, bill.price, bill.pieces, drop, chains, bill.rail.sku


def random_units(rng: Random, bills: list[Bill], medium: Edition) -> Json:
    """What some bill needs, with mistakes; or any parts at all."""
    parts = [sku for sku, item in medium.revision.items.items() if item.ports]
    units = needed(rng.choice(bills)) if rng.random() < 0.8 else Counter[str]()
    for _ in range(rng.randint(0, 4)):
        units[rng.choice(parts)] += rng.choice([-1, 1, 1, 2])
    return dict(+units)


@pytest.mark.parametrize("facts", [{}, HAD], ids=["nothing had", "parts had"])
@pytest.mark.parametrize("name", REQUESTS)
def test_the_nearest_of_all_bills(medium: Edition, name: str, facts: Json) -> None:
    """In every kind of request, for one set, and for several where stock does not matter."""
    request = requested(medium, name, **facts)
    bills = list(medium.engine.answer(replace(request, limit=ALL_BILLS)).bills)
    assert len(bills) > 10
    rng = Random(name)
    for _ in range(25):
        order = ordered(
            medium, request, random_units(rng, bills, medium), 1 if request.in_stock_only else rng.choice([1, 1, 3])
        )
        [approach] = medium.engine.approaches([request], order)
        nearest = approach.nearest
        assert nearest is not None
        expected = min(rank(bill, order, medium) for bill in bills)
        assert nearest.rank[1:] == expected[1:], order.units
        assert (nearest.difference.changes, rank(nearest.bill, order, medium)) == (expected[0], expected), order.units


@pytest.mark.parametrize("name", ["plain", "gauge", "budget"])
def test_an_order_of_all_there_is(medium: Edition, name: str) -> None:
    """Every part is ordered once, or thrice: most bills differ from it alike."""
    request = requested(medium, name)
    bills = list(medium.engine.answer(replace(request, limit=ALL_BILLS)).bills)
    for qty in (1, 3):
        units = {sku: qty for sku, item in medium.revision.items.items() if item.ports}
        order = ordered(medium, request, units)
        nearest = medium.engine.approaches([request], order)[0].nearest
        assert nearest is not None
        assert rank(nearest.bill, order, medium) == min(rank(bill, order, medium) for bill in bills)


def test_no_bill_is_nearer_than_the_bound(medium: Edition) -> None:
    """What is told before anything is settled holds; without a bill there is no bound."""
    rng = Random(7)
    for name in REQUESTS:
        request = requested(medium, name)
        bills = list(medium.engine.answer(replace(request, limit=ALL_BILLS)).bills)
        for _ in range(10):
            order = ordered(medium, request, random_units(rng, bills, medium))
            [approach] = medium.engine.approaches([request], order)
            assert approach.at_least is not None
            assert approach.nearest is not None
            assert approach.at_least <= approach.nearest.cost
            assert approach.at_least.changes + sum(order.units.values()) <= approach.nearest.difference.changes
    nothing = requested(medium, "plain", exclude=["PLUG-B8", "PLUG-N", "PLUG-O"])
    [none] = medium.engine.approaches([nothing], ordered(medium, nothing, {"PLUG-B8": 1}))
    assert (none.at_least, none.nearest) == (None, None)


def test_layouts_that_cannot_be_among_the_nearest_are_left_alone(medium: Edition) -> None:
    """Those that may be are all told, by changes, then by price, then as they stand."""
    layouts = [layout for layout in medium.revision.layouts.values() if layout.banks == 1]
    requests = [replace(requested(medium, "plain"), layout=layout) for layout in (*layouts, *layouts)]
    bill = medium.engine.answer(requests[1]).bills[0]
    order = ordered(medium, requests[1], dict(needed(bill)))
    approaches = medium.engine.approaches(requests, order)
    found = nearest_first(approaches, 2)
    assert [(place, nearest.difference.changes) for place, nearest in found] == [(1, 0), (len(layouts) + 1, 0)]
    assert [place for place, one in enumerate(approaches) if "nearest" in vars(one)] == [1, len(layouts) + 1]


def test_all_that_tie_are_told_up_to_a_bound(medium: Edition) -> None:
    """The same layout five times: more than are wanted, no more than `most`."""
    requests = [requested(medium, "plain")] * 5
    order = ordered(medium, requests[0], dict(needed(medium.engine.answer(requests[0]).bills[0])))
    approaches = medium.engine.approaches(requests, order)
    assert [place for place, _ in nearest_first(approaches, 2, 4)][:4] == [0, 1, 2, 3]
    assert len(nearest_first(approaches, 2, 9)) == 5
