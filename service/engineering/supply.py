"""What the pump and the injectors supply: where a pump's curve meets the system, and what injectors deliver."""

import math
from collections.abc import Callable
from dataclasses import dataclass

from fluids.numerics import interp

from service.hydraulics.sharing import root

_ACCURACY = 1e-9
_straight_between: Callable[..., float] = interp


@dataclass(frozen=True, slots=True)
class PumpCurve:
    """What a pump delivers against pressure, straight between its points.

    Below the first point it delivers what it does there, above the last nothing is known: it is taken to be dry.

    points: pairs of pressure [kPa gauge] and flow [L/h]; pressures rise, flows never do; at least one

    Raises ValueError where the points are not so.
    """

    points: tuple[tuple[float, float], ...]

    def __post_init__(self) -> None:
        if not self.points:
            raise ValueError("a pump curve needs at least one point")
        for kpa, l_h in self.points:
            if not (0 <= kpa < math.inf and 0 <= l_h < math.inf):
                raise ValueError(f"a pump curve's pressures and flows must be 0 or more, not {kpa} and {l_h}")
        for (low_kpa, most), (high_kpa, least) in zip(self.points, self.points[1:], strict=False):
            if not (low_kpa < high_kpa and most >= least):
                raise ValueError(
                    "along a pump curve pressure must rise and flow must not, "
                    f"not from {most} L/h at {low_kpa} kPa to {least} L/h at {high_kpa} kPa"
                )

    def flow_l_h(self, kpa: float) -> float:
        """Give the flow [L/h] at a pressure.

        kpa: at the pump's outlet [kPa gauge]
        """
        kpas, flows = zip(*self.points, strict=True)
        return _straight_between(kpa, kpas, flows, left=flows[0], right=0.0)

    def at_voltage(self, volts: float, rated_volts: float) -> "PumpCurve":
        """Give the curve at another voltage: flow with the speed, pressure with its square, speed with the voltage.

        volts: voltage at the pump [V], above 0
        rated_volts: voltage of the curve [V], above 0

        Rough for positive-displacement pumps, whose speed also falls with load: ask the pump's maker for its curve.
        Raises ValueError where a voltage is not above 0.
        Source: affinity laws, e.g. White, Fluid Mechanics, section 11.5; speed with voltage is common practice.
        """
        if not (0 < volts < math.inf and 0 < rated_volts < math.inf):
            raise ValueError(f"voltages must be above 0, not {volts} and {rated_volts}")
        speed = volts / rated_volts
        return PumpCurve(tuple((kpa * speed * speed, l_h * speed) for kpa, l_h in self.points))


@dataclass(frozen=True, slots=True)
class OperatingPoint:
    """Where a pump settles.

    flow_l_h: what it delivers [L/h]
    kpa: against which pressure [kPa gauge]
    """

    flow_l_h: float
    kpa: float


def operating_point(pump: PumpCurve, base_kpa: float, drop_kpa: Callable[[float], float]) -> OperatingPoint:
    """Give the flow and pressure at which the pump delivers just what the system takes.

    Where the drop jumps (laminar to turbulent) between two flows, the point lies at the jump. Where the system takes
    more pressure than the curve's last point tells, it lies at that pressure: the pump may deliver more, never less.

    pump: its curve [kPa gauge, L/h]
    base_kpa: what the regulator holds over the lines' drop [kPa gauge]: base pressure plus boost, 0 or more
    drop_kpa: what the lines lose [kPa] at a flow [L/h]; 0 at no flow, never falling

    A pump that is dry at the base pressure gives no flow at that pressure.
    Raises ValueError where the base pressure is negative or not a number.
    Source: pump against system curve, e.g. White, Fluid Mechanics, section 11.6.
    """
    if not 0 <= base_kpa < math.inf:
        raise ValueError(f"base_kpa must be 0 or more, not {base_kpa}")

    def surplus(flow: float) -> float:
        return pump.flow_l_h(base_kpa + drop_kpa(flow)) - flow

    most = pump.flow_l_h(base_kpa)
    highest_kpa = base_kpa + drop_kpa(most)
    least = pump.flow_l_h(highest_kpa)  # at more pressure than there can be
    if least >= most:
        return OperatingPoint(most, highest_kpa)
    at_least = surplus(least)
    if at_least <= 0:
        return OperatingPoint(least, base_kpa + drop_kpa(least))
    flow: float = root(surplus, least, most, rtol=_ACCURACY, maxiter=500, fa=at_least, fb=least - most)
    return OperatingPoint(flow, base_kpa + drop_kpa(flow))


def power_kw(flow_l_h: float, bsfc_g_kwh: float, density_kg_m3: float) -> float:
    """Give the shaft power that a flow of fuel feeds [kW]: the other way round from the demand.

    flow_l_h: volume flow of fuel [L/h], 0 or more
    bsfc_g_kwh: brake-specific fuel consumption [g/kWh], above 0
    density_kg_m3: density of the fuel [kg/m3], above 0

    Raises ValueError where a value is out of its range.
    Source: definition of BSFC, e.g. Heywood, Internal Combustion Engine Fundamentals, section 2.8.
    """
    if not (flow_l_h >= 0 and bsfc_g_kwh > 0 and density_kg_m3 > 0):
        raise ValueError(
            "power needs flow_l_h of 0 or more, bsfc_g_kwh and density_kg_m3 above 0, "
            f"not {flow_l_h}, {bsfc_g_kwh} and {density_kg_m3}"
        )
    return flow_l_h * density_kg_m3 / bsfc_g_kwh


