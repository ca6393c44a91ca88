"""How much fuel pump and injectors supply through the lines of a set-up, by where its pressure is held, over what."""

from functools import lru_cache
from math import inf
from typing import Literal, NamedTuple

from service.domain.chains import Chain
from service.domain.engine_side import Follows, InjectorFlow
from service.domain.parts import Item
from service.domain.request import Request
from service.engineering import OperatingPoint, PumpCurve, injectors_most_l_h, operating_point
from service.solver.system import System

Place = Literal["tank", "rail", "after"]
"""Where the pressure is held: at the pump's outlet, at the rail, behind the return."""


FOLLOWED: tuple[Follows, ...] = ("manifold", "atmosphere")


class Regulation(NamedTuple):
    """Where a set-up holds its pressure, and what its regulator follows; None: not told."""

    place: Place
    follows: Follows | None


def regulator_of(back: Chain | None) -> Item | None:
    """The regulator on the rail: that in the chain of the first return; None: none there, or nothing returns."""
    return next((item for item in back.items if item.kind == "regulator"), None) if back else None


def regulation(request: Request, regulator: Item | None, *, returns: bool) -> Regulation:
    """The regulation of a set-up with this regulator on its rail, None: without one; `returns`: whether fuel does."""
    car = request.chassis.regulator
    told = regulator.regulates if regulator else None
    follows = request.follows or (told.follows if told else None) or car.follows
    if regulator is not None:
        return Regulation("rail", follows)
    return Regulation("after" if returns else car.at, follows)


def held_kpa_of(regulated: Regulation, request: Request) -> float:
    """What the regulator holds [kPa gauge]; as over the manifold where it is not told what it follows."""
    return request.held_kpa(0.0 if regulated.follows == "atmosphere" else request.boost_kpa)


class InjectorPoint(NamedTuple):
    """The most that the injectors deliver together [L/h], and the pressure over each of them then [kPa]."""

    flow_l_h: float
    over_kpa: float


class SupplyLimits(NamedTuple):
    """The most that pump and injectors supply; None: not told.

    `held_kpa` is what the regulator holds where it follows what `follows` says; `hangs`: whether it follows that is not
    told, and boost makes it matter.
    """

    pump: OperatingPoint | None
    injectors: InjectorPoint | None
    held_kpa: float
    follows: Follows
    hangs: bool = False

    @property
    def least_l_h(self) -> float:
        """The lesser of both; infinite where neither is told."""
        return min([limit.flow_l_h for limit in (self.pump, self.injectors) if limit is not None], default=inf)


class Supplied(NamedTuple):
    """What a request tells of the supply, besides the regulation."""

    curve: PumpCurve | None
    injectors: InjectorFlow | None
    cylinders: int
    set_kpa: float
    boost_kpa: float

    @classmethod
    def of(cls, request: Request) -> "Supplied":
        pump = request.pump
        count = request.chassis.cylinders
        return cls(
            None if pump is None else pump.as_fed,
            request.injectors if count else None,
            count,
            request.regulated_kpa,
            request.boost_kpa,
        )

    def held_kpa(self, follows: Follows) -> float:
        """What the regulator holds, to 0.000001 kPa."""
        return round(self.set_kpa + (self.boost_kpa if follows == "manifold" else 0.0), 6)


def supply_limits(system: System, regulated: Regulation, supplied: Supplied, most_l_h: float = inf) -> SupplyLimits:
    """The limits of a set-up that carries `most_l_h` at most by its plumbing.

    Where it hangs on what the regulator follows: those under which it carries less, as for the manifold where it
    carries the same.
    """
    lines, told = system._replace(returns=(), return_banks=1), regulated.follows
    if told is not None or not supplied.boost_kpa:
        return _limits(lines, regulated.place, supplied, told or "manifold")
    both = [_limits(lines, regulated.place, supplied, follows) for follows in FOLLOWED]
    return min(both, key=lambda limits: min(limits.least_l_h, most_l_h))._replace(hangs=True)


@lru_cache(8192)
def _limits(system: System, place: Place, supplied: Supplied, follows: Follows) -> SupplyLimits:
    held = supplied.held_kpa(follows)
    return SupplyLimits(
        pump=None if supplied.curve is None else _pump(system, place, supplied.curve, held),
        injectors=None
        if supplied.injectors is None
        else _injectors(system, place, supplied.injectors, supplied.cylinders, held, supplied.boost_kpa),
        held_kpa=held,
        follows=follows,
    )


def _pump(system: System, place: Place, curve: PumpCurve, held_kpa: float) -> OperatingPoint:
    """Where all that the pump moves is burnt: nothing runs through the return."""
    if place == "tank":
        return OperatingPoint(curve.flow_l_h(held_kpa), held_kpa)
    return operating_point(curve, held_kpa, lambda sent: system.fed_drop_kpa(sent, sent))


def _injectors(
    system: System, place: Place, injectors: InjectorFlow, count: int, held_kpa: float, boost_kpa: float
) -> InjectorPoint:
    def over_kpa(burnt: float) -> float:
        lost = system.fed_drop_kpa(burnt, burnt) if place == "tank" else 0.0
        return held_kpa - lost - boost_kpa

    most = injectors_most_l_h(count, injectors.static_l_h, injectors.rated_kpa, injectors.max_duty, over_kpa)
    return InjectorPoint(most, max(0.0, over_kpa(most)))
