"""A bill is given again by its name, as it was listed; what is no bill of its request is not."""

from dataclasses import replace
from typing import Any

import pytest

from service.documents.request import BillRequest
from service.domain.answer import Bill
from service.domain.request import Request
from service.explain.report import report_bill
from service.explain.telling import Telling
from service.usecases.find_bills import name_of
from service.usecases.library import Edition
from service.usecases.resolve_request import resolve_request
from tests.solver.medium import REQUESTS, medium_catalog, medium_request
from tests.support.builders import FACTORY, GONE, HOSE, LINKED, RETURN, Json, catalog, layout, own_hose
from tests.support.engine import edition


@pytest.fixture(scope="module")
def medium() -> Edition:
    return edition(medium_catalog())


def resolved(ready: Edition, request: Json) -> Request:
    return resolve_request(BillRequest.model_validate(request), ready.revision)


def told(bill: Bill, request: Request, ready: Edition) -> Any:
    return report_bill(bill, Telling(request, ready.revision), "key", ready.assessor.assess(bill, request))


def assert_recalled(ready: Edition, request: Request) -> int:
    """Assert that every bill listed is given again alike, under a name of its own; how many there were."""
    bills = ready.engine.answer(request).bills
    names = [name_of(bill) for bill in bills]
    assert all(names.index(name) == place for place, name in enumerate(names))
    for bill, name in zip(bills, names, strict=True):
        again = ready.engine.recall(request, name)
        assert again is not None
        assert told(again, request, ready) == told(bill, request, ready)
    return len(bills)


@pytest.mark.parametrize("grouped", [False, True], ids=["bills", "groups"])
@pytest.mark.parametrize("name", REQUESTS)
def test_every_listed_bill(medium: Edition, name: str, grouped: bool) -> None:
    """Every listed bill of the medium catalog is given again, in every kind of request."""
    request = resolved(medium, medium_request(name, limit=30, group_variants=grouped, order_by="drop"))
    assert assert_recalled(medium, request) > 0


@pytest.mark.parametrize(
    "request_",
    [
        pytest.param(HOSE, id="hose"),
        pytest.param(RETURN | {"gauge": "any"}, id="return"),
        pytest.param(LINKED | {"gauge": "any"}, id="link"),
        pytest.param(FACTORY, id="two placements"),
    ],
)
def test_every_layout(request_: Json) -> None:
    """So is every bill of every layout of the small catalog."""
    ready = edition(catalog({"chassis/brook/hookups/0/spots": GONE}))
    assert assert_recalled(ready, resolved(ready, request_)) > 0


def test_shared_feeds() -> None:
    """So are bills with two feeds into one rail, and with an empty chain."""
    feed = {"duty": "feed", "hookup": own_hose()}
    direct = {"duty": "feed", "hookup": own_hose("boss-8", "male")}
    ready = edition(catalog({"layouts/-": layout({"left": feed, "right": direct})}))
    assert assert_recalled(ready, resolved(ready, HOSE | {"layout": "own"})) == 1


@pytest.mark.parametrize(
    "change",
    [
        pytest.param({"rail": "RAIL-X"}, id="no such rail"),
        pytest.param({"placement": 1}, id="no such placement"),
        pytest.param({"gauge": "top"}, id="gauge unasked"),
        pytest.param({"chains": {}}, id="no chains"),
        pytest.param(
            {"chains": {"left": ("PLUG-B8",), "right": ("PLUG-B8",), "top": ("PLUG-T",)}}, id="a spot missing"
        ),
        pytest.param(
            {
                "chains": {
                    "centre": ("ADAPT-B8-F6",),
                    "left": ("PLUG-T",),
                    "right": ("PLUG-B8",),
                    "top": ("PLUG-T",),
                }
            },
            id="wrong plug",
        ),
    ],
)
def test_no_such_bill(change: dict[str, Any]) -> None:
    """A name that no bill of the request has is answered by none."""
    ready = edition(catalog())
    request = resolved(ready, HOSE)
    (bill,) = ready.engine.answer(request).bills
    assert ready.engine.recall(request, replace(name_of(bill), **change)) is None


def test_outside_the_limits(medium: Edition) -> None:
    """A bill above the budget or beyond the stock is no bill of that request."""
    free = resolved(medium, medium_request("plain", limit=100, group_variants=False))
    bills = medium.engine.answer(free).bills
    dearest = max(bills, key=lambda bill: bill.price)
    tight = replace(free, max_price=dearest.price - 1)
    assert medium.engine.recall(free, name_of(dearest)) is not None
    assert medium.engine.recall(replace(free, max_price=dearest.price), name_of(dearest)) is not None
    assert medium.engine.recall(tight, name_of(dearest)) is None
    twice = next(bill for bill in bills if [x.chain.text for x in bill.chains].count("PLUG-B8") == 2)
    assert medium.engine.recall(replace(free, in_stock_only=True), name_of(twice)) is None
