"""Laws of sizing and supply on random catalogs."""

from dataclasses import replace
from math import isclose
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.documents.request import BillRequest
from service.domain.answer import Bill
from service.domain.engine_side import Pump
from service.domain.request import Request
from service.engineering import PumpCurve
from service.usecases.find_bills import name_of
from service.usecases.library import Edition
from service.usecases.resolve_request import resolve_request
from tests.support.engine import edition
from tests.support.random_catalogs import random_catalog
from tests.support.random_requests import random_request

JUST = 1e-6
CURVE = ((0.0, 500.0), (300.0, 400.0), (900.0, 100.0))

few = settings(max_examples=60, deadline=None, derandomize=True)


def answered(seed: int) -> tuple[Edition, Request, tuple[Bill, ...]]:
    """The bills of a random request of a random catalog, each by itself."""
    rng = Random(seed)
    catalog = random_catalog(rng)
    ready = edition(catalog)
    asked = random_request(rng, catalog, wish_percent=10) | {"group_variants": False}
    request = resolve_request(BillRequest.model_validate(asked), ready.revision)
    return ready, request, ready.engine.answer(request).bills


@few
@given(st.integers(0, 10**6))
def test_a_bill_is_valid_up_to_its_largest_power_and_not_beyond(seed: int) -> None:
    """Just under the largest power the bill is still one, just over it no longer."""
    ready, request, bills = answered(seed)
    for bill in bills:
        most = ready.assessor.assess(bill, request).sizing.power_kw
        if most is None:
            continue
        under = replace(request, power_kw=most * (1 - JUST))
        over = replace(request, power_kw=most * (1 + JUST))
        assert most >= request.power_kw * (1 - JUST)
        assert ready.engine.recall(under, name_of(bill)) is not None
        assert ready.engine.recall(over, name_of(bill)) is None


@few
@given(st.integers(0, 10**6), st.floats(1.01, 3))
def test_a_larger_pump_moves_more_and_runs_out_later(seed: int, larger: float) -> None:
    """More flow at every pressure never settles at less, and what is left is what is moved less what is burnt."""
    ready, request, bills = answered(seed)
    for bill in bills:
        supplies = []
        for scale in (1.0, larger):
            pump = Pump(PumpCurve(tuple((kpa, l_h * scale) for kpa, l_h in CURVE)))
            supplies.append(ready.assessor.assess(bill, replace(request, own_pump=pump)).supply)
        small, large = supplies
        assert small is not None
        assert large is not None
        assert large.pump_l_h >= small.pump_l_h * (1 - 1e-9)
        assert large.most_l_h >= small.most_l_h * (1 - 1e-9)
        assert isclose(small.left_l_h, small.pump_l_h - bill.carried.demand_l_h, abs_tol=1e-9)
        assert small.kpa >= request.pressure_kpa


def test_without_a_pump_nothing_is_told() -> None:
    """No curve, no operating point and no check of it."""
    for seed in range(20):
        ready, request, bills = answered(seed)
        for bill in bills:
            found = ready.assessor.assess(bill, request)
            assert found.supply is None
            assert "pump" not in {check.check for check in found.checks}


@pytest.mark.parametrize(("l_h", "verdict"), [(1e4, "ok"), (0.01, "caution")])
def test_a_pump_that_cannot_feed_the_engine_is_cautioned_of(l_h: float, verdict: str) -> None:
    """The verdict follows what is left over."""
    pump = Pump(PumpCurve(((0.0, l_h), (1_000.0, l_h))))
    told = set()
    for seed in range(20):
        ready, request, bills = answered(seed)
        for bill in bills:
            checks = ready.assessor.assess(bill, replace(request, own_pump=pump)).checks
            told |= {check.verdict for check in checks if check.check == "pump"}
    assert told == {verdict}
