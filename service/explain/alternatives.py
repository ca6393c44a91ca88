"""Words for what else could be asked."""

from service.documents import answer as doc
from service.domain.alternatives import Alternative
from service.domain.money import priced
from service.domain.power import in_short
from service.domain.revision import Revision
from service.domain.tongue import numbered, place, plural
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
        one, many, value = *_GAUGE, place(alternative.value)
    else:
        one, many, value = *_LAYOUT, quoted(revision.layouts[alternative.value].name)
    return numbered(
        alternative.total_valid,
        one,
        many,
        value=value,
        count=alternative.total_valid,
        price=priced(alternative.price, revision.currency),
        carries=in_short(power["carries_kw"], power["limited_by"], power["not_told"]),
    )


_GAUGE = plural(
    "With the gauge at {value} there is 1 valid bill. It costs {price} and {carries}.",
    "With the gauge at {value} there are {count} valid bills. One for {price} {carries}.",
)
_LAYOUT = plural(
    "With the layout {value} there is 1 valid bill. It costs {price} and {carries}.",
    "With the layout {value} there are {count} valid bills. One for {price} {carries}.",
)
