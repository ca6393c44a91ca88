"""A request on a catalog with all that it names looked up, and the rules that look at one item alone.

Written apart from `service`, on the plain JSON documents, to be read rather than to be fast.
"""

from collections import Counter
from typing import Any

Json = dict[str, Any]
Port = tuple[str, str]  # (standard, end)

OWN_RAIL = "own-rail"


class Question:
    """A request on a catalog, with everything that it names looked up."""

    def __init__(self, catalog: Json, request: Json) -> None:
        self.request = request
        self.items: list[Json] = catalog["items"]
        self.record: dict[str, Json] = {item["sku"]: item for item in self.items}
        self.policies: Json = catalog["policies"]
        self.chassis = _named(catalog["chassis"], request["chassis"])
        self.layout = _named(catalog["layouts"], request["layout"])
        self.fuel = _named(catalog["fuels"], self.wish("fuel") or catalog["fuels"][0]["id"])
        self.addons = [_named(catalog["addons"], addon) for addon in self.wish("addons") or []]
        self.ratings = {material["id"]: material["ratings"] for material in catalog["materials"]}
        self.boost_kpa: float = sum(addon["boost_kpa"] for addon in self.addons) + (self.wish("boost_kpa") or 0)
        self.pressure_kpa: float = self.chassis["base_kpa"] + self.boost_kpa
        self.gauge: str = self.wish("gauge") or "none"
        self.allow_unsold = self.wish("allow_unsold") is not False
        self.excluded = set(self.wish("exclude") or [])
        self.plugs = [item for item in self.items if item["kind"] == "plug"]
        self.have = Counter[str]()
        for entry in self.wish("have") or []:
            self.have[entry["sku"]] += entry["qty"]
        self.own_rail: Json | None = _own_rail(self.wish("own_rail")) if self.wish("own_rail") else None
        self.walked: dict[Any, Any] = {}  # kept by what finds chains, for other spots alike

    def wish(self, name: str) -> Any:
        return self.request.get(name)

    def limit(self, spot: str, dimension: str) -> float:
        """The smallest clearance at a spot among chassis, add-ons and request; infinite if there is none."""
        lists = [
            self.chassis["clearances"],
            *(addon["clearances"] for addon in self.addons),
            self.wish("clearances") or [],
        ]
        entries = [entry for entries in lists for entry in entries if entry["spot"] == spot]
        return min((entry[dimension] for entry in entries if entry.get(dimension) is not None), default=float("inf"))


def _named(records: list[Json], wanted: str) -> Json:
    return next(record for record in records if record["id"] == wanted)


def _own_rail(spots: Json) -> Json:
    """The customer's own rail as an item of which nothing is known but its spots."""
    ports = [offered | {"id": place, "spot": place} for place, offered in spots.items()]
    return {"sku": OWN_RAIL, "kind": "rail", "sold": False, "status": "active", "ports": ports, "wetted": []}


# --- rules that look at one item alone ----------------------------------------------------------------------


def item_stands(question: Question, item: Json, *, supplied: bool = False) -> bool:
    """pattern, fuel, pressure, exclude; and finish unless it comes with the rail (`supplied`)."""
    return (
        (item.get("patterns") is None or question.chassis["pattern"] in item["patterns"])
        and all(question.ratings[material][question.fuel["id"]] in ("A", "B", "C") for material in item["wetted"])
        and (item.get("max_kpa") is None or item["max_kpa"] >= question.pressure_kpa)
        and item["sku"] not in question.excluded
        and (supplied or _finish_suits(question, item))
    )


def may_be_got(question: Question, needed: Counter[str]) -> bool:
    """supply and allow_unsold: what is beyond the units had is active, and sold unless unsold parts are allowed."""
    return all(
        qty <= question.have[sku]
        or (question.record[sku]["status"] == "active" and (question.record[sku]["sold"] or question.allow_unsold))
        for sku, qty in needed.items()
    )


def _finish_suits(question: Question, item: Json) -> bool:
    finish = question.wish("finish")
    if finish is None:
        return True
    if item["kind"] == "rail":
        return item.get("finish") == finish
    offered = any(
        other.get("family") == item["family"] and other.get("finish") == finish and other["status"] == "active"
        for other in question.items
        if item.get("family") is not None
    )
    return not offered or item.get("finish") == finish
