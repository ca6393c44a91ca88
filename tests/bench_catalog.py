"""A large catalog for measuring: families of a hundred parts and five cars, each like the first cars of `seed_data/`.

Families share fuels, materials, joints and the layouts that name no port standard. Port standards, patterns, parts and
cars are a family's own, so that a car has as much to choose from in a large catalog as in a small one.
"""

from pathlib import Path
from typing import Any

from service.documents.folder import read_catalog

Json = dict[str, Any]

ITEMS_A_FAMILY = 100
CARS_A_FAMILY = 5
_SHARED_FIELDS = ("joint", "material")
"""Fields that name what all families share, even where a port standard has the same id."""
SEED_CATALOG = Path(__file__).parents[1] / "seed_data"


def bench_catalog(items: int = 100_000) -> Json:
    """A catalog of so many items (a multiple of 100), with a car for every twenty of them."""
    seed = read_catalog(SEED_CATALOG)
    assert isinstance(seed, dict)
    names = _own_ids(seed)
    families = [_Family(seed, names, number) for number in range(items // ITEMS_A_FAMILY)]
    return {
        **{name: seed[name] for name in ("format", "maker", "joints", "fuels", "materials", "policies")},
        "port_standards": [x for family in families for x in family.renamed("port_standards")],
        "items": [x for family in families for x in family.items()],
        "chassis": [x for family in families for x in family.renamed("chassis")[:CARS_A_FAMILY]],
        "addons": [],
        "layouts": [x for x in seed["layouts"] if not _names_a_standard(x)],
    }


def car_of_family(number: int = 0) -> str:
    """The id of the first car of a family."""
    seed = read_catalog(SEED_CATALOG)
    assert isinstance(seed, dict)
    return _of_family(seed["chassis"][0]["id"], number)


def _of_family(name: str, number: int) -> str:
    return f"{name}.{number}" if number else name


def _own_ids(seed: Json) -> frozenset[str]:
    """What names something of a family: ids of standards, parts and cars, patterns, and families of variants."""
    return frozenset(
        [x["id"] for x in (*seed["port_standards"], *seed["chassis"])]
        + [x["sku"] for x in seed["items"]]
        + [x["pattern"] for x in seed["chassis"]]
        + [x["family"] for x in seed["items"] if "family" in x]
    ) - _shared(seed)


def _shared(seed: Json) -> frozenset[str]:
    """SKUs that the shared joints name stay as they are, in the first family."""
    return frozenset(
        sku
        for joint in seed["joints"]
        for told in (joint.get("consumables", []), joint.get("spare_seal", []))
        for sku in ([told] if isinstance(told, str) else told)
    )


def _names_a_standard(layout: Json) -> bool:
    return any("standard" in x.get("hookup", {}) for placement in layout["placements"] for x in placement.values())


class _Family:
    """The seed's parts and cars under names of their own."""

    def __init__(self, seed: Json, names: frozenset[str], number: int) -> None:
        self._seed, self._names, self._number = seed, names, number
        self._shared = _shared(seed)

    def renamed(self, section: str) -> list[Json]:
        return [self._rename(x) for x in self._seed[section]]

    def items(self) -> list[Json]:
        """As many parts as a family has: those of the seed, then parts without ports, which nothing else notices."""
        found = [self._rename(x) for x in self._seed["items"] if not (self._number and x["sku"] in self._shared)]
        model = next(x for x in self._seed["items"] if x["kind"] == "plug")
        for nth in range(ITEMS_A_FAMILY - len(found)):
            found.append(self._rename({**model, "sku": f"spare-{nth}", "ports": [], "wetted": []}))
            found[-1]["sku"] = _of_family(f"spare-{nth}", self._number)
        for item in found:
            item.pop("gtin", None)  # no two parts have the same
        return found

    def _rename(self, value: Any) -> Any:
        if isinstance(value, str):
            return _of_family(value, self._number) if value in self._names else value
        if isinstance(value, list):
            return [self._rename(x) for x in value]
        if isinstance(value, dict):
            return {key: x if key in _SHARED_FIELDS else self._rename(x) for key, x in value.items()}
        return value
