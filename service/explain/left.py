"""What a rule leaves or misses, as a figure and in words."""

from collections.abc import Callable

from service.documents.explain import MarginTold
from service.domain import units
from service.domain.explanation import Left, Unit
from service.domain.findings import Facts, Finding
from service.domain.money import priced
from service.explain.phrases import capital
from service.rules import clearance, flow, pressure, reach


def left_told(left: Left, currency: str, *, enough: bool) -> MarginTold:
    """What is left (`enough`) or missing."""
    text = left_words(left, currency, enough=enough)
    return {"left": left.amount, "unit": left.unit, "text": f"{capital(text)}."}


def left_words(left: Left, currency: str, *, enough: bool) -> str:
    """The same in a few words, as in `1.4 mm (0.055 in) too much`."""
    if not enough and not left.amount:
        return "by less than can be measured"
    amount = abs(left.amount)
    worded = priced(round(amount), currency) if left.unit == "minor units" else _WORDED[left.unit](amount)
    return (_ENOUGH if enough else _SHORT)[left.unit].format(left=worded)


_WORDED: dict[Unit, Callable[[float], str]] = {
    "mm": units.length,
    "kPa": units.pressure,
    "L/h": units.flow,
    "units": lambda count: "one" if count == 1 else f"{count:g}",
}
_SHORT: dict[Unit, str] = {
    "mm": "{left} too much",
    "kPa": "{left} too little",
    "L/h": "{left} more than it can carry",
    "units": "{left} too few",
    "minor units": "{left} too much",
}
_ENOUGH: dict[Unit, str] = {
    "mm": "{left} to spare",
    "kPa": "{left} to spare",
    "L/h": "it could carry {left} more",
    "units": "{left} to spare",
    "minor units": "{left} to spare",
}


def measured(finding: Finding) -> Left | None:
    """What a rule that is kept leaves, where it measures."""
    measure = _MEASURES.get(finding.rule)
    return None if measure is None else measure(finding.facts)


def _room(facts: Facts) -> Left | None:
    """Along the axis or across it, whichever is relatively less."""
    found = [
        (facts[left] / facts[limit] if facts[limit] else 0.0, facts[left])
        for left, limit in (("axial_left_mm", "axial_mm"), ("across_left_mm", "across_mm"))
        if left in facts
    ]
    return Left(min(found)[1], "mm") if found else None


def _reach(facts: Facts) -> Left | None:
    if "min_mm" not in facts:
        return None
    standout = facts["standout_mm"]
    left = min(standout - round(facts["min_mm"], 3), round(facts["max_mm"], 3) - standout)
    return Left(round(left, 3), "mm")


def _drop(facts: Facts) -> Left | None:
    if "limit_kpa" not in facts:
        return None
    return Left(round(facts["limit_kpa"] - facts["drop_kpa"], 3), "kPa")


_MEASURES: dict[str, Callable[[Facts], Left | None]] = {
    clearance.RULE.id: _room,
    reach.RULE.id: _reach,
    pressure.RULE.id: lambda facts: Left(facts["left_kpa"], "kPa"),
    flow.RULE.id: _drop,
}
