"""Facts of pump, injectors and regulator for random catalogs and requests, each told now and then."""

from random import Random
from typing import Any

Json = dict[str, Any]

_BODY = {"length_mm": 60.0, "length_tol_mm": 0.1, "upper_ring_mm": 3.5, "lower_ring_mm": 4.0, "bore_mm": 13.5}
_FOLLOWS = ("manifold", "atmosphere")


def _often(rng: Random, percent: int) -> bool:
    return rng.randrange(100) < percent


def with_power_facts(rng: Random, catalog: Json) -> Json:
    """The catalog with some of what power is worked out from."""
    for chassis in catalog["chassis"]:
        if _often(rng, 60):
            chassis["pump"] = random_pump(rng)
            chassis |= {"pump_v": _volts(rng)} if _often(rng, 30) else {}
        if _often(rng, 60):
            chassis["injectors"] = _injectors(rng) | _BODY | {"material": catalog["materials"][0]["id"]}
        if _often(rng, 70):
            chassis["regulator"] = _regulator(rng)
    for item in catalog["items"]:
        if item["kind"] == "regulator" and _often(rng, 60):
            item["regulates"] = {"min_kpa": 200, "max_kpa": 350, "follows": rng.choice(_FOLLOWS)}
    if _often(rng, 50):
        catalog["policies"]["power_reserve"] = rng.choice([0, 0.1, 0.5])
    return catalog


def random_power_facts(rng: Random, catalog: Json, request: Json) -> Json:
    """What a request tells besides, to add to it."""
    chassis = next(x for x in catalog["chassis"] if x["id"] == request["chassis"])
    facts: Json = {"pump": random_pump(rng)} if _often(rng, 30) else {}
    if _often(rng, 25) and ("pump" in facts or "pump" in chassis):
        facts["pump_v"] = _volts(rng)
    facts |= {"injectors": _injectors(rng)} if _often(rng, 30) else {}
    if _often(rng, 35):
        facts["regulator"] = {"set_kpa": rng.choice([150, 300, 380])} if _often(rng, 60) else {}
        facts["regulator"] |= {"follows": rng.choice(_FOLLOWS)} if _often(rng, 50) else {}
    return facts | ({"boost_kpa": rng.choice([40, 100, 320])} if _often(rng, 40) else {})


def random_pump(rng: Random) -> list[Json]:
    """One to four points of a curve, about what the random cars need."""
    flow = rng.choice([60.0, 120.0, 250.0])
    points = []
    kpa = rng.choice([0.0, 100.0])
    for _ in range(rng.randint(1, 4)):
        points.append({"kpa": kpa, "l_h": flow})
        kpa += rng.choice([200.0, 300.0])
        flow *= rng.choice([1.0, 0.8, 0.4])
    return points


def _volts(rng: Random) -> Json:
    return {"rated": 12.0, "fed": rng.choice([10.5, 13.5])}


def _injectors(rng: Random) -> Json:
    told: Json = {"static_l_h": rng.choice([8.0, 15.0, 30.0]), "rated_kpa": 300.0}
    return told | ({"max_duty": rng.choice([0.8, 1.0])} if _often(rng, 50) else {})


def _regulator(rng: Random) -> Json:
    told: Json = {"at": rng.choice(["tank", "rail"])} if _often(rng, 70) else {}
    return told | ({"follows": rng.choice(_FOLLOWS)} if _often(rng, 60) else {})
