"""A bill in short: its power and how many of its checks caution, told by bounds, are those of its whole assessment."""

from dataclasses import replace
from itertools import product
from pathlib import Path

import pytest

from service.assessment import Assessor, rail_flow
from service.documents.folder import load_catalog
from service.domain.answer import Bill
from service.domain.request import Request
from service.domain.revision import Revision
from service.usecases.library import open_edition

CARS = 3
NEAR = (1.0, 1 + 1e-9, 1.1)
Cases = list[tuple[Request, Bill]]


@pytest.fixture(scope="module")
def seeded() -> tuple[Revision, Cases]:
    """The catalog of `seed_data/`, and bills at stock power and about where pump, injectors or plumbing run out."""
    edition = open_edition(1, load_catalog(Path(__file__).parents[2] / "seed_data"))
    revision, found = edition.revision, []
    cars, fuel = list(revision.chassis.values())[:CARS], next(iter(revision.fuels.values()))
    for car, layout in product(cars, revision.layouts.values()):
        request = Request(car, layout, fuel, car.stock_kw, power_told=True, limit=2)
        for bill in edition.engine.answer(request).bills:
            ends = [limit.kw * part for limit in edition.assessor.power(bill, request).limits for part in NEAR]
            asked = [replace(request, power_kw=kw) for kw in (car.stock_kw, *ends) if kw > 0]
            found += [(one, again) for one in asked for again in edition.engine.answer(one).bills[:1]]
    return revision, found


@pytest.mark.parametrize("most_percent", [None, 0.0, 0.01, 1.0])
def test_in_short_as_in_full(seeded: tuple[Revision, Cases], most_percent: float | None) -> None:
    """However far the cylinders may differ, in short as many checks caution as in full."""
    revision, cases = seeded
    assessor = Assessor(replace(revision, policies=replace(revision.policies, max_spread_percent=most_percent)))
    seen: set[str] = set()
    for request, bill in cases:
        mine = assessor.of(request)
        short, whole = mine.in_short(bill), mine.assess(bill)
        cautions = [check.check for check in whole.checks if check.verdict == "caution"]
        assert (short.power.carries_kw, short.cautions) == (whole.power.carries_kw, len(cautions))
        seen.update(cautions)
    assert "pump" in seen
    assert "spread" in seen or most_percent != 0.0


def test_a_bound_only_spares_work(seeded: tuple[Revision, Cases], monkeypatch: pytest.MonkeyPatch) -> None:
    """Where it is never sure the same is told."""
    revision, cases = seeded
    told = [Assessor(revision).of(request).in_short(bill).cautions for request, bill in cases[:20]]
    monkeypatch.setattr(rail_flow, "_SURELY", 1e9)
    assert [Assessor(revision).of(request).in_short(bill).cautions for request, bill in cases[:20]] == told
