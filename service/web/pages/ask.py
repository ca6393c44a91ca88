"""What the page of a question shows: cars to pick from, the form as it was filled in, bills side by side, repairs."""

from collections.abc import Mapping, Sequence
from decimal import Decimal
from typing import Any

from service.documents.answer import Answer, Bill, Line
from service.documents.nearest import nearest
from service.domain.money import decimals_of
from service.domain.revision import Revision
from service.domain.units import KW_PER_HP, MM_PER_IN
from service.domain.vehicles import Chassis
from service.reading.folding import folded
from service.usecases.library import Edition

MOST_CARS = 60
"""So many cars are listed; typing narrows them."""
_PLACES = ("left", "centre", "right", "top")
_WAYS = {"axial_mm": "along the axis", "across_mm": "across"}
_ROOM_DIGITS = 3


def cars_like(edition: Edition, words: str) -> tuple[list[Chassis], int]:
    """The cars whose id, name or aliases hold every word, else the nearest ones; and how many there are in all."""
    wanted = folded(words).split()
    cars = edition.revision.chassis
    found = [car for car in cars.values() if all(word in edition.words_of_cars[car.id] for word in wanted)]
    if not found:
        by_name = {car.name: car for car in cars.values()}
        close = [by_name[name] for name in nearest(words, by_name)] + [cars[id_] for id_ in nearest(words, cars)]
        found = list(dict.fromkeys(close))
    return found[:MOST_CARS], len(found)


def car_meant(edition: Edition, words: str) -> tuple[list[Chassis], Chassis | None]:
    """The cars that may be meant, and the one that is: by its id, name or alias, or the only one like it."""
    if not words:
        return [], None
    named = edition.names["chassis"].of(words)
    if len(named) == 1:
        car = edition.revision.chassis[named[0]]
        return [car], car
    cars, _ = cars_like(edition, words)
    holds = [car for car in cars if folded(words) in edition.words_of_cars[car.id]]
    return cars, holds[0] if len(holds) == 1 else None


def form_of(fields: Mapping[str, str], chassis: Chassis, revision: Revision, units: str) -> dict[str, Any]:
    """What the form offers for a car, filled in with the fields of a query."""
    inch = units == "inch"
    return {
        "fields": fields,
        "fuels": [(fuel.id, fuel.name) for fuel in revision.fuels.values()],
        "addons": [
            (addon.id, addon.name, addon.id in _listed(fields, "addons"))
            for addon in revision.addons.values()
            if chassis.id in addon.chassis
        ],
        "gauges": ["none", "any", *_spots(chassis)],
        "finishes": sorted(revision.index.finishes),
        "rooms": _rooms(fields, chassis, inch),
        "power_name": "power_hp" if inch else "power_kw",
        "power_unit": "hp" if inch else "kW",
        "power": _scaled(fields.get("power_kw", ""), KW_PER_HP if inch else 1.0),
        "stock": chassis.stock_kw,
        "regulator": _regulator(fields.get("regulator", "")),
        "price_cap": _major(fields.get("max_price", ""), revision.currency),
    }


def _regulator(text: str) -> dict[str, str]:
    """What a query tells of the regulator, field by field."""
    told = dict(part.partition(":")[::2] for part in text.split(","))
    return {name: told.get(name, "") for name in ("set_kpa", "follows")}


def _major(text: str, currency: str) -> str:
    """An amount in minor units as a number of the currency's own."""
    if not text.isdecimal():
        return text
    return str(Decimal(text).scaleb(-decimals_of(currency)))


def _listed(fields: Mapping[str, str], name: str) -> list[str]:
    return fields.get(name, "").split(",")


def _spots(chassis: Chassis) -> list[str]:
    return [spot for place in _PLACES for spot in chassis.on_banks(place)]


def _rooms(fields: Mapping[str, str], chassis: Chassis, inch: bool) -> list[dict[str, str]]:
    """A field for the room at each spot, each way; of a spot told twice the last counts."""
    told = {tuple(one.split(":")[:2]): one.rpartition(":")[2] for one in _listed(fields, "clearances")}
    unit, factor = ("in", MM_PER_IN) if inch else ("mm", 1.0)
    return [
        {
            "name": f"room.{spot}.{way.removesuffix('_mm')}_{unit}",
            "label": f"{spot}, {words}",
            "value": _scaled(told.get((spot, way), ""), factor),
            "unit": unit,
        }
        for spot in _spots(chassis)
        for way, words in _WAYS.items()
    ]


def _scaled(text: str, factor: float) -> str:
    try:
        return text if factor == 1.0 else f"{float(text) / factor:.{_ROOM_DIGITS}f}".rstrip("0").rstrip(".")
    except ValueError:
        return text


def differing(bills: Sequence[Bill]) -> list[list[Line]]:
    """For each bill its lines that are not in all the others alike."""
    kinds = [{_alike(line) for line in bill["lines"]} for bill in bills]
    common = set.intersection(*kinds) if kinds else set()
    return [[line for line in bill["lines"] if _alike(line) not in common] for bill in bills]


def _alike(line: Line) -> tuple[object, ...]:
    return line["sku"], line["qty"], line["source"], tuple(line["spots"])


def cautions_of(answer: Answer) -> list[str]:
    """The cautions of all bills that are shown, each once."""
    return list(dict.fromkeys(caution["text"] for bill in answer["bills"] for caution in bill["cautions"]))
