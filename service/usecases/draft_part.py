"""A part that the maker does not have yet, as a draft to try: what it must be, and no more."""

import re
from collections.abc import Collection, Iterable
from math import ceil
from typing import Any

from service.documents.catalog import Material, PortStandard
from service.documents.draft import BegunDraft
from service.documents.next_part import NextPart
from service.documents.packed import PackedCatalog
from service.storage.drafts import StoredDraft
from service.usecases.drafts import Drafts
from service.usecases.preconditions import Precondition

_LONGEST_SKU, _LONGEST_NAME = 100, 200
_NOT_IN_SKUS = re.compile(r"[^A-Za-z0-9._-]+")
_PORTS = ("a", "b")


def begin_with(drafts: Drafts, part: NextPart, author: str | None) -> tuple[StoredDraft, str]:
    """Begin a draft on the newest revision with a part to try; the draft, and the SKU of the part.

    Raises FullError, NoCatalogError.
    """
    catalog = drafts.library.catalog(drafts.library.newest())
    document = document_of(part, catalog)
    begun = drafts.begin(BegunDraft(name=f"Try: {document['name']}"[:_LONGEST_NAME], author=author))
    why = f"to try what would answer {part['unlocks']} standing questions"
    named = "items", document["sku"]
    drafts.put(begun.id, named, document, Precondition(is_new=True), (author, why))
    return begun, document["sku"]


def document_of(part: NextPart, catalog: PackedCatalog) -> dict[str, Any]:
    """A part to try as an item of a catalog: free, in stock, of what the fuels allow, as long as it must be."""
    needs = part["needs"]
    standards = catalog.port_standards.by_id
    told: dict[str, Any] = {
        "sku": _sku(part, catalog.texts["items"]),
        "name": name_of(part, standards.values()),
        "kind": part["kind"],
        "sold": True,
        "status": "active",
        "price": 0,
        "stock": 1,
        "lead_days": 0,
        "mass_g": 0,
        "ports": [{"id": id_, **port} for id_, port in zip(_PORTS, part["ports"], strict=False)],
        "wetted": _material(catalog.materials, needs["fuels"]),
        "max_kpa": ceil(needs["kpa_at_least"]),
    }
    least, most = needs["standout_mm_at_least"], needs["standout_mm_at_most"]
    standout = least if least is not None else most
    if standout is not None:
        told["standout_mm"] = standout
    if needs["across_mm_at_most"] is not None:
        told["across_mm"] = needs["across_mm_at_most"]
    return told


def name_of(part: NextPart, standards: Iterable[PortStandard]) -> str:
    """What such a part is called until somebody names it."""
    names = {standard.id: standard.name for standard in standards}
    ends = " to ".join(f"{names.get(port['standard'], port['standard'])} {port['end']}" for port in part["ports"])
    return f"{part['kind'].capitalize()}, {ends}"[:_LONGEST_NAME]


def _sku(part: NextPart, taken: Collection[str]) -> str:
    """A SKU that says what it is, and that nobody has."""
    ports = "-".join(f"{port['standard']}-{port['end']}" for port in part["ports"])
    sku = _NOT_IN_SKUS.sub("-", f"new-{part['kind']}-{ports}")[:_LONGEST_SKU]
    number, found = 1, sku
    while found in taken:
        number += 1
        found = f"{sku}-{number}"
    return found


def _material(materials: Iterable[Material], fuels: Collection[str]) -> list[str]:
    """The material that these fuels allow best; none where the catalog has none."""
    worst = {one.id: max((one.ratings.get(fuel, "D") for fuel in fuels), default="A") for one in materials}
    return [min(worst, key=lambda id_: worst[id_])] if worst else []
