"""A question as a query string: the inverse of how `GET /v1/bills` reads it."""

from collections.abc import Callable, Mapping
from decimal import Decimal
from typing import Any

from service.documents.request import BillRequest

Question = BillRequest | Mapping[str, Any]
"""A request for bills: the document, or its fields as plain JSON, which the service checks."""


def query_of(question: Question) -> dict[str, str]:
    """The parameters of a question; lists with commas, what has parts with colons."""
    return {
        name: _WRITTEN.get(name, _text)(value) for name, value in plain(question).items() if value not in (None, [], {})
    }


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
