"""Catalogs of parts that resemble one another: the same answers as trying all, at a cost that does not explode.

Growth is told in steps, which no other work on the machine changes.
"""

from collections.abc import Callable, Iterable
from functools import cache, partial
from pathlib import Path
from random import Random
from typing import Any

import pytest
from pydantic_core import to_jsonable_python

from service.documents.catalog import Catalog
from service.documents.explain import ExplainRequest
from service.documents.folder import load_catalog
from service.documents.order import OrderRequest
from service.documents.request import BillRequest
from service.domain.work import Meter, TooCostlyError, metered
from service.solver.search.setups import Surveyor
from service.usecases.check_order import check_order
from service.usecases.explain_part import explain_in
from service.usecases.find_bills import answer_in
from service.usecases.library import Edition
from service.usecases.resolve_request import resolve_request
from tests.support.brute_force import all_bills
from tests.support.brute_orders import check
from tests.support.builders import HOSE, LINKED, Json, catalog
from tests.support.comparison import differences, group_differences, order_differences
from tests.support.engine import answer_from, edition
from tests.support.order_checks import checked_in, lines
from tests.support.twins import with_twins

SEED_CATALOG = Path(__file__).parents[2] / "seed_data"
CAR, LAYOUT = "fennic-16", "own-hose-6-centre"


@cache
def seed_with_twins(times: int) -> Edition:
    seed = to_jsonable_python(load_catalog(SEED_CATALOG), exclude_none=True)
    return Edition(1, Catalog.model_validate(with_twins(seed, times)))


def two_feeds(times: int) -> Json:
    """The small catalog with a layout that feeds both ends from hoses, and every part so many times."""
    document = catalog()
    hose = next(x for x in document["layouts"] if x["id"] == "hose-centre")["placements"][0]["centre"]
    placements = [{"left": hose, "right": hose}]
    both = {"id": "both-ends", "name": "Both ends", "summary": "Two hoses", "banks": 1, "placements": placements}
    return with_twins({**document, "layouts": [*document["layouts"], both]}, times)


REQUESTS: dict[str, Json] = {
    "hose": HOSE,
    "by drop": HOSE | {"order_by": "drop"},
    "by lead": HOSE | {"order_by": "lead"},
    "linked": LINKED,
    "both ends": {"chassis": "brook", "layout": "both-ends"},
    "both ends by drop": {"chassis": "brook", "layout": "both-ends", "order_by": "drop"},
    "both ends, too much": {"chassis": "brook", "layout": "both-ends", "power_kw": 420},
    "both ends in stock": {"chassis": "brook", "layout": "both-ends", "in_stock_only": True},
    "both ends at a price": {"chassis": "brook", "layout": "both-ends", "max_price": 22_900},
    "gauge": HOSE | {"gauge": "any"},
}


@pytest.mark.parametrize("name", REQUESTS)
def test_the_same_bills_as_trying_all(name: str) -> None:
    """Of parts that differ a little: every bill is counted, and the first hundred come in order."""
    document = two_feeds(2)
    request = REQUESTS[name] | {"limit": 100}
    bills = all_bills(document, request)
    ready = edition(document)
    ungrouped = request | {"group_variants": False}
    assert bills
    assert not differences(document, ungrouped, bills, answer_from(ready, ungrouped))
    assert not group_differences(document, request, bills, answer_from(ready, request))


@pytest.mark.parametrize("order_by", ["price", "pieces", "drop", "lead", "margin"])
def test_few_bills_are_the_first_of_many(order_by: str) -> None:
    """Setups that can hold none of the best are passed over, whatever goes before the price."""
    ready = edition(two_feeds(3))
    request = HOSE | {"order_by": order_by, "gauge": "any"}
    many = answer_from(ready, request | {"limit": 100})["bills"]
    assert len(many) > 3
    for limit in (1, 3):
        assert answer_from(ready, request | {"limit": limit})["bills"] == many[:limit]


