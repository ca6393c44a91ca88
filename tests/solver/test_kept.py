"""What an engine keeps for the next question has an end, and no answer hangs on it."""

import gc
from collections.abc import Iterator
from functools import _lru_cache_wrapper, cache
from pathlib import Path
from random import Random
from types import FunctionType, ModuleType
from typing import Any

import pytest

from service.documents.catalog import Catalog
from service.documents.explain import ExplainRequest
from service.documents.folder import load_catalog
from service.documents.order import OrderRequest
from service.documents.request import BillRequest
from service.solver.judge import spots
from service.solver.judge.shelf import Shelf
from service.usecases.check_order import check_order
from service.usecases.explain_part import explain_in
from service.usecases.find_bills import answer_in
from service.usecases.library import Edition
from tests.support.random_requests import random_request

SEED_CATALOG = Path(__file__).parents[2] / "seed_data"
Json = dict[str, Any]


@cache
def seed() -> tuple[Catalog, Json]:
    catalog = load_catalog(SEED_CATALOG)
    return catalog, catalog.model_dump(mode="json", exclude_none=True)


def ask(edition: Edition, requests: list[Json]) -> list[object]:
    """What is answered to requests for bills; for every third, also why a part stands and how near an order comes."""
    _, plain = seed()
    answers: list[object] = []
    for place, request in enumerate(requests):
        answers.append(answer_in(edition, BillRequest.model_validate(request)))
        if place % 3 == 0:
            sku = plain["items"][place]["sku"]
            order = {"chassis": request["chassis"], "lines": [{"sku": sku, "qty": 2}]}
            answers.append(check_order(edition, OrderRequest.model_validate(order)))
            question = ExplainRequest.model_validate({"request": request, "sku": sku})
            answers.append(explain_in(edition, question))
    return answers


def varied(number: int) -> list[Json]:
    rng = Random(14)
    return [random_request(rng, seed()[1]) for _ in range(number)]


def test_answers_hang_on_nothing_that_is_kept(monkeypatch: pytest.MonkeyPatch) -> None:
    """An engine that keeps no plan and no set of chains but the last answers as one that keeps all."""
    requests = varied(9)
    expected = ask(Edition(1, seed()[0]), requests)
    monkeypatch.setattr(spots, "MOST_PLANS", 1)
    monkeypatch.setattr(spots, "MOST_PICKED", 1)
    assert ask(Edition(1, seed()[0]), requests) == expected


def test_every_cache_of_an_edition_has_an_end() -> None:
    edition = Edition(1, seed()[0])
    ask(edition, varied(9))
    caches = [x for x in kept_by(edition) if isinstance(x, _lru_cache_wrapper)]
    names = {getattr(one.__wrapped__, "__qualname__", "") for one in caches if one.cache_info().maxsize is None}
    assert len(caches) > 100
    assert names == set()


def test_all_tables_keep_their_sets_together() -> None:
    """One shelf for the sets of all tables, so that more tables keep no more."""
    edition = Edition(1, seed()[0])
    ask(edition, varied(9))
    shelves = [x for x in kept_by(edition) if isinstance(x, Shelf)]
    assert sorted(shelf.most for shelf in shelves) == sorted((spots.MOST_PLANS, spots.MOST_PICKED))
    assert all(0 < shelf.weight <= shelf.most for shelf in shelves)


def kept_by(root: object) -> Iterator[object]:
    """Whatever an object leads to, each once; not by way of classes and modules, which are everybody's."""
    seen: dict[int, object] = {id(root): root}
    front = [root]
    while front:
        found = front.pop()
        yield found
        for other in (found.__closure__ or ()) if isinstance(found, FunctionType) else gc.get_referents(found):
            if id(other) not in seen and not isinstance(other, type | ModuleType):
                seen[id(other)] = other
                front.append(other)


@pytest.mark.parametrize(
    ("weights", "left"),
    [
        ((1, 1, 1, 1), (1, 2, 3)),
        ((1, 1, 2, 1), (2, 3)),
        ((1, 1, 9), (2,)),
        ((9, 1, 1), (1, 2)),
    ],
)
def test_a_shelf_holds_so_much(weights: tuple[int, ...], left: tuple[int, ...]) -> None:
    """The newest within a weight of three; one that is heavier for itself until another one comes."""
    shelf: Shelf[str] = Shelf(3)
    for key, weight in enumerate(weights):
        shelf.put(key, str(key), weight)
    assert [key for key in range(len(weights)) if shelf.get(key) == str(key)] == list(left)
    assert shelf.weight == sum(weights[key] for key in left)


def test_a_shelf_keeps_what_was_asked_for_last() -> None:
    shelf: Shelf[str] = Shelf(2)
    shelf.put(1, "one", 1)
    shelf.put(2, "two", 1)
    assert shelf.put(1, "another thread's", 1) == "one"
    assert (shelf.get(2), shelf.weight) == ("two", 2)
    shelf.put(3, "three", 1)
    assert [shelf.get(key) for key in (1, 2, 3)] == [None, "two", "three"]
