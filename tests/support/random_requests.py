"""Random requests on any catalog: a chassis, mostly a layout for its banks, and a few wishes."""

from random import Random
from typing import Any

Json = dict[str, Any]

ORDERS = ("price", "pieces", "drop", "lead")


def random_request(rng: Random, catalog: Json, wish_percent: int = 25) -> Json:
    """A valid request; each wish is made in about `wish_percent` of requests."""
    chassis = rng.choice(catalog["chassis"])
    fitting = [layout for layout in catalog["layouts"] if layout["banks"] == chassis["banks"]]
    layout = rng.choice(fitting or catalog["layouts"])
    request: Json = {"chassis": chassis["id"], "layout": layout["id"], "order_by": rng.choice(ORDERS)}
    for name, make in WISHES.items():
        if rng.randrange(100) < wish_percent:
            wish = make(rng, catalog, chassis)
            if wish is not None:
                request[name] = wish
    return request


def known_spots(catalog: Json, chassis: Json) -> list[str]:
    """The spots that rails of the chassis's pattern have, in order."""
    rails = [item for item in catalog["items"] if item["kind"] == "rail" and chassis["pattern"] in item["patterns"]]
    places = sorted({port["spot"] for rail in rails for port in rail["ports"]})
    return places if chassis["banks"] == 1 else [f"{bank}.{place}" for bank in (1, 2) for place in places]


def _addons(rng: Random, catalog: Json, chassis: Json) -> list[str] | None:
    known = [addon["id"] for addon in catalog["addons"] if chassis["id"] in addon["chassis"]]
    return rng.sample(known, rng.randint(1, len(known))) if known else None


def _clearances(rng: Random, catalog: Json, chassis: Json) -> list[Json] | None:
    """Room at one spot, as deep or as wide as one or two parts of the catalog need."""
    spots = known_spots(catalog, chassis)
    if not spots:
        return None
    deep = sorted({item["standout_mm"] for item in catalog["items"] if item.get("standout_mm") is not None})
    wide = sorted({item["across_mm"] for item in catalog["items"] if item.get("across_mm") is not None})
    clearance: Json = {"spot": rng.choice(spots)}
    if deep:
        clearance["axial_mm"] = round(rng.choice(deep) + rng.choice([0, *deep]), 3)
    if wide and rng.randrange(2):
        clearance["across_mm"] = rng.choice(wide)
    return [clearance]


def _gauge(rng: Random, catalog: Json, chassis: Json) -> str:
    return rng.choice(["any", *known_spots(catalog, chassis)])


def _finish(rng: Random, catalog: Json, chassis: Json) -> str | None:
    finishes = sorted({item["finish"] for item in catalog["items"] if item.get("finish") is not None})
    return rng.choice(finishes) if finishes else None


def _exclude(rng: Random, catalog: Json, chassis: Json) -> list[str]:
    skus = [item["sku"] for item in catalog["items"] if item["ports"]]
    return rng.sample(skus, min(len(skus), rng.choice([1, 1, 2])))


def _max_price(rng: Random, catalog: Json, chassis: Json) -> int:
    """A few rails' worth: too little for some bills, enough for others."""
    rail = rng.choice([item["price"] for item in catalog["items"] if item["kind"] == "rail"])
    part = rng.choice([item["price"] for item in catalog["items"] if item["ports"]])
    return chassis["banks"] * rail + part * rng.randint(1, 6)


WISHES: dict[str, Any] = {
    "fuel": lambda rng, catalog, chassis: rng.choice(catalog["fuels"])["id"],
    "power_kw": lambda rng, catalog, chassis: round(chassis["stock_kw"] * rng.choice([0.8, 1.3, 2.0, 3.0]), 1),
    "pump_l_h": lambda rng, catalog, chassis: rng.choice([60, 120, 255]),
    "feed_hose_m": lambda rng, catalog, chassis: rng.choice([0.5, 2.0, 4.5]),
    "return_hose_m": lambda rng, catalog, chassis: rng.choice([0.5, 3.0]),
    "boost_kpa": lambda rng, catalog, chassis: rng.choice([0, 50, 100]),
    "addons": _addons,
    "clearances": _clearances,
    "gauge": _gauge,
    "finish": _finish,
    "exclude": _exclude,
    "in_stock_only": lambda rng, catalog, chassis: True,
    "allow_unsold": lambda rng, catalog, chassis: False,
    "max_price": _max_price,
}