@pytest.mark.parametrize("seed", range(6))
def test_the_same_nearest_bill_as_trying_all(seed: int) -> None:
    """Orders of twins and of the parts themselves, for any layout that the car has bills for."""
    rng = Random(seed)
    document = two_feeds(2)
    skus = [item["sku"] for item in document["items"] if item["ports"]]
    order: Json = {"chassis": rng.choice(["brook", "heron"]), "lines": []}
    order["lines"] = lines({sku: rng.choice([1, 1, 2, 3]) for sku in rng.sample(skus, rng.randint(1, 9))})
    if rng.random() < 0.4:
        order["have"] = lines(dict.fromkeys(rng.sample(skus, 2), 1))
    assert not order_differences(document, order, check(document, order), checked_in(edition(document), order))


# --- growth ------------------------------------------------------------------------------------------------------


def steps(ask: Callable[[], object]) -> int:
    with metered(Meter()) as meter:
        ask()
    return meter.spent


QUESTIONS: dict[str, Callable[[Edition], object]] = {
    "bills": lambda ready: answer_in(ready, BillRequest(chassis=CAR, layout=LAYOUT)),
    "ungrouped": lambda ready: answer_in(ready, BillRequest(chassis=CAR, layout=LAYOUT, group_variants=False)),
    "by margin": lambda ready: answer_in(ready, BillRequest(chassis=CAR, layout=LAYOUT, order_by="margin")),
    "no bill": lambda ready: answer_in(ready, BillRequest(chassis=CAR, layout=LAYOUT, max_price=100)),
    "explanation": lambda ready: explain_in(ready, ExplainRequest.model_validate(EXPLAINED)),
    "order": lambda ready: check_order(ready, OrderRequest.model_validate(ORDERED)),
}
EXPLAINED: dict[str, Any] = {"request": {"chassis": CAR, "layout": LAYOUT}, "sku": "plug-8-hollow-graphite"}
ORDERED: dict[str, Any] = {"chassis": CAR, "lines": [{"sku": "rail-tor-4-satin", "qty": 1}]}


def chains_to_look_at(ready: Edition, layouts: Iterable[str]) -> int:
    """The chains at all spots, whatever rails and placements they stand in, for each of these."""
    found = 0
    for layout in layouts:
        request = resolve_request(BillRequest(chassis=CAR, layout=layout), ready.revision)
        for outline in Surveyor(ready.engine.judges, request).outlines:
            found += sum(len(spot.table.chains.chains) for together in outline.served for spot in together)
    return found


@pytest.mark.parametrize("name", QUESTIONS)
def test_steps_grow_no_faster_than_what_there_is_to_try(name: str) -> None:
    """Three times the parts make more chains, of which each takes as many steps as before, or fewer."""
    layouts = list(seed_with_twins(1).revision.layouts) if name in ("order", "no bill") else [LAYOUT]
    each = []
    for times in (1, 3):
        ready = seed_with_twins(times)
        each.append(steps(partial(QUESTIONS[name], ready)) / chains_to_look_at(ready, layouts))
    assert each[1] < 1.5 * each[0]


@pytest.mark.parametrize("name", QUESTIONS)
def test_the_same_question_takes_the_same_steps_again(name: str) -> None:
    """Whatever was asked before: so it always ends the same."""
    ready = seed_with_twins(3)
    asked = [steps(lambda: QUESTIONS[name](ready)) for _ in range(2)]
    assert asked[0] == asked[1] > 0


def test_more_chains_than_are_made_are_told_before_any_is_made() -> None:
    """Three parts in a row, each of forty kinds: too many to look at, which takes no time to say."""
    with pytest.raises(TooCostlyError) as refused:
        answer_in(seed_with_twins(40), BillRequest(chassis="morrow-40", layout="pair-own-hose-6-link"))
    assert refused.value.doing == "chains"


def test_two_feeds_are_not_tried_in_pairs() -> None:
    """Where no pair can be over a limit, thousands by thousands are counted and ranked as two spots of their own."""
    ready = seed_with_twins(4)
    request = BillRequest(chassis="pellam-33", layout="twin-feed-8-return", pump_l_h=160)
    assert steps(lambda: answer_in(ready, request)) < 250_000
