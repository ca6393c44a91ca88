"""What bills of the catalog that comes with the service carry, against the slow reckoning; alternatives by asking."""

from collections.abc import Iterator
from random import Random
from typing import Any

import pytest

from service.documents.request import BillRequest
from service.usecases.find_bills import answer_in
from tests.explain.sheets import seed
from tests.properties.test_power import PLACES, power_differences
from tests.support.random_power import random_power_facts
from tests.support.slow_chains import Chain, Part
from tests.support.slow_flows import Setting
from tests.support.slow_power import OraclePower, power_of
from tests.support.slow_questions import Question

Json = dict[str, Any]
OWN_RAIL = {"left": {"standard": "orb-8", "end": "female"}, "right": {"standard": "orb-8", "end": "female"}}
MANY = 100


@pytest.fixture(scope="module")
def catalog() -> Json:
    return dict(seed().catalog.whole().model_dump(mode="json", exclude_none=True))


def asked(request: Json) -> Json:
    return dict(answer_in(seed(), BillRequest.model_validate(request)))


def reckoned(catalog: Json, request: Json, bill: Json) -> OraclePower:
    """The power of a bill of the catalog by the slow reckoning, from the SKUs of its chains alone."""
    question = Question(catalog, request)
    duties = bill["duties"]
    flowing = {spot: duty for spot, duty in duties.items() if duty in ("feed", "return", "link")}
    [placement] = [
        placement
        for placement in question.layout["placements"]
        if {spot: entry["duty"] for spot, entry in placement.items()} == flowing
    ]
    chains = {
        spot: Chain(tuple(Part(question.record[sku], ()) for sku in skus))
        for spot, skus in bill["chains"].items()
        if spot in flowing
    }
    bought = [question.record[line["sku"]] for line in bill["lines"] if line["sku"] in question.record]
    rail = question.own_rail or next(item for item in bought if item["kind"] == "rail")
    return power_of(question, Setting(rail, placement, duties, {x: [chains[x]] for x in chains}), chains)


def questions(catalog: Json, seeds: range) -> Iterator[Json]:
    """Requests of any car and layout, with facts of pump, injectors and regulator, boost, add-ons, hoses and orders."""
    for number in seeds:
        rng = Random(number)
        car = rng.choice(catalog["chassis"])
        layouts = [layout["id"] for layout in catalog["layouts"] if layout["banks"] == car["banks"]]
        request: Json = {
            "chassis": car["id"],
            "layout": rng.choice(layouts),
            "fuel": rng.choice(catalog["fuels"])["id"],
        }
        request |= random_power_facts(rng, catalog, request)
        optional: Json = {
            "power_kw": rng.choice([60, 120, 250, 400]),
            "feed_hose_m": rng.choice([0.5, 3.0]),
            "return_hose_m": rng.choice([0.5, 4.0]),
            "gauge": rng.choice(["any", *spots_of(catalog, car)]),
            "addons": [addon["id"] for addon in catalog["addons"] if car["id"] in addon["chassis"]][:1],
            "order_by": rng.choice(["power", "drop"]),
            "own_rail": OWN_RAIL,
        }
        yield request | {name: value for name, value in optional.items() if rng.randrange(100) < 25}


def spots_of(catalog: Json, car: Json) -> list[str]:
    """The spots that rails of the car's pattern have, by place, then by bank."""
    rails = [x for x in catalog["items"] if x["kind"] == "rail" and car["pattern"] in x["patterns"]]
    places = {port["spot"] for rail in rails for port in rail["ports"]}
    banks = [""] if car["banks"] == 1 else ["1.", "2."]
    return [f"{bank}{place}" for place in PLACES if place in places for bank in banks]


def test_each_layout_of_each_car(catalog: Json) -> None:
    """With nothing told besides."""
    cars = [(car["id"], layout["id"]) for car in catalog["chassis"] for layout in catalog["layouts"]]
    requests = [{"chassis": car, "layout": layout, "limit": 1} for car, layout in cars]
    found = [(request, bill) for request in requests for bill in asked(request)["bills"]]
    assert len(found) > MANY
    for request, bill in found:
        assert power_differences(reckoned(catalog, request, bill), bill["power"]) == [], request


def test_any_facts(catalog: Json) -> None:
    """With facts of the request, boost and add-ons."""
    found = [(one, bill) for one in questions(catalog, range(90)) for bill in asked(one | {"limit": 2})["bills"]]
    assert len(found) > MANY
    for request, bill in found:
        assert power_differences(reckoned(catalog, request, bill), bill["power"]) == [], request


def test_alternatives_are_what_asking_tells(catalog: Json) -> None:
    """Where nothing fits and where the best carries too little: each single change that helps, in order."""
    told = 0
    for request in questions(catalog, range(1000, 1010)):
        found = asked(request | {"limit": 1})
        plain = [
            {name: one[name] for name in ("change", "total_valid", "price")} | {"power": one["power"]["carries_kw"]}
            for one in found["alternatives"]
        ]
        assert plain == expected(catalog, request, found), request
        told += len(plain)
    assert told > MANY // 4


def expected(catalog: Json, request: Json, found: Json) -> list[Json]:
    """The alternatives to a request by asking for every change of it."""
    best = next(iter(found["bills"]), None)
    if best is not None and best["power"]["verdict"] != "over":
        return []
    car = next(x for x in catalog["chassis"] if x["id"] == request["chassis"])
    spots = [spot for spot in spots_of(catalog, car) if request.get("gauge", "none") not in ("none", spot)]
    if "own_rail" in request:
        spots = [spot for spot in spots if spot.rpartition(".")[2] in request["own_rail"]]
    layouts = [x["id"] for x in catalog["layouts"] if x["banks"] == car["banks"] and x["id"] != request["layout"]]
    gauges = [one for spot in spots for one in _helping(request, {"gauge": spot}, was_over=best is not None)]
    others = [one for name in layouts for one in _helping(request, {"layout": name}, was_over=best is not None)]
    return (gauges + sorted(others, key=lambda one: one["price"]))[:20]


def _helping(request: Json, change: Json, *, was_over: bool) -> Iterator[Json]:
    """The first bill of the changed request that counts; where none of many does, none at all may."""
    answer = asked(request | change | {"limit": MANY})
    bills = [bill for bill in answer["bills"] if not (was_over and bill["power"]["verdict"] == "over")]
    if bills:
        price, power = bills[0]["price"], bills[0]["power"]["carries_kw"]
        yield {"change": change, "total_valid": answer["total_valid"], "price": price, "power": power}
    elif answer["bills"]:
        [most] = asked(request | change | {"limit": 1, "order_by": "power"})["bills"]
        assert answer["total_valid"] <= MANY or most["power"]["verdict"] == "over", (request, change)
