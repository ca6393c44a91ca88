"""Random requests on any catalog: a chassis, mostly a layout for its banks, a few wishes, and what is had already."""

from collections.abc import Mapping
from random import Random
from typing import Any

Json = dict[str, Any]

PLACES = ("left", "centre", "right", "top")
ORDERS = ("price", "pieces", "drop", "lead")


def random_request(rng: Random, catalog: Json, wish_percent: int = 25, wishes: Mapping[str, Any] | None = None) -> Json:
    """A valid request; each wish (of `WISHES`, or those given) is made in about `wish_percent` of requests."""
    chassis = rng.choice(catalog["chassis"])
    fitting = [layout for layout in catalog["layouts"] if layout["banks"] == chassis["banks"]]
    layout = rng.choice(fitting or catalog["layouts"])
    request: Json = {"chassis": chassis["id"], "layout": layout["id"], "order_by": rng.choice(ORDERS)}
    for name, make in (WISHES if wishes is None else wishes).items():
        if rng.randrange(100) < wish_percent:
            wish = make(rng, catalog, chassis)
            if wish is not None:
                request[name] = wish
    return request


def random_facts(rng: Random, catalog: Json, chassis: Json) -> Json:
    """What the customer has already, to add to a request: parts, or a rail by somebody else, or both, or neither."""
    facts: Json = {"have": _have(rng, catalog)} if rng.randrange(100) < 75 else {}
    return facts | ({"own_rail": _own_rail(rng, catalog)} if rng.randrange(100) < 25 else {})


def _have(rng: Random, catalog: Json) -> list[Json]:
    """One to four lines, now and then of one SKU twice; what cannot be bought comes up more often."""
    fitted = [item for item in catalog["items"] if item["ports"]]
    awkward = [item for item in fitted if item["status"] == "retired" or not item["sold"]]
    lines = []
    for _ in range(rng.randint(1, 4)):
        items = awkward if awkward and rng.randrange(100) < 40 else fitted
        items = catalog["items"] if rng.randrange(100) < 5 else items
        lines.append({"sku": rng.choice(items)["sku"], "qty": rng.choice([1, 1, 2, 3])})
    return lines


def _own_rail(rng: Random, catalog: Json) -> Json:
    """Mostly the spots of a rail of the catalog as they are, some left out or changed; sometimes quite another."""
    rails = [item for item in catalog["items"] if item["kind"] == "rail"]
    ends = [(port["standard"], port["end"]) for item in catalog["items"] for port in item["ports"]]
    spots = {port["spot"]: (port["standard"], port["end"]) for port in rng.choice(rails)["ports"]}
    if rng.randrange(100) < 25:
        spots = dict.fromkeys(rng.sample(PLACES, rng.randint(1, 4)), spots.popitem()[1])
    for place in list(spots):
        chance = rng.randrange(100)
        if chance < 10:
            spots[place] = rng.choice(ends)
        elif chance < 15 and len(spots) > 1:
            del spots[place]
    return {place: {"standard": standard, "end": end} for place, (standard, end) in spots.items()}


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


# --- wishes that are too much -------------------------------------------------------------------------------


def _tight_clearances(rng: Random, catalog: Json, chassis: Json) -> list[Json] | None:
    """Too little room at one spot or two, or at one spot twice."""
    spots = known_spots(catalog, chassis)
    if not spots:
        return None
    rooms = []
    for _ in range(rng.choice([1, 1, 2])):
        room: Json = {"spot": rng.choice(spots)}
        room |= {"axial_mm": rng.choice([0, 9.96, 12.5, 19.999, 25, 30])} if rng.randrange(4) else {}
        room |= {"across_mm": rng.choice([17.94, 18, 21.5, 25])} if rng.randrange(3) == 0 else {}
        rooms.append(room)
    return rooms


TOO_MUCH: dict[str, Any] = WISHES | {
    "power_kw": lambda rng, catalog, chassis: round(chassis["stock_kw"] * rng.choice([0.15, 3.0, 6.0, 9.0]), 2),
    "pump_l_h": lambda rng, catalog, chassis: rng.choice([255, 600.55, 1500]),
    "feed_hose_m": lambda rng, catalog, chassis: rng.choice([0, 4.5, 20, 99.95]),
    "return_hose_m": lambda rng, catalog, chassis: rng.choice([3.0, 20, 99.95]),
    "boost_kpa": lambda rng, catalog, chassis: rng.choice([49.96, 100, 150, 250]),
    "clearances": _tight_clearances,
    "max_price": lambda rng, catalog, chassis: rng.choice([0, 5, 20, _max_price(rng, catalog, chassis) // 2]),
}
"""As `WISHES`, but most bills are against them: for requests that have none."""
