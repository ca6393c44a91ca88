"""A bill in short: its power and how many of its checks caution, told by bounds, are those of its whole assessment."""

from collections.abc import Iterator
from dataclasses import replace

import pytest

from service.assessment import rail_flow
from service.domain.answer import Bill
from service.domain.request import Request
from service.usecases.library import Edition
from tests.assessment.test_laws import answered

SEEDS = range(40)
NEAR = (1 - 1e-9, 1.0, 1 + 1e-9)


def cases(seed: int) -> Iterator[tuple[Edition, Request, Bill]]:
    """Bills of a random request, at its power and about where pump, injectors or plumbing run out."""
    ready, request, bills = answered(seed)
    for bill in bills[:3]:
        ends = [limit.kw * part for limit in ready.assessor.power(bill, request).limits for part in NEAR]
        for power_kw in (request.power_kw, *[kw for kw in ends if kw > 0]):
            asked = replace(request, power_kw=power_kw, power_told=True)
            for found in ready.engine.answer(asked).bills[:2]:
                yield ready, asked, found


@pytest.mark.parametrize("most_percent", [None, 0.0, 0.02, 1.0])
def test_in_short_as_in_full(most_percent: float | None) -> None:
    """However far the cylinders may differ, in short as many checks caution as in full."""
    told, uneven = 0, 0
    for ready, request, bill in (case for seed in SEEDS for case in cases(seed)):
        policies = replace(ready.revision.policies, max_spread_percent=most_percent)
        object.__setattr__(ready.revision, "policies", policies)
        assessor = ready.assessor.of(request)
        short, whole = assessor.in_short(bill), assessor.assess(bill)
        cautions = [check for check in whole.checks if check.verdict == "caution"]
        assert (short.power.carries_kw, short.cautions) == (whole.power.carries_kw, len(cautions))
        told += len(cautions)
        uneven += any(check.check == "spread" for check in cautions)
    assert told
    assert bool(uneven) == (most_percent == 0.0) or most_percent not in (None, 0.0)


def test_a_bound_that_is_not_sure_has_the_check_worked_out(monkeypatch: pytest.MonkeyPatch) -> None:
    """The bound only ever spares work: without it the same is told."""
    asked = [(*case, case[0].assessor.of(case[1]).in_short(case[2]).cautions) for case in cases(3)]
    monkeypatch.setattr(rail_flow, "_SURELY", 1e12)
    for ready, request, bill, cautions in asked:
        assert ready.assessor.of(request).in_short(bill).cautions == cautions
