"""The order of a catalog's fuels, as an object of a draft: the first is what is asked where no fuel is told."""

import json
from collections.abc import Mapping
from typing import Annotated

from pydantic import Field

from service.documents.fields import Document, Id

FUEL_ORDER = "fuel_order"
"""The section of a draft that has it; no section of a catalog, whose list of fuels is in that order."""
Sections = Mapping[str, Mapping[str, str]]


class FuelOrder(Document):
    """The ids of fuels, the first one first; a fuel that is not named stands behind those that are, where it stood."""

    fuels: Annotated[list[Id], Field(min_length=1, max_length=200)]


def order_in(sections: Sections) -> str:
    """The order of fuels in a catalog, as canonical JSON."""
    return json.dumps({"fuels": list(sections.get("fuels", {}))}, separators=(",", ":"))


def document_in(sections: Sections, section: str, key: str) -> str | None:
    """The canonical JSON of an object that a draft can have otherwise than this catalog; None where there is none."""
    return order_in(sections) if section == FUEL_ORDER else sections.get(section, {}).get(key)


def in_order(fuels: Mapping[str, str], order: str) -> dict[str, str]:
    """Fuels by id, in an order; what it names and is not there is passed over."""
    named = [id_ for id_ in dict.fromkeys(json.loads(order)["fuels"]) if id_ in fuels]
    return {id_: fuels[id_] for id_ in (*named, *(id_ for id_ in fuels if id_ not in named))}


def is_moved(before: Sections, after: Sections) -> bool:
    """Whether fuels stand in another order than what came and went explains: what comes stands behind the others."""
    old, new = before.get("fuels", {}), after.get("fuels", {})
    return list(new) != [*(id_ for id_ in old if id_ in new), *(id_ for id_ in new if id_ not in old)]
