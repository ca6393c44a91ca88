"""What a rule leaves or misses, as a figure and in words."""

from service.documents.explain import MarginTold
from service.domain import units
from service.domain.explanation import Left
from service.domain.findings import Finding
from service.domain.money import priced
from service.domain.tongue import in_figures, said, sentence, word
from service.explain.phrases import capital
from service.rules import RULE_BY_ID


def left_told(left: Left, currency: str, *, enough: bool) -> MarginTold:
    """What is left (`enough`) or missing."""
    text = left_words(left, currency, enough=enough)
    return {"left": left.amount, "unit": left.unit, "text": f"{capital(text)}."}


def left_words(left: Left, currency: str, *, enough: bool) -> str:
    """The same in a few words, as in `1.4 mm (0.055 in) too much`."""
    if not enough and not left.amount:
        return said("by less than can be measured")
    amount = abs(left.amount)
    worded = priced(round(amount), currency) if left.unit == "minor units" else _worded(amount, left.unit)
    told = _ENOUGH.get(left.unit, _TO_SPARE) if enough else _SHORT.get(left.unit, _TOO_LITTLE)
    return said(told, left=worded)


def _worded(amount: float, unit: str) -> str:
    if unit == "units":
        return word("one") if amount == 1 else in_figures(f"{amount:g}")
    return units.measure(amount, unit)


_TO_SPARE = sentence("{left} to spare")
_TOO_LITTLE = sentence("{left} too little")
_TOO_MUCH = sentence("{left} too much")
_SHORT = {
    "mm": _TOO_MUCH,
    "L/h": sentence("{left} more than it can carry"),
    "units": sentence("{left} too few"),
    "minor units": _TOO_MUCH,
}
_ENOUGH = {"L/h": sentence("it could carry {left} more")}
"""By unit; of others what is missing is too little, and what is left is to spare."""


def measured(finding: Finding) -> Left | None:
    """What a rule that is kept leaves, where it measures."""
    return RULE_BY_ID[finding.rule].left(finding.facts)
