"""The standing cases of the seed catalog: enough of them, of many kinds, and every one is true."""

from collections import Counter
from pathlib import Path
from typing import Any

import pytest

from service.documents.contract import FileCase
from service.documents.folder import load_catalog
from service.usecases.contract_cases import contract_cases, question_of
from service.usecases.find_bills import answer_in
from service.usecases.library import Edition

EDITION = Edition(1, load_catalog(Path(__file__).parents[2] / "seed_data"))
CASES = contract_cases(EDITION).cases


def _skus(bill: Any) -> set[str]:
    return {line["sku"] for line in bill["lines"]}


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.id)
def test_every_case_is_true(case: FileCase) -> None:
    """Each promise holds of the answer; without a bill the wishes in conflict are told."""
    promises, answer = case.promises, answer_in(EDITION, question_of(case.request))
    assert bool(answer["bills"]) is promises.has_bill
    if not promises.has_bill:
        assert answer["conflicts"]
        return
    first = answer["bills"][0]
    assert set(promises.contains or ()) <= _skus(first)
    assert not any(set(promises.never_contains or ()) & _skus(bill) for bill in answer["bills"])
    assert promises.price is not None
    assert promises.price.at_least <= first["price"] <= promises.price.at_most
    assert promises.key in (None, first["key"])


def test_the_cases_are_many_and_varied() -> None:
    """Every layout, every fuel, every car; wishes of most kinds; bills and none."""
    assert len(CASES) >= 44
    asked = [case.request.model_dump(exclude_defaults=True) for case in CASES]
    catalog = EDITION.catalog
    assert {one["layout"] for one in asked} == {layout.id for layout in catalog.layouts}
    assert {one["chassis"] for one in asked} == {chassis.id for chassis in catalog.chassis}
    assert {one.get("fuel", catalog.fuels[0].id) for one in asked} == {fuel.id for fuel in catalog.fuels}
    wishes = Counter(name for one in asked for name in one)
    assert {"addons", "gauge", "finish", "have", "own_rail", "exclude", "max_price", "clearances"} <= set(wishes)
    assert sum(not case.promises.has_bill for case in CASES) >= 8
    assert sum(case.promises.key is not None for case in CASES) >= 10