def injector_flow_l_h(rated_l_h: float, rated_kpa: float, kpa: float) -> float:
    """Give an injector's static flow at another pressure [L/h], by the square-root law.

    rated_l_h: static flow at the rated pressure [L/h], 0 or more
    rated_kpa: pressure difference of the rating [kPa], above 0
    kpa: pressure difference over the injector: rail less manifold [kPa], 0 or more

    Raises ValueError where a value is out of its range.
    Source: Bernoulli's equation for an orifice, e.g. White, Fluid Mechanics, section 3.5.
    """
    if not (rated_l_h >= 0 and rated_kpa > 0 and kpa >= 0):
        raise ValueError(
            "an injector's flow needs rated_l_h and kpa of 0 or more and rated_kpa above 0, "
            f"not {rated_l_h}, {kpa} and {rated_kpa}"
        )
    return rated_l_h * math.sqrt(kpa / rated_kpa)


def injectors_l_h(count: int, static_l_h: float, duty: float) -> float:
    """Give what injectors deliver together [L/h].

    count: number of injectors [-], 0 or more
    static_l_h: flow of one held open, at the pressure at hand [L/h], 0 or more
    duty: part of the time that they are open [-], 0..1; 0.80 to 0.85 is the usual most (common practice)

    Raises ValueError where a value is out of its range.
    Source: proportion of open time, common practice.
    """
    if not (count >= 0 and static_l_h >= 0 and 0 <= duty <= 1):
        raise ValueError(
            f"injectors need count and static_l_h of 0 or more and duty of 0 to 1, not {count}, {static_l_h} and {duty}"
        )
    return count * static_l_h * duty


def injectors_most_l_h(
    count: int, rated_l_h: float, rated_kpa: float, duty: float, over_kpa: Callable[[float], float]
) -> float:
    """Give the most that injectors deliver together [L/h]: the greatest flow that the pressure left over them drives.

    count: number of injectors [-], 0 or more
    rated_l_h: static flow of one at the rated pressure [L/h], 0 or more
    rated_kpa: pressure difference of the rating [kPa], above 0
    duty: part of the time that they are open at most [-], 0..1
    over_kpa: pressure over an injector [kPa] when all together deliver a flow [L/h]; never rising

    Nothing where no pressure stands over them even without any flow. Where the pressure falls at a jump (laminar to
    turbulent flow in the lines) the flow lies at the jump.
    Raises ValueError where a value is out of its range.
    Source: square-root law against the lines' drop, e.g. White, Fluid Mechanics, sections 3.5 and 6.10.
    """

    def delivered(flow: float) -> float:
        static = injector_flow_l_h(rated_l_h, rated_kpa, max(0.0, over_kpa(flow)))
        return injectors_l_h(count, static, duty)

    most = delivered(0.0)
    at_most = delivered(most)
    if at_most >= most:
        return most
    flow: float = root(
        lambda flow: delivered(flow) - flow, 0.0, most, rtol=_ACCURACY, maxiter=500, fa=most, fb=at_most - most
    )
    return flow


def hydraulic_power_w(flow_l_h: float, kpa: float) -> float:
    """Give the power that a pump puts into the fuel [W]: pressure times flow. All of it ends as heat.

    flow_l_h: volume flow [L/h], 0 or more
    kpa: pressure that the pump adds [kPa], 0 or more

    Raises ValueError where a value is out of its range.
    Source: e.g. White, Fluid Mechanics, section 11.2.
    """
    if not (flow_l_h >= 0 and kpa >= 0):
        raise ValueError(f"hydraulic power needs flow_l_h and kpa of 0 or more, not {flow_l_h} and {kpa}")
    return flow_l_h * 1e-3 / 3600 * kpa * 1e3


def warming_k(power_w: float, flow_l_h: float, density_kg_m3: float, heat_capacity_j_kg_k: float) -> float:
    """Give how much warmer a flow leaves than it came [K] with this power put in, nothing lost on the way.

    power_w: heat put in [W], 0 or more
    flow_l_h: volume flow [L/h], above 0
    density_kg_m3: density [kg/m3], above 0
    heat_capacity_j_kg_k: specific heat capacity [J/(kg*K)], above 0

    Raises ValueError where a value is out of its range.
    Source: steady-flow energy balance, e.g. Incropera, Fundamentals of Heat and Mass Transfer, section 1.3.
    """
    if not (power_w >= 0 and flow_l_h > 0 and density_kg_m3 > 0 and heat_capacity_j_kg_k > 0):
        raise ValueError(
            "warming needs power_w of 0 or more; flow_l_h, density_kg_m3 and heat_capacity_j_kg_k above 0, "
            f"not {power_w}, {flow_l_h}, {density_kg_m3} and {heat_capacity_j_kg_k}"
        )
    return power_w / (flow_l_h * 1e-3 / 3600 * density_kg_m3 * heat_capacity_j_kg_k)
