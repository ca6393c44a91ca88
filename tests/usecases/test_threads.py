"""Threads that ask one edition at once get what one that is asked in turn answers, and each ends at the same step."""

import sys
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from random import Random
from threading import Barrier
from typing import Any

import pytest
from pydantic_core import to_jsonable_python

from service.documents.explain import ExplainRequest
from service.documents.folder import load_catalog
from service.documents.order import OrderRequest
from service.documents.request import BillRequest
from service.domain.work import Meter, TooCostlyError, metered
from service.usecases.check_order import check_order
from service.usecases.explain_part import explain_in
from service.usecases.find_bills import answer_in
from service.usecases.library import Edition
from tests.support.random_requests import random_facts, random_request

SEED_CATALOG = load_catalog(Path(__file__).parents[2] / "seed_data")
THREADS = 4
BUDGET = 3_000
"""Steps: enough for most questions, so that some end in a refusal."""
Json = dict[str, Any]


@pytest.fixture(autouse=True)
def _hasty_switches() -> Iterator[None]:
    """Threads take turns some hundred times as often as usual."""
    usual_s = sys.getswitchinterval()
    sys.setswitchinterval(2e-5)
    yield
    sys.setswitchinterval(usual_s)


def _questions(rng: Random) -> list[tuple[str, Json]]:
    plain = to_jsonable_python(SEED_CATALOG, exclude_none=True)
    skus = [item["sku"] for item in plain["items"]]
    found: list[tuple[str, Json]] = []
    for _ in range(12):
        asked = random_request(rng, plain)
        chassis = next(one for one in plain["chassis"] if one["id"] == asked["chassis"])
        lines = [{"sku": sku, "qty": rng.randint(1, 3)} for sku in rng.sample(skus, 3)]
        found += [
            ("bills", asked | random_facts(rng, plain, chassis)),
            ("explain", {"request": asked, "sku": rng.choice(skus)}),
            ("order", {"chassis": chassis["id"], "layout": asked["layout"], "lines": lines}),
        ]
    return found


def _answered(edition: Edition, question: tuple[str, Json]) -> object:
    """What is answered, or that it is too costly, with the steps that it took."""
    kind, asked = question
    meter = Meter(BUDGET)
    with metered(meter):
        try:
            if kind == "bills":
                answer: object = answer_in(edition, BillRequest.model_validate(asked))
            elif kind == "explain":
                answer = explain_in(edition, ExplainRequest.model_validate(asked))
            else:
                answer = check_order(edition, OrderRequest.model_validate(asked))
        except TooCostlyError as error:
            return error.doing
    return to_jsonable_python(answer), meter.spent


def test_threads_at_once_and_one_alone_give_the_same() -> None:
    questions = _questions(Random(14))
    shared = Edition(1, SEED_CATALOG)
    start = Barrier(THREADS)

    def ask_all(seed: int) -> list[object]:
        mixed = list(range(len(questions)))
        Random(seed).shuffle(mixed)
        start.wait()
        found = {place: _answered(shared, questions[place]) for place in mixed}
        return [found[place] for place in range(len(questions))]

    with ThreadPoolExecutor(THREADS) as pool:
        at_once = list(pool.map(ask_all, range(THREADS)))
    alone = Edition(1, SEED_CATALOG)
    for place, question in enumerate(questions):
        expected = _answered(alone, question)
        assert all(answers[place] == expected for answers in at_once), question
    refused = sum(isinstance(one, str) for one in at_once[0])
    assert 0 < refused < len(questions) / 2, "some questions end in a refusal, most in an answer"
