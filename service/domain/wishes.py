"""The wishes of a request by their names, and the request with some of them alone."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import fields
from typing import Any, NamedTuple

from service.domain.request import Request
from service.domain.revision import Revision
from service.domain.vehicles import Clearance

MEASURES = ("axial_mm", "across_mm")


class Range(NamedTuple):
    """The least and the greatest value that a request may give."""

    least: float
    most: float


NUMBERS = {
    "power_kw": Range(0.1, 5_000),
    "pump_l_h": Range(0.1, 20_000),
    "feed_hose_m": Range(0, 100),
    "return_hose_m": Range(0, 100),
    "boost_kpa": Range(0, 1_000),
    "axial_mm": Range(0, 10_000),
    "across_mm": Range(0, 10_000),
}
"""The wishes that are numbers of their own, by what they measure; the price is money."""

FLOW_NUMBERS = ("power_kw", "pump_l_h", "feed_hose_m", "return_hose_m")


def measure_of(name: str) -> str | None:
    """What a wish is a number of, None where it is none."""
    last = name.rpartition("/")[2]
    return last if last in NUMBERS or name == "max_price" else None


_FIELDS = {
    "fuel": "fuel",
    "power_kw": "power_kw",
    "pump_l_h": "pump_l_h",
    "feed_hose_m": "feed_hose_m",
    "return_hose_m": "return_hose_m",
    "boost_kpa": "own_boost_kpa",
    "gauge": "gauge",
    "finish": "finish",
    "in_stock_only": "in_stock_only",
    "allow_unsold": "allow_unsold",
    "max_price": "max_price",
}
"""The field of a request for each wish that is one field."""


class Wishes:
    """The wishes of a request that differ from what holds without them.

    `values`: by name, sorted, what is wished (True where the name says it all).
    """

    def __init__(self, request: Request, revision: Revision) -> None:
        self._request = request
        self._defaults = defaults(request, revision)
        self.values: dict[str, Any] = dict(sorted(self._given()))
        self._unwished: dict[str, Any] = {field.name: getattr(request, field.name) for field in fields(request)}
        self._unwished |= {field: self._defaults[name] for name, field in _FIELDS.items()}

    def _given(self) -> Iterator[tuple[str, Any]]:
        request = self._request
        for name, field in _FIELDS.items():
            value = getattr(request, field)
            if value != self._defaults[name]:
                yield name, value
        for addon in request.addons:
            yield f"addons/{addon.id}", True
        for sku in request.exclude:
            yield f"exclude/{sku}", True
        rooms: dict[str, float] = {}
        for clearance in request.clearances:
            for measure in MEASURES:
                room = getattr(clearance, measure)
                if room is not None:
                    name = f"clearances/{clearance.spot}/{measure}"
                    rooms[name] = min(room, rooms.get(name, room))
        yield from rooms.items()

    def default(self, name: str) -> Any:
        """What a request says that drops the wish; None where it says nothing (the chassis's own power, too)."""
        return None if name == "power_kw" else self._defaults.get(name)

    def request_with(self, names: Iterable[str], changed: Mapping[str, Any] | None = None) -> Request:
        """The request with these of its wishes alone, some at another value; all that is no wish stays."""
        kept = {name: self.values[name] for name in names} | dict(changed or {})
        given = self._unwished | {_FIELDS[name]: value for name, value in kept.items() if name in _FIELDS}
        given["addons"] = tuple([addon for addon in self._request.addons if f"addons/{addon.id}" in kept])
        given["exclude"] = frozenset([sku for sku in self._request.exclude if f"exclude/{sku}" in kept])
        rooms = [(name.split("/"), value) for name, value in kept.items() if name.startswith("clearances/")]
        given["clearances"] = tuple(
            [
                Clearance(spot, value, None) if measure == "axial_mm" else Clearance(spot, None, value)
                for (_, spot, measure), value in rooms
            ]
        )
        return Request(**given)


def defaults(request: Request, revision: Revision) -> dict[str, Any]:
    """What holds where a request does not say: the value of each wish that is one field."""
    return {
        "fuel": next(iter(revision.fuels.values())),
        "power_kw": request.chassis.stock_kw,
        "pump_l_h": None,
        "feed_hose_m": None,
        "return_hose_m": None,
        "boost_kpa": 0.0,
        "gauge": "none",
        "finish": None,
        "in_stock_only": False,
        "allow_unsold": True,
        "max_price": None,
    }
