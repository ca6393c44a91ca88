"""Each check of a bill in words: what was looked at, what was found, and the source that it rests on."""

from collections.abc import Callable, Mapping
from typing import Any, NamedTuple

from service.documents import answer as doc
from service.domain import units
from service.domain.assessment import Check

Facts = Mapping[str, Any]


class Words(NamedTuple):
    """How a check is told, and where its figures come from."""

    text: Callable[[Facts], str]
    source: str


def check_told(check: Check) -> doc.Check:
    """A check as it stands in an answer."""
    words = WORDS[check.check]
    return {
        "check": check.check,
        "verdict": check.verdict,
        "text": words.text(check.facts),
        "skus": list(check.skus),
        "spots": list(check.spots),
        "facts": dict(check.facts),
        "source": words.source,
    }


def _pump(facts: Facts) -> str:
    left, most = facts["left_over_l_h"], units.power(facts["runs_out_kw"])
    if left < 0:
        return (
            f"The pump cannot feed this power: {units.flow(-left)} are short, and it runs out at {most}. "
            "An engine that starves under load can be destroyed: fit a larger pump, or ask for less."
        )
    return f"The pump feeds this power with {units.flow(left)} left, and runs out at {most}."


def _injectors(facts: Facts) -> str:
    most = f"they run out at {units.power(facts['runs_out_kw'])}, open {_percent(facts['max_duty'])} of the time"
    each = f"{facts['count']} injectors of {units.flow(facts['static_l_h'])} each at {units.pressure(facts['kpa'])}"
    if facts["duty"] is None:
        return f"At {units.pressure(facts['kpa'])} the injectors deliver nothing."
    need = f"this power takes them {_percent(facts['duty'])} of the time"
    if facts["duty"] > facts["max_duty"]:
        return f"The car's {each} are too small: {need}, and {most}. A lean engine under load can be destroyed."
    return f"The car's {each} are large enough: {need}; {most}."


def _percent(part: float) -> str:
    return f"{part * 100:.0f} %"


WORDS: dict[str, Words] = {
    "pump": Words(_pump, "pump against system curve, e.g. White, Fluid Mechanics, section 11.6"),
    "injectors": Words(
        _injectors, "square-root law: Bernoulli's equation for an orifice, e.g. White, Fluid Mechanics, section 3.5"
    ),
}
"""The words of each check by its id."""
