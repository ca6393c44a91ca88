"""Small catalogs in a line: changes that find their place by SKU, id or spot, and parts to add."""

from copy import deepcopy
from typing import Any

from tests.support.catalogs import GONE, small_catalog

Json = dict[str, Any]

HOSE: Json = {"chassis": "brook", "layout": "hose-centre"}
FACTORY: Json = {"chassis": "brook", "layout": "factory"}
RETURN: Json = {"chassis": "brook", "layout": "through-return"}
LINKED: Json = {"chassis": "heron", "layout": "linked-banks"}

NAMES = ("sku", "id", "spot", "role")
BOSS = ("boss-8", "male")
TAPER = ("taper-1/8", "male")


def catalog(*changes: Json) -> Json:
    """The small catalog with changes, each under its path: `items/PLUG-T/price`, `policies/max_chain`, `items/-`.

    A step into a list is a number, `-` for a new last element, or the SKU, id, spot or role of an element.
    """
    document = small_catalog()
    for path, value in (pair for given in changes for pair in given.items()):
        change(document, path, value)
    return document


def change(document: Json, path: str, value: Any) -> None:
    """Set one value of a document in place; `GONE` takes it away."""
    value = value if value is GONE else deepcopy(value)
    *steps, last = (step.replace("~1", "/") for step in path.split("/"))
    holder: Any = document
    for step in steps:
        holder = holder[_key(holder, step)]
    if isinstance(holder, list) and last == "-":
        holder.append(value)
    elif value is GONE:
        del holder[_key(holder, last)]
    else:
        holder[_key(holder, last)] = value


def _key(holder: Any, step: str) -> Any:
    if not isinstance(holder, list):
        return step
    if step.isdecimal():
        return int(step)
    return next(index for index, element in enumerate(holder) if step in [element.get(name) for name in NAMES])


def part(sku: str, kind: str, *ports: tuple[str, str], **more: Any) -> Json:
    """An active item on sale at 1000; each port a standard and an end; `more` adds fields or replaces those here."""
    return {
        "sku": sku,
        "name": f"Part {sku}",
        "kind": kind,
        "sold": True,
        "status": "active",
        "price": 1000,
        "stock": 25,
        "lead_days": 3,
        "mass_g": 20.0,
        "ports": [{"id": f"p{n}", "standard": standard, "end": end} for n, (standard, end) in enumerate(ports)],
        "wetted": [],
    } | more


def twin(sku: str, new_sku: str, **more: Any) -> Json:
    """An item of the small catalog once more, under another SKU."""
    item = next(item for item in small_catalog()["items"] if item["sku"] == sku)
    return item | {"sku": new_sku, "name": f"Part {new_sku}"} | more


def passage(bore_mm: float, length_mm: float = 0.0, loss_k: float = 0.0) -> Json:
    """Flow data, of a smooth wall unless changed."""
    return {"bore_mm": bore_mm, "length_mm": length_mm, "loss_k": loss_k, "roughness_mm": 0.0}


def own_hose(standard: str = "flare-6", end: str = "female", **more: Any) -> Json:
    """The hookup of a customer's own hose, without flow data unless given."""
    return {"kind": "own-hose", "standard": standard, "end": end} | more


def layout(*placements: Json, banks: int = 1, layout_id: str = "own") -> Json:
    """A layout of these placements."""
    return {
        "id": layout_id,
        "name": "Own layout",
        "summary": "A layout for tests.",
        "banks": banks,
        "placements": list(placements),
    }


def fitting(sku: str, *ports: tuple[str, str], **more: Any) -> Json:
    """A fitting that stands 5 mm proud and is 20 mm across, unless told otherwise."""
    return part(sku, "fitting", *ports, **({"standout_mm": 5.0, "across_mm": 20.0} | more))


def room(spot: str, axial_mm: float | None = None, across_mm: float | None = None) -> Json:
    """A clearance at a spot."""
    given = {"axial_mm": axial_mm, "across_mm": across_mm}
    return {"spot": spot} | {name: value for name, value in given.items() if value is not None}
