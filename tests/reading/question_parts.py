"""What catalogs of questions are made of: cars, rails, layouts and add-ons in a line each."""

from typing import Any

from tests.support.builders import own_hose, part, room
from tests.support.catalogs import small_catalog

Json = dict[str, Any]
_FEED = {"duty": "feed"}


def standard(id_: str, name: str, size: str, family: str) -> Json:
    like = {"seal": "cone", "published": "figures for tests", "joint": "flare-turn"}
    return {"id": id_, "name": name, "family": family, "size": size} | like


def fuel(id_: str, name: str, *aliases: str) -> Json:
    plain = next(fuel for fuel in small_catalog()["fuels"] if fuel["id"] == "petrol")
    return plain | {"id": id_, "name": name} | ({"aliases": list(aliases)} if aliases else {})


def car(
    id_: str, name: str, engine: str, stock_kw: float, pattern: str, *aliases: str, banks: int = 1, at: str = "left"
) -> Json:
    line = {"id": "factory-line", "standard": "quick-3/8", "end": "female"}
    line |= {"spots": {at: {"min_mm": 5.0, "max_mm": 60.0}}}
    return {
        "id": id_,
        "name": name,
        "engine": engine,
        "cylinders": 4 * banks,
        "banks": banks,
        "pattern": pattern,
        "base_kpa": 300.0,
        "stock_kw": stock_kw,
        "hookups": [line],
        "clearances": [room(at, 90.0)],
        "mounting": [],
    } | ({"aliases": list(aliases)} if aliases else {})


def rail(sku: str, name: str, finish: str, pattern: str, *spots: str) -> Json:
    ports = [{"id": spot, "standard": "boss-8", "end": "female", "spot": spot} for spot in spots]
    named = {"name": name, "family": sku.rpartition("-")[0], "finish": finish, "patterns": [pattern]}
    return part(sku, "rail", price=20_000, **named) | {"ports": ports}


def layout(id_: str, name: str, *placements: Json, banks: int = 1, aliases: tuple[str, ...] = ()) -> Json:
    told = {"id": id_, "name": name, "summary": name, "banks": banks, "placements": list(placements)}
    return told | ({"aliases": list(aliases)} if aliases else {})


def duty(duty: str, kind: str, standard: str | None = None, **more: Any) -> Json:
    hookup = own_hose(standard) if standard else {"kind": kind}
    return {"duty": duty, "hookup": hookup} | more


def fed(spot: str, standard: str | None) -> Json:
    return {spot: duty("feed", "factory-line", standard)}


def loop(standard: str, *via: str, back: str | None = None) -> list[Json]:
    more = {"via": list(via)} if via else {}
    ends = (("left", "right"), ("right", "left"))
    return [{a: duty("feed", "own", standard), b: duty("return", "own", back or standard, **more)} for a, b in ends]


def crossed(standard: str | None, *, returns: bool = False) -> list[Json]:
    link = {"1.right": {"duty": "link", "to_spot": "2.right"}, "2.right": {"duty": "link", "to_spot": "1.right"}}
    back = {"2.left": duty("return", "own", standard)} if returns else {}
    return [{"1.left": duty("feed", "factory-line", standard)} | link | back]


def addon(id_: str, name: str, boost_kpa: float, *cars: str, aliases: tuple[str, ...] = ()) -> Json:
    told = {"id": id_, "name": name, "chassis": list(cars), "boost_kpa": boost_kpa, "clearances": [], "mounting": []}
    return told | ({"aliases": list(aliases)} if aliases else {})
