"""How far a bill is from its limits, in figures and words."""

from collections.abc import Callable, Mapping

from service.documents.answer import BillMargin, MarginLeft
from service.domain import units
from service.domain.answer import Bill
from service.domain.margins import UNITS, Margin, What, least_left, tightest
from service.domain.revision import Revision
from service.explain.figures import figure, figure_of


def margin(bill: Bill, revision: Revision) -> BillMargin:
    """What is left of the limits of a bill, and which of them is the tightest."""
    found = tightest(bill.margins)
    drops = [margin for margin in bill.margins if margin.what == "drop"]
    return {
        "tightest": None if found is None else _told(found, bill, revision),
        "clearance_mm": figure_of(least_left(bill.margins, "clearance", "across")),
        "pressure_kpa": figure_of(least_left(bill.margins, "pressure")),
        "drop_percent": min(map(_percent, drops), default=None),
    }


def _percent(margin: Margin) -> float:
    return round(margin.relative * 100, 4)


def _told(margin: Margin, bill: Bill, revision: Revision) -> MarginLeft:
    is_drop = margin.what == "drop"
    return {
        "what": margin.what,
        "spot": margin.spots[0] if margin.spots else None,
        "part": margin.sku,
        "left": _percent(margin) if is_drop else figure(round(margin.left, 3)),
        "unit": "%" if is_drop else UNITS[margin.what],
        "relative": figure(margin.relative),
        "text": _TEXTS[margin.what](margin, bill.duties, revision),
    }


Words = Callable[[Margin, Mapping[str, str], Revision], str]


def _clearance(margin: Margin, _: Mapping[str, str], __: Revision) -> str:
    return _least(f"room along the axis at the {margin.spots[0]} spot", margin, units.length)


def _across(margin: Margin, _: Mapping[str, str], __: Revision) -> str:
    return _least(f"room across at the {margin.spots[0]} spot", margin, units.length)


def _pressure(margin: Margin, _: Mapping[str, str], revision: Revision) -> str:
    name = revision.items[margin.sku or ""].name
    return _least(f"pressure allowed for {name}", margin, units.pressure)


def _drop(margin: Margin, duties: Mapping[str, str], _: Revision) -> str:
    return _least(f"drop allowed for the {_path(margin, duties)}", margin, units.pressure)


def _velocity(margin: Margin, duties: Mapping[str, str], _: Revision) -> str:
    return _least(f"speed allowed for the fuel on the {_path(margin, duties)}", margin, units.velocity)


_TEXTS: dict[What, Words] = {
    "clearance": _clearance,
    "across": _across,
    "pressure": _pressure,
    "drop": _drop,
    "velocity": _velocity,
}


def _least(limit: str, margin: Margin, worded: Callable[[float], str]) -> str:
    left = f"{worded(margin.left)} is left" if margin.left else "nothing is left"
    return f"The tightest limit is the {limit}: {left} of {worded(margin.limit)}."


def _path(margin: Margin, duties: Mapping[str, str]) -> str:
    return f"{duties[margin.spots[0]]} path at the {' and '.join(margin.spots)} spot{'s' * (len(margin.spots) > 1)}"
