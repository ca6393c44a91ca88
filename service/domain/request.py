"""A request with its names resolved, and the situation that its wishes make for parts and spots."""

from dataclasses import dataclass
from typing import NamedTuple

from service.domain.engine_side import Follows, InjectorFlow, Pump
from service.domain.lazy import lazy
from service.domain.parts import Opening, RailShape
from service.domain.revision import Fuel
from service.domain.vehicles import Addon, Chassis, Clearance, Duty, Layout, Reach


@dataclass(frozen=True)
class Request:
    """What is asked; power kW, flows L/h, hoses m, pressures kPa gauge, money in minor units.

    `power_told`: whether the request names the power, which else is the stock power; `own_pump`: of a curve, or of
    voltages, that the request gives; `set_kpa`, `follows`, `own_injectors`: what it tells of regulator and injectors;
    `have`: the units by SKU that the customer has, each SKU once, sorted; `own_rail`: a rail by somebody else.
    """

    chassis: Chassis
    layout: Layout
    fuel: Fuel
    power_kw: float
    power_told: bool = False
    pump_l_h: float | None = None
    own_pump: Pump | None = None
    set_kpa: float | None = None
    follows: Follows | None = None
    own_injectors: InjectorFlow | None = None
    feed_hose_m: float | None = None
    return_hose_m: float | None = None
    own_boost_kpa: float = 0.0
    addons: tuple[Addon, ...] = ()
    clearances: tuple[Clearance, ...] = ()
    gauge: str = "none"
    finish: str | None = None
    exclude: frozenset[str] = frozenset()
    in_stock_only: bool = False
    allow_unsold: bool = True
    max_price: int | None = None
    have: tuple[tuple[str, int], ...] = ()
    own_rail: RailShape | None = None
    limit: int = 10
    group_variants: bool = True
    order_by: str = "price"

    @lazy
    def boost_kpa(self) -> float:
        """The boost of all add-ons and the request's own."""
        return self.own_boost_kpa + sum(addon.boost_kpa for addon in self.addons)

    @lazy
    def pumped_l_h(self) -> float | None:
        """What the pump is told to move, or moves against set pressure and boost, as if the lines lost nothing."""
        if self.pump_l_h is None and self.pump is not None:
            return self.pump.as_fed.flow_l_h(self.held_kpa(self.boost_kpa))
        return self.pump_l_h

    @property
    def pump(self) -> Pump | None:
        """The pump that is told of: the request's, else the car's."""
        return self.own_pump or self.chassis.pump

    @property
    def has_own_curve(self) -> bool:
        """Whether the pump's curve is the request's own."""
        own, car = self.own_pump, self.chassis.pump
        return own is not None and (car is None or own.curve is not car.curve)

    @property
    def injectors(self) -> InjectorFlow | None:
        """What is told of the injectors: by the request, else by the car."""
        car = self.chassis.injectors
        return self.own_injectors or (None if car is None else car.flow)

    @property
    def regulated_kpa(self) -> float:
        """The pressure that the regulator is set to: as the request tells, else the car's base pressure."""
        return self.chassis.base_kpa if self.set_kpa is None else self.set_kpa

    def held_kpa(self, over_kpa: float) -> float:
        """What a regulator holds over that pressure, to 0.000001 kPa as all pressures are summed."""
        return round(self.regulated_kpa + over_kpa, 6)

    @lazy
    def pressure_kpa(self) -> float:
        """What every part has to stand: base and boost, to 0.000001 kPa, which takes binary dust off the sum."""
        return round(self.chassis.base_kpa + self.boost_kpa, 6)


class PartSituation(NamedTuple):
    """All of a request that a part is judged by, wherever it sits."""

    pattern: str
    fuel: str
    pressure_kpa: float
    finish: str | None
    exclude: frozenset[str]
    allow_unsold: bool
    have: tuple[tuple[str, int], ...] = ()

    @classmethod
    def of(cls, request: Request) -> "PartSituation":
        return cls(
            pattern=request.chassis.pattern,
            fuel=request.fuel.id,
            pressure_kpa=request.pressure_kpa,
            finish=request.finish,
            exclude=request.exclude,
            allow_unsold=request.allow_unsold,
            have=request.have,
        )


class Ground(NamedTuple):
    """What of a request decides which parts may stand at each spot, before any flow is looked at."""

    chassis: Chassis
    layout: Layout
    clearances: tuple[Clearance, ...]
    addons: tuple[Addon, ...]
    gauge: str
    own_rail: RailShape | None
    parts: PartSituation

    @classmethod
    def of(cls, request: Request) -> "Ground":
        return cls(
            chassis=request.chassis,
            layout=request.layout,
            clearances=request.clearances,
            addons=request.addons,
            gauge=request.gauge,
            own_rail=request.own_rail,
            parts=PartSituation.of(request),
        )


class Room(NamedTuple):
    """The room at a spot, mm; None: not limited."""

    axial_mm: float | None
    across_mm: float | None


class SpotSituation(NamedTuple):
    """All of a request that a chain at one spot is judged by, besides its parts.

    `target` is the opening to end on: the hookup's, or the far spot's of a link; None where the chain ends in itself.
    `reach` is None where no window holds; `reached` is False where the hookup has windows but none at this spot.
    """

    spot: str
    opening: Opening
    duty: Duty
    room: Room
    target: Opening | None = None
    hookup_kind: str | None = None
    via: tuple[str, ...] = ()
    reach: Reach | None = None
    reached: bool = True
    far_spot: str | None = None
    far_room: Room = Room(None, None)

    @property
    def spots(self) -> tuple[str, ...]:
        """The spots that the chain stands at: one, or both of a link."""
        return (self.spot,) if self.far_spot is None else (self.spot, self.far_spot)
