"""Whatever pump, injectors, regulator and boost a request tells, at the bounds of each: an answer of real numbers."""

import json
from itertools import product
from pathlib import Path
from random import Random
from typing import Any

import pytest

from service.documents.folder import load_catalog
from service.documents.request import BillRequest
from service.usecases.find_bills import answer_in
from service.usecases.library import Edition

SEED = Edition(1, load_catalog(Path(__file__).parents[2] / "seed_data"))
LEAST = 5e-324
"""The least number above 0 that there is."""
INJECTORS: list[Any] = [
    None,
    *(
        {"rated_kpa": rated, "static_l_h": static} | duty
        for rated in (1, 100_000)
        for static in (0.1, 20_000)
        for duty in ({}, {"max_duty": 0.01}, {"max_duty": 1})
    ),
]
VOLTS: list[Any] = [None, {"rated": 1, "fed": 100}, {"rated": 100, "fed": 1}]
PUMPS: list[Any] = [
    None,
    [{"kpa": 0, "l_h": LEAST}],
    [{"kpa": LEAST, "l_h": 20_000}, {"kpa": 1e-6, "l_h": 1e-6}],
    [{"kpa": 0, "l_h": 20_000}, {"kpa": 100_000, "l_h": 20_000}],
]
REGULATORS: list[Any] = [
    None,
    {"set_kpa": LEAST, "follows": "manifold"},
    {"set_kpa": 100_000, "follows": "atmosphere"},
]
SET_UPS = [
    ("fennic-20", "factory-line"),
    ("fennic-20", "return-8-regulator"),
    ("fennic-20", "twin-feed-8-return"),
    ("morrow-46", "pair-return-8-link"),
]


@pytest.mark.parametrize(("chassis", "layout"), SET_UPS)
def test_every_answer_is_of_real_numbers(chassis: str, layout: str) -> None:
    told = list(product(INJECTORS, VOLTS, PUMPS, REGULATORS, (0, 1_000), ("price", "power")))
    for injectors, volts, pump, regulator, boost_kpa, order_by in Random(15).sample(told, 60):
        asked = {"injectors": injectors, "pump_v": volts, "pump": pump, "regulator": regulator, "boost_kpa": boost_kpa}
        request = asked | {"chassis": chassis, "layout": layout, "order_by": order_by, "limit": 2}
        answer = answer_in(SEED, BillRequest.model_validate(request))
        assert json.dumps(answer, allow_nan=False), request
