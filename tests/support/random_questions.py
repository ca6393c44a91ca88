"""Random catalogs that have something to answer, for what is rarely tried where nothing fits anyway."""

from random import Random

from tests.support.brute_force import any_bill
from tests.support.random_catalogs import random_catalog
from tests.support.slow_questions import Json

MOST_TRIES = 25


def catalog_with_bills(rng: Random) -> Json:
    """A random catalog on which some chassis and layout alone have a bill; the last one tried where none has."""
    for _ in range(MOST_TRIES):
        catalog = random_catalog(rng)
        asked = [
            {"chassis": chassis["id"], "layout": layout["id"]}
            for chassis in catalog["chassis"]
            for layout in catalog["layouts"]
        ]
        if any(any_bill(catalog, request) for request in asked):
            break
    return catalog


def with_scarcity(rng: Random, catalog: Json) -> Json:
    """The catalog with many parts unsold, retired or short in stock, so that it matters what the customer has."""
    items = []
    for item in catalog["items"]:
        changes: Json = {}
        if item["ports"]:
            changes |= {"sold": False} if rng.randrange(100) < 25 else {}
            changes |= {"status": "retired"} if rng.randrange(100) < 20 else {}
            changes |= {"stock": rng.choice([0, 1, 2])} if rng.randrange(100) < 30 else {}
        items.append(item | changes)
    return catalog | {"items": items}
