"""Words for checks of what is supplied: pump, injectors, vapour, the pressure along the rail."""

from collections.abc import Mapping
from typing import Any

from service.domain import units

Facts = Mapping[str, Any]


def pump(facts: Facts) -> str:
    left, most = facts["left_over_l_h"], units.power(facts["runs_out_kw"])
    if left < 0:
        return (
            f"The pump cannot feed this power: {units.flow(-left)} are short, and it runs out at {most}. "
            "An engine that starves under load can be destroyed: fit a larger pump, or ask for less."
        )
    return f"The pump feeds this power with {units.flow(left)} left, and runs out at {most}."


def injectors(facts: Facts) -> str:
    if facts["duty"] is None:
        return f"At {units.pressure(facts['kpa'])} the injectors deliver nothing."
    most = f"they run out at {units.power(facts['runs_out_kw'])}, open {units.percent(facts['max_duty'])} of the time"
    each = f"{facts['count']} injectors of {units.flow(facts['static_l_h'])} each at {units.pressure(facts['kpa'])}"
    need = f"this power takes them {units.percent(facts['duty'])} of the time"
    if facts["duty"] > facts["max_duty"]:
        return f"The car's {each} are too small: {need}, and {most}. A lean engine under load can be destroyed."
    return f"The car's {each} are large enough: {need}; {most}."


def vapour_inlet(facts: Facts) -> str:
    return _vapour(
        facts,
        "at the pump's inlet",
        "The pump may draw vapour: let the fuel reach it freely and cool, with the pump low in or under the tank.",
    )


def vapour_soak(facts: Facts) -> str:
    return _vapour(
        facts,
        "in the rail after a hot stop",
        "A hot start may fail: keep heat off the rail, and see that pressure holds after the engine stops.",
    )


def _vapour(facts: Facts, where: str, advice: str) -> str:
    margin, least = facts["margin_kpa"], facts["least_margin_kpa"]
    at = f"{where}, at {units.temperature(facts['fuel_c'])}"
    if margin < 0:
        return f"{facts['fuel']} boils {at}: {units.pressure(-margin)} are short. {advice}"
    found = f"{facts['fuel']} is {units.pressure(margin)} from boiling {at}"
    if least is None:
        return f"{found}; no least margin is set."
    if margin < least:
        return f"{found}, less than the {units.pressure(least)} that are asked for. {advice}"
    return f"{found}; at least {units.pressure(least)} are asked for."


def spread(facts: Facts) -> str:
    most = facts["most_spread_percent"]
    low, high = units.pressure(facts["lowest_kpa"]), units.pressure(facts["highest_kpa"])
    found = (
        f"Along the rail the injectors see {low if low == high else f'{low} to {high}'}, so the cylinders differ by "
        f"{_percent(facts['spread_percent'])}"
    )
    if most is None:
        return f"{found}; no limit is set."
    if facts["spread_percent"] > most:
        return f"{found}, more than the {most:g} % allowed: feed the rail in its middle or at both ends."
    return f"{found}, of at most {most:g} %."


_LEAST_PERCENT = 0.01
"""Nobody measures a smaller difference between cylinders."""


def _percent(percent: float) -> str:
    return f"less than {_LEAST_PERCENT:g} %" if percent < _LEAST_PERCENT else f"{units.figure(percent)} %"


def gauge_scale(facts: Facts) -> str:
    shown, scale = units.pressure(facts["kpa"]), units.pressure(facts["scale_kpa"])
    part = f"{facts['gauge']} shows {shown}, {units.percent(facts['part'])} of its scale of {scale}"
    if facts["part"] > facts["most_part"]:
        return (
            f"{part}: over the {units.percent(facts['most_part'])} that a gauge stands all day. Its spring tires, and "
            f"it reads wrong: {_larger(facts['instead_name'])}."
        )
    return f"{part}, within the {units.percent(facts['most_part'])} that a gauge stands all day."


def _larger(instead: str | None) -> str:
    return f"take {instead}, which costs no more" if instead else "take one with a larger scale"
