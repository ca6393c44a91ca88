"""Pressure lost by a liquid on its way through one round passage: a hose, a fitting's bore, a rail."""

import math
from collections.abc import Iterable
from dataclasses import dataclass

from fluids.friction import Clamond

TRANSITION_REYNOLDS = 2040.0
"""Below it pipe flow is laminar, from it on turbulent [-]. Source: Avila et al., Science 333 (2011) 192."""


@dataclass(frozen=True, slots=True)
class Passage:
    """A round, straight way through a part, with the lumped loss of its bends, steps and ends.

    bore_m: inside diameter [m], above 0
    length_m: length along which the wall rubs [m], 0 or more
    loss_k: sum of the minor-loss coefficients, on the velocity in this bore [-], 0 or more
    roughness_m: absolute roughness of the wall [m], 0 or more and below the bore

    Raises ValueError where a value is out of its range.
    """

    bore_m: float
    length_m: float
    loss_k: float
    roughness_m: float

    def __post_init__(self) -> None:
        if not 0 < self.bore_m < math.inf:
            raise ValueError(f"bore_m must be above 0, not {self.bore_m}")
        for name, value in (("length_m", self.length_m), ("loss_k", self.loss_k)):
            if not 0 <= value < math.inf:
                raise ValueError(f"{name} must be 0 or more, not {value}")
        if not 0 <= self.roughness_m < self.bore_m:
            raise ValueError(f"roughness_m must be 0 or more and below the bore, not {self.roughness_m}")


def merged(passages: Iterable[Passage]) -> tuple[Passage, ...]:
    """Give passages one after the other as few: those of equal bore and roughness lose as one of their summed
    length and loss coefficients, since what both are multiplied by is the same.

    passages: in any order; bore, length and roughness [m], loss coefficient [-]
    """
    alike: dict[tuple[float, float], list[Passage]] = {}
    for passage in passages:
        alike.setdefault((passage.bore_m, passage.roughness_m), []).append(passage)
    return tuple(
        Passage(bore_m, sum(x.length_m for x in found), sum(x.loss_k for x in found), roughness_m)
        for (bore_m, roughness_m), found in alike.items()
    )


@dataclass(frozen=True, slots=True)
class Fluid:
    """A liquid that keeps its density and viscosity along the way (Newtonian, incompressible).

    density_kg_m3: density [kg/m3], above 0
    viscosity_pa_s: dynamic viscosity [Pa*s], above 0

    Raises ValueError where a value is out of its range.
    """

    density_kg_m3: float
    viscosity_pa_s: float

    def __post_init__(self) -> None:
        for name, value in (("density_kg_m3", self.density_kg_m3), ("viscosity_pa_s", self.viscosity_pa_s)):
            if not 0 < value < math.inf:
                raise ValueError(f"{name} must be above 0, not {value}")


def velocity_m_s(passage: Passage, flow_m3_s: float) -> float:
    """Give the mean velocity in the bore [m/s]: flow over area.

    passage: its bore [m] is used
    flow_m3_s: volume flow [m3/s]
    """
    return flow_m3_s / (math.pi / 4 * passage.bore_m * passage.bore_m)


def reynolds(passage: Passage, fluid: Fluid, flow_m3_s: float) -> float:
    """Give the Reynolds number of the flow in the bore [-]: rho v D / mu.

    passage: its bore [m] is used
    fluid: density [kg/m3] and dynamic viscosity [Pa*s]
    flow_m3_s: volume flow [m3/s]
    """
    return fluid.density_kg_m3 * velocity_m_s(passage, flow_m3_s) * passage.bore_m / fluid.viscosity_pa_s


def friction_factor(reynolds: float, relative_roughness: float) -> float:
    """Give the Darcy friction factor of fully developed flow in a round pipe [-].

    Laminar (64 / Re) below Reynolds number 2040, the Colebrook-White equation from there on. The factor jumps
    up by about half at the edge. Clamond's solution of the equation is exact to machine precision.

    reynolds: Reynolds number [-], above 0
    relative_roughness: roughness over bore [-], 0 or more; the equation was measured up to about 0.05

    Raises ValueError where a value is out of its range.
    Source: Colebrook, Journal of the Institution of Civil Engineers 11 (1939) 133; Clamond, Industrial &
    Engineering Chemistry Research 48 (2009) 3665.
    """
    if not (reynolds > 0 and relative_roughness >= 0):
        raise ValueError(
            "a friction factor needs a Reynolds number above 0 and a roughness of 0 or more, "
            f"not {reynolds} and {relative_roughness}"
        )
    if reynolds < TRANSITION_REYNOLDS:
        return 64.0 / reynolds
    return Clamond(reynolds, relative_roughness)


def drop_pa(passage: Passage, fluid: Fluid, flow_m3_s: float) -> float:
    """Give the pressure lost to friction and minor losses [Pa]: (f L/D + K) rho v^2 / 2 (Darcy-Weisbach).

    Entrance length, height differences and the swirl of one fitting in the next are not modelled. Never falls
    as the flow rises; jumps up once, where the flow turns turbulent.

    passage: bore, length and roughness [m], loss coefficient [-]
    fluid: density [kg/m3] and dynamic viscosity [Pa*s]
    flow_m3_s: volume flow [m3/s], 0 or more

    Raises ValueError where the flow is negative or not a number.
    Source: Crane Technical Paper 410, equations 1-4 and 2-2.
    """
    if not flow_m3_s >= 0:
        raise ValueError(f"flow_m3_s must be 0 or more, not {flow_m3_s}")
    bore = passage.bore_m
    velocity = velocity_m_s(passage, flow_m3_s)
    velocity_head = fluid.density_kg_m3 * velocity * velocity / 2
    number = fluid.density_kg_m3 * velocity * bore / fluid.viscosity_pa_s
    if number < TRANSITION_REYNOLDS:
        # 64/Re put in (Hagen-Poiseuille): nothing is divided by the flow, so none is too small.
        friction = 32 * fluid.viscosity_pa_s * passage.length_m * velocity / (bore * bore)
    else:
        friction = friction_factor(number, passage.roughness_m / bore) * passage.length_m / bore * velocity_head
    return friction + passage.loss_k * velocity_head
