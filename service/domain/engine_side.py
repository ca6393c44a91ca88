"""What the car brings besides its hookups: pump, regulator, injectors, manifold, tank; None: not told."""

from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from service.engineering.supply import PumpCurve

Follows = Literal["manifold", "atmosphere"]
USUAL_MOST_DUTY = 0.85
"""The part of the time that an injector is open at most, where nothing else is told: common practice."""


@dataclass(frozen=True, slots=True)
class InjectorFlow:
    """What an injector delivers held open [L/h], at the pressure over it [kPa]; the part of the time open at most."""

    static_l_h: float
    rated_kpa: float
    max_duty: float = USUAL_MOST_DUTY


@dataclass(frozen=True, slots=True)
class Injectors:
    """Lengths [mm] from the shoulder that rests in the manifold.

    `upper_ring_mm`: from the top to the middle of the upper ring; `lower_ring_mm`: how deep the lower ring sits.
    """

    flow: InjectorFlow
    length_mm: float
    length_tol_mm: float
    upper_ring_mm: float
    lower_ring_mm: float
    bore_mm: float
    material: str


@dataclass(frozen=True, slots=True)
class ChassisRegulator:
    """The car's own regulator, while nothing returns from the rail; `follows` None: not told.

    `reference`: where on the manifold a regulator takes its reference, as it stands after `to`; None: not told.
    """

    at: Literal["tank", "rail"] = "tank"
    follows: Follows | None = None
    reference: str | None = None


NOT_TOLD = ChassisRegulator()
"""The regulator of a car that tells nothing of it."""


@dataclass(frozen=True, slots=True)
class Regulates:
    """What a regulator can be set to [kPa], and what it follows.

    `nipple`: where its own is, as it stands after `nipple`; None: not told.
    """

    min_kpa: float
    max_kpa: float
    follows: Follows
    nipple: str | None = None


@dataclass(frozen=True, slots=True)
class Manifold:
    """Where rail and injectors stand: the injector's seat over the face that carries rail or spacers [mm].

    `thread_mm`: depth of thread in its screw holes; `cold_c`, `hot_c`: the extremes that it sees [degC].
    """

    seat_mm: float
    seat_tol_mm: float
    thread_mm: float
    material: str
    cold_c: float
    hot_c: float


@dataclass(frozen=True, slots=True)
class Tank:
    """The fuel before the pump and after the engine is off: temperatures [degC], pressures [kPa].

    `lift_m`: from the fuel's surface up to the pump's inlet (below 0: the pump stands under it);
    `inlet_loss_kpa`: of strainer and pick-up; `rest_kpa`: what the rail keeps after hot soak [kPa gauge].
    """

    fuel_c: float
    soak_c: float
    lift_m: float
    inlet_loss_kpa: float
    rest_kpa: float


@dataclass(frozen=True, slots=True)
class Pump:
    """A pump's curve at its rated voltage, and the voltage that it gets [V]."""

    curve: PumpCurve
    rated_v: float | None = None
    system_v: float | None = None

    @property
    def as_fed(self) -> PumpCurve:
        """The curve at the voltage that the pump gets; as rated where a voltage is not told."""
        return _as_fed(self)


@lru_cache(1024)
def _as_fed(pump: Pump) -> PumpCurve:
    if pump.rated_v is None or pump.system_v is None:
        return pump.curve
    return pump.curve.at_voltage(pump.system_v, pump.rated_v)
