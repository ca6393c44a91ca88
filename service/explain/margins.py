"""How far a bill is from its limits, in figures and words."""

from service.documents.answer import BillMargin, MarginLeft
from service.domain import units
from service.domain.answer import Bill
from service.domain.margins import Margin, least_left, tightest
from service.domain.revision import Revision
from service.domain.tongue import said
from service.explain.figures import figure, figure_of
from service.rules import RULE_BY_ID


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
        "unit": "%" if is_drop else margin.unit,
        "relative": figure(margin.relative),
        "text": _text(margin, bill, revision),
    }


def _text(margin: Margin, bill: Bill, revision: Revision) -> str:
    part = "" if margin.sku is None else revision.items[margin.sku].name
    limit = RULE_BY_ID[margin.rule].limit(margin, bill.duties, part)
    whole = units.measure(margin.limit, margin.unit)
    if not margin.left:
        return said("The tightest limit is the {limit}: nothing is left of {whole}.", limit=limit, whole=whole)
    left = units.measure(margin.left, margin.unit)
    return said("The tightest limit is the {limit}: {left} is left of {whole}.", limit=limit, left=left, whole=whole)
