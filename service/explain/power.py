"""Words for the power answer: how much a set-up carries, what stops it there, and whether that is enough."""

from collections.abc import Callable, Mapping
from functools import lru_cache
from typing import Any

from service.documents import answer as doc
from service.documents.found import FoundLimit, FoundPower
from service.domain import units
from service.domain.power import LIMIT_KINDS, STOPS, LimitKind, Power, PowerLimit
from service.domain.tongue import language, named, places, said, sentence, word
from service.explain.figures import figure, figure_of, figures
from service.explain.phrases import joined, listed

Facts = Mapping[str, Any]

_NAMES: dict[LimitKind, str] = {
    "plumbing": sentence("the plumbing"),
    "pump": sentence("the pump"),
    "injectors": sentence("the injectors"),
}
_BOUNDS = {
    "drop": sentence("the {duty} at {spots} loses as much pressure as it may"),
    "velocity": sentence("the fuel in the {duty} at {spots} is as fast as it may be"),
}
_DUTIES = {"feed": "feed", "return": "return", "link": "link between the banks"}
SOURCES: dict[LimitKind, str] = {
    "plumbing": "Darcy-Weisbach with minor losses, Crane Technical Paper 410; limits of the catalog",
    "pump": "pump against system curve, e.g. White, Fluid Mechanics, section 11.6",
    "injectors": "square-root law: Bernoulli's equation for an orifice, e.g. White, Fluid Mechanics, section 3.5",
}
"""The source of the figures of each limit."""
STARVES = sentence("An engine that starves under load can be destroyed.")


def power_said(power: Power) -> FoundPower:
    """The power answer of a set-up without facts and sources; not to be changed."""
    return _said(power, language())


def power_told(power: Power) -> doc.Power:
    """The power answer of a set-up."""
    limits: list[doc.PowerLimit] = [
        {**_limit(limit, language()), "facts": figures(limit.facts), "source": SOURCES[limit.what]}
        for limit in power.limits
    ]
    return {**power_said(power), "limits": limits}


@lru_cache(4096)
def _said(power: Power, _language: str) -> FoundPower:
    """The answer worded once: bills that are fed alike have the same power."""
    least = power.least
    return {
        "asked_kw": figure(power.asked_kw),
        "assumed": power.assumed,
        "carries_kw": figure_of(power.carries_kw),
        "verdict": power.verdict,
        "limited_by": None if least is None else least.what,
        "not_told": list(power.not_told),
        "limits": [_limit(limit, _language) for limit in power.limits],
        "reserve": power.reserve,
        "follows": power.follows or "not told",
        "text": _text(power),
    }


def power_cautions(power: Power) -> list[doc.Reason]:
    """Boost without a power, each regulator that is not made for its set pressure, regulators that follow different
    things."""
    found: list[doc.Reason] = []
    if power.assumed and power.boost_kpa > 0:
        facts = figures({"stock_kw": power.asked_kw, "boost_kpa": power.boost_kpa})
        found.append({"rule": "power", "text": _assumed(power), "facts": facts})
    found += [{"rule": "regulator", "text": _unset(facts), "facts": figures(facts)} for facts in power.unset]
    if power.apart:
        found.append({"rule": "regulator", "text": said(_APART), "facts": figures(power.apart)})
    return found


def limit_clause(duty: str, spots: list[str], bound: str) -> str:
    """Which path is at which limit."""
    return said(_BOUNDS[bound], duty=word(_DUTIES[duty]), spots=joined(places(spots)))


@lru_cache(16_384)
def _limit(limit: PowerLimit, _language: str) -> FoundLimit:
    """A limit hangs on no power that is asked, so most answers find theirs worded."""
    text = _LIMITS[limit.what](limit.facts, units.power(limit.kw))
    return {"what": limit.what, "kw": figure(limit.kw), "text": text}


def _text(power: Power) -> str:
    return " ".join(part for part in (_carries(power), _asked(power), _hangs(power), _boosted(power)) if part)


def _carries(power: Power) -> str:
    least = power.least
    if least is None:
        return said("How much power this set-up carries is not known: nothing is told of plumbing, pump or injectors.")
    kw, stops = units.power(least.kw), said(STOPS[least.what])
    if not power.not_told:
        return said("This set-up carries {power}: there {stops}.", power=kw, stops=stops)
    return said(
        "This set-up carries {power}, as far as is told: there {stops}. Nothing is known of {unknown}.",
        power=kw,
        stops=stops,
        unknown=listed([said(_NAMES[kind]) for kind in power.not_told], "or"),
    )


