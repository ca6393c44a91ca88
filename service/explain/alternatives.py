"""Words for what else could be asked."""

from service.documents import answer as doc
from service.domain.alternatives import Alternative
from service.domain.money import priced
from service.domain.power import in_short
from service.domain.revision import Revision
from service.explain.phrases import quoted
from service.explain.power import power_told


def alternative_told(alternative: Alternative, revision: Revision) -> doc.Alternative:
    """One alternative."""
    power = power_told(alternative.power)
    return {
        "change": {alternative.changes: alternative.value},
        "total_valid": alternative.total_valid,
        "price": alternative.price,
        "power": power,
        "text": _text(alternative, power, revision),
    }


def _text(alternative: Alternative, power: doc.Power, revision: Revision) -> str:
    if alternative.changes == "gauge":
        change = f"With the gauge at {alternative.value}"
    else:
        change = f"With the layout {quoted(revision.layouts[alternative.value].name)}"
    count = alternative.total_valid
    bills = "there is 1 valid bill" if count == 1 else f"there are {count} valid bills"
    price = priced(alternative.price, revision.currency)
    carries = in_short(power["carries_kw"], power["limited_by"], power["not_told"])
    return f"{change} {bills}. {f'It costs {price} and' if count == 1 else f'One for {price}'} {carries}."
