"""Pictures of parts that are not in the catalog yet: as far as what was typed tells their shape."""

from collections.abc import Iterator, Mapping
from typing import Any

from markupsafe import Markup
from pydantic import ValidationError

from service.documents.catalog import IN_TRADE, Item, PortStandard
from service.documents.packed import PackedCatalog
from service.drawing.parts import SIZE, draw_part
from service.drawing.shapes import PartShape, part_shape
from service.drawing.svg import ornament, written

_SHADE = 0.13
_PLAIN: dict[str, Any] = {
    "sku": "new",
    "name": "new",
    "kind": "fitting",
    "sold": True,
    "status": "active",
    "price": 0,
    "stock": 0,
    "lead_days": 0,
    "mass_g": 0,
    "ports": [],
    "wetted": [],
}
_LOOKS = frozenset(Item.model_fields) - {"sku", "name", "wetted", "supplied", "aliases"} - IN_TRADE


def picture_of(document: Mapping[str, Any], catalog: PackedCatalog) -> Markup:
    """A part as it is typed, drawn by itself; what does not hold of it is left out."""
    standards = {standard.id: standard for standard in catalog.port_standards}
    shape = part_shape(_as_far_as_it_holds(document, standards), standards)
    return drawn(shape)


def drawn(shape: PartShape) -> Markup:
    """A part's picture by itself; words beside it say what it is."""
    root = ornament(SIZE, SIZE)
    draw_part(root, shape, _SHADE)
    return Markup(written(root))  # noqa: S704 its writer has escaped what is in it


def _as_far_as_it_holds(document: Mapping[str, Any], standards: Mapping[str, PortStandard]) -> Item:
    """The part of the fields that hold, each by itself."""
    kept = dict(_PLAIN)
    ports = document.get("ports")
    fields = {**document, "ports": list(_ports(ports if isinstance(ports, list) else [], standards))}
    for name in _LOOKS & fields.keys():
        try:
            Item.model_validate(kept | {name: fields[name]})
        except ValidationError:
            continue
        kept[name] = fields[name]
    return Item.model_validate(kept)


def _ports(ports: list[Any], standards: Mapping[str, PortStandard]) -> Iterator[dict[str, Any]]:
    """The ports that can be drawn, each with a name."""
    for place, port in enumerate(ports):
        if isinstance(port, dict) and port.get("standard") in standards:
            told = {"id": str(place), "end": "female", **port}
            try:
                Item.model_validate(_PLAIN | {"ports": [told]})
            except ValidationError:
                continue
            yield told
