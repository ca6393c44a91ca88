"""Cars as people look for them: by name, engine, pattern or power; and what is said of one."""

from service.documents.catalog import Chassis as ChassisDocument
from service.documents.nearest import nearest
from service.domain import units
from service.domain.vehicles import Chassis
from service.reading.folding import folded
from service.usecases.library import Edition

MOST_CARS = 60
"""So many cars are listed; typing narrows them."""


def cars_like(edition: Edition, words: str) -> tuple[list[Chassis], int]:
    """The cars that the words describe, else those whose names come nearest; and how many there are in all."""
    cars = edition.revision.chassis
    found = [cars[id_] for id_ in edition.car_search.found(words)]
    if not found:
        by_name = {car.name: car for car in cars.values()}
        close = [by_name[name] for name in nearest(words, by_name)] + [cars[id_] for id_ in nearest(words, cars)]
        found = list(dict.fromkeys(close))
    return found[:MOST_CARS], len(found)


def car_meant(edition: Edition, words: str) -> tuple[list[Chassis], Chassis | None]:
    """The cars that may be meant, and the one that is: by its id, name or alias, or the only one called like that."""
    if not words:
        return [], None
    named = edition.names["chassis"].of(words)
    if len(named) == 1:
        car = edition.revision.chassis[named[0]]
        return [car], car
    cars, _ = cars_like(edition, words)
    holds = [car for car in cars if folded(words) in edition.words_of_cars[car.id]]
    return cars, holds[0] if len(holds) == 1 else None


def engines_of(edition: Edition) -> dict[str, str]:
    """By the id of each car its engine in one line."""
    return {car.id: engine_told(car) for car in edition.catalog.chassis}


def engine_told(car: ChassisDocument) -> str:
    """An engine in one line: its name, cylinders and stock power."""
    banks = "" if car.banks == 1 else " in two banks"
    return f"{car.engine}, {car.cylinders} cylinders{banks}, {units.power(car.stock_kw)}"
