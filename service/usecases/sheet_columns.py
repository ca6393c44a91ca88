"""The columns of a file of orders: each wish has one, told by its name, another word for it, or one nearly alike."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from rapidfuzz import fuzz, process

from service.documents.order import OrderRequest
from service.documents.rendering import rendered
from service.reading.folding import key_of, singular_key_of
from service.usecases.sheet_rows import SheetError

REQUIRED = ("order", "chassis", "sku", "qty")
INSTEAD_OF_A_CAR = "key"
"""The column that makes that of the car needless."""
OF_A_LINE = ("sku", "qty")
_NO_COLUMNS = {"lines", "revision"}
_NEAR = 82.0
_SHORTEST_NEAR = 4
_WORDS = {
    "order": "order number, order no, order id, order name, po, po number, purchase order, bestellung, auftrag, job",
    "chassis": "car, vehicle, car name, model, fahrzeug, auto, voiture, application",
    "layout": "how fuel runs, fuel layout, route, routing",
    "sku": "part, part number, part no, part name, article, artikel, item, product, code, p/n, teil, artikelnummer",
    "qty": "quantity, q'ty, pieces, pcs, menge, anzahl, stk, stück, count, units, how many, ordered, order qty",
    "fuel": "kraftstoff, petrol or ethanol",
    "gauge": "gauge spot, manometer",
    "finish": "colour of the parts, surface, oberfläche",
    "key": "bill, bill key, key of the bill",
    "sets": "number of cars, set, how many cars, sätze",
    "power_kw": "power, kw, leistung, engine power",
    "boost_kpa": "boost, boost pressure, ladedruck",
    "addons": "add-on, add-ons, equipment, extras on the car",
    "clearances": "room, space, clearance, room at spots",
    "have": "there already, at hand, already has, own parts, in hand",
    "own_rail": "other rail, rail of another maker, customer's rail",
    "exclude": "without, not these, excluded",
    "in_stock_only": "in stock, only in stock, stock only",
    "allow_unsold": "bought elsewhere, unsold allowed",
    "max_price": "budget, price limit, at most, maximum price",
    "pump_l_h": "pump, pump flow, pump l/h",
    "feed_hose_m": "feed hose, hose length feed",
    "return_hose_m": "return hose, hose length return",
}
"""Other words for some columns."""


def _columns() -> dict[str, dict[str, Any]]:
    """The fields of an order that a cell can tell, with their JSON schemas."""
    schema = OrderRequest.model_json_schema()
    told = {name: _unwrapped(one, schema["$defs"]) for name, one in schema["properties"].items()}
    return {name: one for name, one in told.items() if name not in _NO_COLUMNS}


def _unwrapped(schema: dict[str, Any], known: dict[str, Any]) -> dict[str, Any]:
    """A schema without null and references."""
    told = next((one for one in schema.get("anyOf", [schema]) if one.get("type") != "null"), schema)
    if "$ref" in told:
        told = known[told["$ref"].rsplit("/", 1)[1]]
    if isinstance(told.get("properties"), dict):
        told = told | {"properties": {name: _unwrapped(one, known) for name, one in told["properties"].items()}}
    for inner in ("items", "additionalProperties"):
        if isinstance(told.get(inner), dict):
            told = told | {inner: _unwrapped(told[inner], known)}
    return told


WISHES = _columns()
KNOWN = ("order", "chassis", "layout", "sku", "qty", *(name for name in WISHES if name not in ("chassis", "layout")))
_BY_KEY = {singular_key_of(name): name for name in KNOWN} | {
    singular_key_of(word): name for name, text in _WORDS.items() if name in KNOWN for word in text.split(", ")
}


@dataclass(frozen=True)
class Columns:
    """What each column of a file holds: a known name, or an extra one that is kept as it is. `notes`: said aloud."""

    names: tuple[str, ...]
    extra: tuple[int, ...]
    notes: tuple[str, ...]


def columns_of(header: Sequence[str]) -> Columns:
    """The columns that a header names. Raises SheetError where one that is needed is missing, or stands twice."""
    cells = [cell.strip() for cell in header]
    while cells and not cells[-1]:
        cells.pop()
    exact = {place: cell.lower() for place, cell in enumerate(cells) if cell.lower() in KNOWN}
    names = dict(exact)
    for place, cell in enumerate(cells):
        meant = _meant(cell)
        if place not in names and meant is not None and meant not in exact.values():
            names[place] = meant
    _refuse(cells, names)
    notes = [
        f"the column {rendered(cells[place])} is read as {name}" for place, name in names.items() if place not in exact
    ]
    extra = tuple(place for place, cell in enumerate(cells) if place not in names and cell)
    notes += [f"the column {rendered(cells[place])} is not known: it is kept and given back" for place in extra]
    return Columns(tuple(names.get(place, cell) for place, cell in enumerate(cells)), extra, tuple(notes))


def _meant(cell: str) -> str | None:
    key = singular_key_of(cell)
    if key in _BY_KEY:
        return _BY_KEY[key]
    if len(key) < _SHORTEST_NEAR:
        return None
    found = process.extractOne(key_of(cell)[:60], list(_BY_KEY), scorer=fuzz.ratio, score_cutoff=_NEAR)
    return None if found is None else _BY_KEY[found[0]]


def _refuse(cells: Sequence[str], names: dict[int, str]) -> None:
    told_names = {*names.values(), *(("chassis",) if INSTEAD_OF_A_CAR in names.values() else ())}
    missing = [name for name in REQUIRED if name not in told_names]
    if missing:
        told = ", ".join(rendered(cell) for cell in cells[:8]) or "nothing"
        raise SheetError(
            f"the first line lacks {', '.join(missing)}: found {told}; known columns are {', '.join(KNOWN)}"
        )
    for name in KNOWN:
        places = [place for place, one in names.items() if one == name]
        if len(places) > 1:
            told = " and ".join(f"{rendered(cells[place])} in column {place + 1}" for place in places[:3])
            raise SheetError(f"the first line has {name} more than once: {told}")
    doubled = {cell for cell in cells if cell and cells.count(cell) > 1}
    if doubled:
        raise SheetError(f"the first line has {rendered(min(doubled))} more than once")
