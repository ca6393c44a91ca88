"""Faults of a form in the words of its labels, to stand beside the fields that they are of."""

import re
from collections.abc import Iterable
from dataclasses import dataclass

from service.web.errors import ParameterFault

NAMES = {
    "chassis": "The car",
    "layout": "How fuel runs",
    "fuel": "Fuel",
    "power_kw": "Power",
    "gauge": "Gauge",
    "finish": "Finish",
    "addons": "What is fitted to the car",
    "clearances": "Room",
    "regulator": "Regulator",
    "injectors": "Injectors",
    "pump": "Pump",
    "pump_v": "Volts of the pump",
    "max_price": "Price at most",
    "exclude": "Without these parts",
    "have": "Parts at hand",
    "boost_kpa": "Boost of your own",
    "pump_l_h": "What the pump moves",
    "feed_hose_m": "Feed hose",
    "return_hose_m": "Return hose",
    "own_rail": "Another maker\u2019s rail",
    "limit": "How many bills",
    "key": "The bill",
    "sets": "For how many such cars",
    "car": "The car",
    "cylinders": "Cylinders",
    "banks": "Banks of cylinders",
    "pressure_kpa": "Fuel pressure",
    "contact": "Whom to answer",
    "note": "What to add",
}
_RIGHT = {
    "max_price": "an amount, as 300 or 299.50",
    "pump": "kPa : L/h with commas between, pressures rising, as 0:180,400:120",
    "pump_v": "volts of the curve : volts at the pump, as 12:13.5",
    "injectors": "L/h held open : kPa, as 30:300",
    "regulator": "one pressure in kPa",
    "clearances": "a number for each spot",
    "contact": "an e-mail address, or a telephone number of five digits at least",
}
"""What is right where the API speaks of its own notation."""
_NOTATION = re.compile(r"[A-Z]{2,}[_:]|minor units|with commas")
_LINE = re.compile(r"lines/(?P<row>\d+)(/(?P<part>sku|qty))?")
_PARTS = {"qty": "how many", "sku": "which part", None: "the row"}


@dataclass(frozen=True)
class ToldFault:
    """A fault for people: the field of the form, and a sentence that names it."""

    field: str
    text: str


def told(faults: Iterable[ParameterFault]) -> list[ToldFault]:
    """The faults in the order in which they were found."""
    return [_told(fault) for fault in faults]


def _told(fault: ParameterFault) -> ToldFault:
    field = fault.parameter.strip("/")
    nearest = f" Nearest: {', '.join(fault.nearest)}." if fault.nearest else ""
    return ToldFault(field.partition("/")[0], f"{_name(field)}: {_right(fault, field)}; found {fault.found}.{nearest}")


def _name(field: str) -> str:
    row = _LINE.fullmatch(field)
    if row is not None:
        return f"Line {int(row['row']) + 1} of the order, {_PARTS[row['part']]}"
    first, _, rest = field.partition("/")
    told = NAMES.get(first)
    if told is None:
        return f"\u201c{field}\u201d"
    places = [part for part in rest.split("/") if part and not part.isdecimal()]
    return f"{told} ({' '.join(places)})".replace("_", " ") if places else told


def _right(fault: ParameterFault, field: str) -> str:
    expected = fault.expected.partition("; default")[0]
    if _NOTATION.search(expected):
        expected = _RIGHT.get(field.partition("/")[0], expected)
    return f"expected {expected}"
