"""Words for the power answer: how much a set-up carries, what stops it there, and whether that is enough."""

from collections.abc import Callable, Mapping
from functools import lru_cache
from typing import Any

from service.documents import answer as doc
from service.domain import units
from service.domain.power import LIMIT_KINDS, STOPS, LimitKind, Power, PowerLimit
from service.explain.figures import figure, figure_of, figures
from service.explain.phrases import listed

Facts = Mapping[str, Any]

_NAMES: dict[LimitKind, str] = {"plumbing": "the plumbing", "pump": "the pump", "injectors": "the injectors"}
_BOUNDS = {
    "drop": "{path} loses as much pressure as it may",
    "velocity": "the fuel in {path} is as fast as it may be",
}
_DUTIES = {"feed": "feed", "return": "return", "link": "link between the banks"}
_FOLLOWED = {"manifold": "the manifold", "atmosphere": "the atmosphere"}
SOURCES: dict[LimitKind, str] = {
    "plumbing": "Darcy-Weisbach with minor losses, Crane Technical Paper 410; limits of the catalog",
    "pump": "pump against system curve, e.g. White, Fluid Mechanics, section 11.6",
    "injectors": "square-root law: Bernoulli's equation for an orifice, e.g. White, Fluid Mechanics, section 3.5",
}
"""The source of the figures of each limit."""
STARVES = "An engine that starves under load can be destroyed."


def power_told(power: Power) -> doc.Power:
    """The power answer of a set-up."""
    return {**_told(power)}


@lru_cache(4096)
def _told(power: Power) -> doc.Power:
    """The answer worded once: bills that are fed alike have the same power."""
    least = power.least
    return {
        "asked_kw": figure(power.asked_kw),
        "assumed": power.assumed,
        "carries_kw": figure_of(power.carries_kw),
        "verdict": power.verdict,
        "limited_by": None if least is None else least.what,
        "not_told": list(power.not_told),
        "limits": [_limit(limit) for limit in power.limits],
        "reserve": power.reserve,
        "follows": power.follows or "not told",
        "text": _text(power),
    }


def power_cautions(power: Power) -> list[doc.Reason]:
    """Boost without a power, and a regulator that is not made for the pressure that it is set to."""
    found: list[doc.Reason] = []
    if power.assumed and power.boost_kpa > 0:
        facts = figures({"stock_kw": power.asked_kw, "boost_kpa": power.boost_kpa})
        found.append({"rule": "power", "text": _assumed(power), "facts": facts})
    if power.unset is not None:
        found.append({"rule": "regulator", "text": _unset(power.unset), "facts": figures(power.unset)})
    return found


def limit_clause(duty: str, spots: list[str], bound: str) -> str:
    """Which path is at which limit."""
    return _BOUNDS[bound].format(path=f"the {_DUTIES[duty]} at {' and '.join(spots)}")


@lru_cache(4096)
def _limit(limit: PowerLimit) -> doc.PowerLimit:
    return {
        "what": limit.what,
        "kw": figure(limit.kw),
        "text": _LIMITS[limit.what](limit.facts, units.power(limit.kw)),
        "facts": figures(limit.facts),
        "source": SOURCES[limit.what],
    }


def _text(power: Power) -> str:
    return " ".join(part for part in (_carries(power), _asked(power), _hangs(power), _boosted(power)) if part)


def _carries(power: Power) -> str:
    least = power.least
    if least is None:
        return "How much power this set-up carries is not known: nothing is told of plumbing, pump or injectors."
    carries = f"This set-up carries {units.power(least.kw)}"
    if not power.not_told:
        return f"{carries}: there {STOPS[least.what]}."
    nothing = listed([_NAMES[kind] for kind in power.not_told], "or")
    return f"{carries}, as far as is told: there {STOPS[least.what]}. Nothing is known of {nothing}."


def _asked(power: Power) -> str:
    asked = units.power(power.asked_kw)
    which = f"The stock power of {asked}" if power.assumed else f"The {asked} asked for"
    if power.carries_kw is None:
        return ""
    if power.verdict == "over":
        return f"{which} is more than that. {STARVES}"
    reserve = units.percent(power.reserve)
    if power.verdict == "tight":
        return f"{which} is within that, with less than the reserve of {reserve} left."
    return f"{which} is within that, with the reserve of {reserve}." if power.reserve else f"{which} is within that."


def _hangs(power: Power) -> str:
    if not power.hangs or not {"pump", "injectors"} - set(power.not_told):
        return ""
    return (
        "This hangs on what the regulator follows, which is not told: the figure holds as if it followed "
        f"{_FOLLOWED[power.as_follows]}, and is not less otherwise."
    )


def _boosted(power: Power) -> str:
    return _assumed(power) if power.assumed and power.boost_kpa > 0 else ""


def _assumed(power: Power) -> str:
    return (
        "No power is given: the stock power is taken, though it is boosted. "
        f"Say how much power {units.pressure(power.boost_kpa)} of boost makes."
    )


def _unset(facts: Facts) -> str:
    return (
        f"{facts['part']}: the pressure of {units.pressure(facts['set_kpa'])} is outside the "
        f"{units.pressure(facts['min_kpa'])} to {units.pressure(facts['max_kpa'])} that it can be set to."
    )


def _plumbing(facts: Facts, kw: str) -> str:
    return f"The plumbing is enough up to {kw}: then {limit_clause(facts['duty'], facts['spots'], facts['limit'])}."


def _pump(facts: Facts, kw: str) -> str:
    whose = "The pump" if facts["pump"] == "request" else "The car's pump"
    moves, against = units.flow(facts["flow_l_h"]), units.pressure(facts["outlet_kpa"])
    return f"{whose} is enough up to {kw}: it moves {moves} against {against}."


def _injectors(facts: Facts, kw: str) -> str:
    whose = "injectors" if facts["injectors"] == "request" else "of the car's injectors"
    if not facts["over_kpa"]:
        return "No pressure stands over the injectors: they deliver nothing."
    return (
        f"{facts['count']} {whose} are enough up to {kw}, open {units.percent(facts['max_duty'])} of the time: "
        f"{units.pressure(facts['over_kpa'])} stands over each."
    )


_LIMITS: dict[LimitKind, Callable[[Facts, str], str]] = dict(
    zip(LIMIT_KINDS, (_plumbing, _pump, _injectors), strict=True)
)
