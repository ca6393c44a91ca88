"""A question as the texts of a query, and read back: lists with commas, what has parts with colons."""

from collections.abc import Callable, Mapping
from decimal import Decimal
from typing import Any

from service.documents.request import BillRequest

Question = BillRequest | Mapping[str, Any]
"""A request for bills: the document, or its fields as plain JSON, which the service checks."""


def query_of(question: Question) -> dict[str, str]:
    """The parameters of a question, those that are empty left out."""
    return {
        name: _WRITTEN.get(name, _text)(value) for name, value in plain(question).items() if value not in (None, [], {})
    }


def fields_of(query: Mapping[str, Any]) -> dict[str, Any]:
    """The fields of a question as plain JSON, from texts that are formed as `query_of` writes them."""
    return {name: _READ[name](value) if name in _READ else value for name, value in query.items()}


def plain(document: Any) -> Any:
    """A document as plain JSON, without what was not set; what is plain already as it is."""
    return document.model_dump(mode="json", exclude_unset=True) if hasattr(document, "model_dump") else document


def _text(value: Any) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, float):  # without an exponent, which the query does not take
        return f"{Decimal(repr(value)):f}".removesuffix(".0")
    return str(value)


def _commas(values: Any) -> str:
    return ",".join(map(_text, values))


def _clearances(values: Any) -> str:
    rooms = ((one["spot"], measure, room) for one in values for measure, room in one.items() if measure != "spot")
    return ",".join(f"{spot}:{measure}:{_text(room)}" for spot, measure, room in rooms if room is not None)


def _own_rail(spots: Any) -> str:
    return ",".join(f"{spot}:{own['standard']}:{own['end']}" for spot, own in spots.items())


_WRITTEN: dict[str, Callable[[Any], str]] = {
    "addons": _commas,
    "exclude": _commas,
    "clearances": _clearances,
    "pump": lambda points: ",".join(f"{_text(point['kpa'])}:{_text(point['l_h'])}" for point in points),
    "pump_v": lambda volts: f"{_text(volts['rated'])}:{_text(volts['fed'])}",
    "regulator": lambda told: ",".join(f"{name}:{_text(value)}" for name, value in told.items() if value is not None),
    "injectors": lambda told: ":".join(
        _text(told[name]) for name in ("static_l_h", "rated_kpa", "max_duty") if told.get(name) is not None
    ),
    "have": lambda parts: ",".join(f"{part['sku']}:{part['qty']}" for part in parts),
    "own_rail": _own_rail,
}
"""How the fields with parts are written."""


def _listed(value: str) -> list[str]:
    return value.split(",")


def _is_true(value: str) -> bool:
    return value == "true"


def _read_clearances(value: str) -> list[dict[str, Any]]:
    parts = (one.split(":") for one in _listed(value))
    return [{"spot": spot, measure: float(room)} for spot, measure, room in parts]


def _curve(value: str) -> list[dict[str, float]]:
    parts = (one.split(":") for one in _listed(value))
    return [{"kpa": float(kpa), "l_h": float(l_h)} for kpa, l_h in parts]


def _volts(value: str) -> dict[str, float]:
    rated, fed = value.split(":")
    return {"rated": float(rated), "fed": float(fed)}


def _regulator(value: str) -> dict[str, Any]:
    told = dict(one.split(":") for one in _listed(value))
    return told | {"set_kpa": float(told["set_kpa"])} if "set_kpa" in told else told


def _injectors(value: str) -> dict[str, float]:
    names = ("static_l_h", "rated_kpa", "max_duty")
    return {name: float(number) for name, number in zip(names, value.split(":"), strict=False)}


def _have(value: str) -> list[dict[str, Any]]:
    parts = (one.rsplit(":", 1) for one in _listed(value))
    return [{"sku": sku, "qty": int(qty)} for sku, qty in parts]


def _read_own_rail(value: str) -> dict[str, Any]:
    parts = (one.split(":") for one in _listed(value))
    return {spot: {"standard": standard, "end": end} for spot, standard, end in parts}


_READ: dict[str, Callable[[str], Any]] = {
    **dict.fromkeys(("power_kw", "pump_l_h", "feed_hose_m", "return_hose_m", "boost_kpa"), float),
    **dict.fromkeys(("max_price", "limit"), int),
    **dict.fromkeys(("in_stock_only", "allow_unsold", "group_variants"), _is_true),
    **dict.fromkeys(("addons", "exclude"), _listed),
    "clearances": _read_clearances,
    "pump": _curve,
    "pump_v": _volts,
    "regulator": _regulator,
    "injectors": _injectors,
    "have": _have,
    "own_rail": _read_own_rail,
}
"""How the text of a field is read; the others are text already."""