def _asked(power: Power) -> str:
    if power.carries_kw is None:
        return ""
    asked, reserve = units.power(power.asked_kw), units.percent(power.reserve)
    degree: str = power.verdict
    if degree == "over" and asked == units.power(power.carries_kw):
        degree = "just over"
    if degree == "ok" and not power.reserve:
        degree = "within"
    stock, given = _IS_ENOUGH[degree]
    told = said(stock if power.assumed else given, power=asked, reserve=reserve)
    return f"{told} {said(STARVES)}" if power.verdict == "over" else told


_IS_ENOUGH = {
    "over": (
        sentence("The stock power of {power} is more than that."),
        sentence("The {power} asked for is more than that."),
    ),
    "just over": (
        sentence("The stock power of {power} is a little more than that."),
        sentence("The {power} asked for is a little more than that."),
    ),
    "tight": (
        sentence("The stock power of {power} is within that, with less than the reserve of {reserve} left."),
        sentence("The {power} asked for is within that, with less than the reserve of {reserve} left."),
    ),
    "ok": (
        sentence("The stock power of {power} is within that, with the reserve of {reserve}."),
        sentence("The {power} asked for is within that, with the reserve of {reserve}."),
    ),
    "within": (
        sentence("The stock power of {power} is within that."),
        sentence("The {power} asked for is within that."),
    ),
}
"""By verdict, and whether figures show it: of the stock power, and of a power that is asked for."""


def _hangs(power: Power) -> str:
    if not power.hangs or not {"pump", "injectors"} - set(power.not_told):
        return ""
    return said(_AS_IF[power.as_follows])


_AS_IF = {
    "manifold": sentence(
        "This hangs on what the regulator follows, which is not told: the figure holds as if it followed the manifold, "
        "and is not less otherwise."
    ),
    "atmosphere": sentence(
        "This hangs on what the regulator follows, which is not told: the figure holds as if it followed the "
        "atmosphere, and is not less otherwise."
    ),
}


def _boosted(power: Power) -> str:
    return _assumed(power) if power.assumed and power.boost_kpa > 0 else ""


def _assumed(power: Power) -> str:
    return said(
        "No power is given: the stock power is taken, though it is boosted. Say how much power {boost} of boost makes.",
        boost=units.pressure(power.boost_kpa),
    )


def _unset(facts: Facts) -> str:
    return said(
        "{part}: the pressure of {pressure} is outside the {least} to {most} that it can be set to.",
        part=named(facts["part"]),
        pressure=units.pressure(facts["set_kpa"]),
        least=units.pressure(facts["min_kpa"]),
        most=units.pressure(facts["max_kpa"]),
    )


_APART = sentence(
    "The regulators of this bill do not follow the same: under boost their rails have different pressures, and the "
    "power is told as if all followed what the first does. Take regulators that follow the same."
)


def _plumbing(facts: Facts, kw: str) -> str:
    then = limit_clause(facts["duty"], facts["spots"], facts["limit"])
    return said("The plumbing is enough up to {power}: then {then}.", power=kw, then=then)


def _pump(facts: Facts, kw: str) -> str:
    moves, against = units.flow(facts["flow_l_h"]), units.pressure(facts["outlet_kpa"])
    told = _OWN_PUMP if facts["pump"] == "request" else _CARS_PUMP
    return said(told, power=kw, flow=moves, pressure=against)


_OWN_PUMP = sentence("The pump is enough up to {power}: it moves {flow} against {pressure}.")
_CARS_PUMP = sentence("The car's pump is enough up to {power}: it moves {flow} against {pressure}.")


def _injectors(facts: Facts, kw: str) -> str:
    if not facts["over_kpa"]:
        return said("No pressure stands over the injectors: they deliver nothing.")
    told = _OWN_INJECTORS if facts["injectors"] == "request" else _CARS_INJECTORS
    return said(
        told,
        count=facts["count"],
        power=kw,
        part=units.percent(facts["max_duty"]),
        pressure=units.pressure(facts["over_kpa"]),
    )


_OWN_INJECTORS = sentence(
    "{count} injectors are enough up to {power}, open {part} of the time: {pressure} stands over each."
)
_CARS_INJECTORS = sentence(
    "The car's {count} injectors are enough up to {power}, open {part} of the time: {pressure} stands over each."
)


_LIMITS: dict[LimitKind, Callable[[Facts, str], str]] = dict(
    zip(LIMIT_KINDS, (_plumbing, _pump, _injectors), strict=True)
)
