"""Words for checks of what is supplied: pump, injectors, vapour, the pressure along the rail."""

from collections.abc import Mapping
from typing import Any, NamedTuple

from service.domain import units
from service.domain.tongue import in_figures, named, said, sentence

Facts = Mapping[str, Any]


def pump(facts: Facts) -> str:
    left, most = facts["left_over_l_h"], units.power(facts["runs_out_kw"])
    if left < 0:
        return said(
            "The pump cannot feed this power: {short} are short, and it runs out at {most}. An engine that starves "
            "under load can be destroyed: fit a larger pump, or ask for less.",
            short=units.flow(-left),
            most=most,
        )
    return said("The pump feeds this power with {left} left, and runs out at {most}.", left=units.flow(left), most=most)


def injectors(facts: Facts) -> str:
    if facts["duty"] is None:
        return said("At {pressure} the injectors deliver nothing.", pressure=units.pressure(facts["kpa"]))
    return said(
        _TOO_SMALL if facts["duty"] > facts["max_duty"] else _LARGE_ENOUGH,
        count=facts["count"],
        flow=units.flow(facts["static_l_h"]),
        pressure=units.pressure(facts["kpa"]),
        part=units.percent(facts["duty"]),
        most=units.power(facts["runs_out_kw"]),
        most_part=units.percent(facts["max_duty"]),
    )


_TOO_SMALL = sentence(
    "{count} injectors of {flow} each at {pressure} are too small: this power takes them {part} of the time, and they "
    "run out at {most}, open {most_part} of the time. A lean engine under load can be destroyed."
)
_LARGE_ENOUGH = sentence(
    "{count} injectors of {flow} each at {pressure} are large enough: this power takes them {part} of the time; they "
    "run out at {most}, open {most_part} of the time."
)


def vapour_inlet(facts: Facts) -> str:
    return _vapour(facts, _INLET)


def vapour_soak(facts: Facts) -> str:
    return _vapour(facts, _SOAK)


class _Place(NamedTuple):
    """Where fuel may boil: that it does, how far it is from that, and what is to be done."""

    boils: str
    margin: str
    advice: str


_INLET = _Place(
    sentence("{fuel} boils at the pump's inlet, at {at}: {short} are short."),
    sentence("{fuel} is {margin} from boiling at the pump's inlet, at {at}"),
    sentence(
        "The pump may draw vapour: let the fuel reach it freely and cool, with the pump low in or under the tank."
    ),
)
_SOAK = _Place(
    sentence("{fuel} boils in the rail after a hot stop, at {at}: {short} are short."),
    sentence("{fuel} is {margin} from boiling in the rail after a hot stop, at {at}"),
    sentence("A hot start may fail: keep heat off the rail, and see that pressure holds after the engine stops."),
)


def _vapour(facts: Facts, place: _Place) -> str:
    margin, least = facts["margin_kpa"], facts["least_margin_kpa"]
    fuel, at = named(facts["fuel"]), units.temperature(facts["fuel_c"])
    if margin < 0:
        return f"{said(place.boils, fuel=fuel, at=at, short=units.pressure(-margin))} {said(place.advice)}"
    found = said(place.margin, fuel=fuel, at=at, margin=units.pressure(margin))
    if least is None:
        return said("{told}; no least margin is set.", told=found)
    asked = units.pressure(least)
    if margin < least:
        less = said("{told}, less than the {asked} that are asked for.", told=found, asked=asked)
        return f"{less} {said(place.advice)}"
    return said("{told}; at least {asked} are asked for.", told=found, asked=asked)


def spread(facts: Facts) -> str:
    most = facts["most_spread_percent"]
    low, high = units.pressure(facts["lowest_kpa"]), units.pressure(facts["highest_kpa"])
    found = said(
        "Along the rail the injectors see {pressures}, so the cylinders differ by {spread}",
        pressures=low if low == high else said("{least} to {most}", least=low, most=high),
        spread=_percent(facts["spread_percent"]),
    )
    if most is None:
        return said("{told}; no limit is set.", told=found)
    limit = in_figures(f"{most:g} %")
    if facts["spread_percent"] > most:
        return said(
            "{told}, more than the {limit} allowed: feed the rail in its middle or at both ends.",
            told=found,
            limit=limit,
        )
    return said("{told}, of at most {limit}.", told=found, limit=limit)


_LEAST_PERCENT = 0.01
"""Nobody measures a smaller difference between cylinders."""


def _percent(percent: float) -> str:
    if percent < _LEAST_PERCENT:
        return said("less than {percent}", percent=in_figures(f"{_LEAST_PERCENT:g} %"))
    return f"{units.figure(percent)} %"


def gauge_scale(facts: Facts) -> str:
    instead = facts["instead_name"]
    within, over = _WITHIN_SCALE, _OVER_SCALE_WITH if instead else _OVER_SCALE
    return said(
        over if facts["part"] > facts["most_part"] else within,
        gauge=named(facts["gauge"]),
        pressure=units.pressure(facts["kpa"]),
        part=units.percent(facts["part"]),
        scale=units.pressure(facts["scale_kpa"]),
        most=units.percent(facts["most_part"]),
        instead=named(instead or ""),
    )


_WITHIN_SCALE = sentence(
    "{gauge} shows {pressure}, {part} of its scale of {scale}, within the {most} that a gauge stands all day."
)
_OVER_SCALE = sentence(
    "{gauge} shows {pressure}, {part} of its scale of {scale}: over the {most} that a gauge stands all day. Its spring "
    "tires, and it reads wrong: take one with a larger scale."
)
_OVER_SCALE_WITH = sentence(
    "{gauge} shows {pressure}, {part} of its scale of {scale}: over the {most} that a gauge stands all day. Its spring "
    "tires, and it reads wrong: take {instead}, which costs no more."
)
