"""Vapour: how far fuel is from boiling, before the pump and in the rail after a hot stop."""

import math
from bisect import bisect_right
from dataclasses import dataclass

STANDARD_ATMOSPHERE_KPA = 101.325
"""Pressure of the standard atmosphere at sea level [kPa]. Source: ISO 2533."""

GRAVITY_M_S2 = 9.80665
"""Standard acceleration of free fall [m/s2]. Source: ISO 80000-3."""

_ABSOLUTE_ZERO_C = -273.15


@dataclass(frozen=True, slots=True)
class VapourCurve:
    """A fuel's vapour pressure against temperature: between its points, and beyond them, after Clausius-Clapeyron.

    points: pairs of temperature [degC] and vapour pressure [kPa absolute], both rising; at least two

    Raises ValueError where the points are not so.
    Source: logarithm of pressure straight over 1/T, e.g. Moran and Shapiro, Fundamentals of Engineering Thermodynamics,
    section 11.4.
    """

    points: tuple[tuple[float, float], ...]

    def __post_init__(self) -> None:
        if len(self.points) < 2:
            raise ValueError(f"a vapour curve needs at least two points, not {len(self.points)}")
        for celsius, kpa in self.points:
            if not (_ABSOLUTE_ZERO_C < celsius < math.inf and 0 < kpa < math.inf):
                raise ValueError(f"vapour needs temperatures over absolute zero and pressures above 0, not {kpa}")
        for (low_c, low_kpa), (high_c, high_kpa) in zip(self.points, self.points[1:], strict=False):
            if not (low_c < high_c and low_kpa < high_kpa):
                raise ValueError(f"along a vapour curve both must rise, not {low_c}, {low_kpa} to {high_c}, {high_kpa}")

    def kpa_abs(self, celsius: float) -> float:
        """Give the vapour pressure [kPa absolute].

        celsius: temperature [degC], over absolute zero

        Raises ValueError where it is not.
        """
        if not _ABSOLUTE_ZERO_C < celsius < math.inf:
            raise ValueError(f"celsius must be over {_ABSOLUTE_ZERO_C}, not {celsius}")
        place = min(max(bisect_right(self.points, (celsius, math.inf)), 1), len(self.points) - 1)
        (low_c, low_kpa), (high_c, high_kpa) = self.points[place - 1 : place + 1]
        at, low, high = (1 / (x - _ABSOLUTE_ZERO_C) for x in (celsius, low_c, high_c))
        return low_kpa * math.exp(math.log(high_kpa / low_kpa) * (low - at) / (low - high))


def inlet_margin_kpa(curve: VapourCurve, fuel_c: float, lift_m: float, loss_kpa: float, density_kg_m3: float) -> float:
    """Give by how much the pressure at a pump's inlet is over the fuel's vapour pressure [kPa]; below 0 it boils.

    curve: of the fuel [degC, kPa absolute]
    fuel_c: temperature of the fuel [degC]
    lift_m: from the fuel's surface up to the inlet, below 0 where the inlet lies under it [m]
    loss_kpa: of strainer and pick-up [kPa], 0 or more
    density_kg_m3: of the fuel [kg/m3], above 0

    At sea level, the tank vented. Raises ValueError where a value is out of its range.
    Source: net positive suction head, e.g. White, Fluid Mechanics, section 11.4.
    """
    if not (math.isfinite(lift_m) and 0 <= loss_kpa < math.inf and 0 < density_kg_m3 < math.inf):
        raise ValueError(
            "an inlet needs lift_m to be a number, loss_kpa of 0 or more and density_kg_m3 above 0, "
            f"not {lift_m}, {loss_kpa} and {density_kg_m3}"
        )
    lifted_kpa = density_kg_m3 * GRAVITY_M_S2 * lift_m * 1e-3
    return STANDARD_ATMOSPHERE_KPA - lifted_kpa - loss_kpa - curve.kpa_abs(fuel_c)


def soak_margin_kpa(curve: VapourCurve, soak_c: float, rest_kpa: float) -> float:
    """Give by how much the pressure that a rail keeps after a hot stop is over the vapour pressure [kPa].

    curve: of the fuel [degC, kPa absolute]
    soak_c: temperature of the fuel in the rail [degC]
    rest_kpa: pressure kept in the rail [kPa gauge], 0 or more

    At sea level. Raises ValueError where the pressure is out of its range.
    Source: absolute pressure against vapour pressure; hot soak, common practice.
    """
    if not 0 <= rest_kpa < math.inf:
        raise ValueError(f"rest_kpa must be 0 or more, not {rest_kpa}")
    return STANDARD_ATMOSPHERE_KPA + rest_kpa - curve.kpa_abs(soak_c)
