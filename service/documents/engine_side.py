"""What a catalog may tell of the car: injectors, regulator, manifold, tank; and what a request tells of its own."""

from typing import Annotated, Literal

from pydantic import Field

from service.documents.fields import (
    Document,
    Id,
    Label,
    OffsetMm,
    PressureKpa,
    SizeMm,
    TemperatureC,
    ToldPressureKpa,
    ToleranceMm,
)

Follows = Annotated[
    Literal["manifold", "atmosphere"],
    Field(description="what a regulator holds its pressure over: the manifold, boosted or not, or the outside air"),
]


class InjectorFlow(Document):
    """What an injector delivers held open, at which pressure over it, and which part of the time it may be open."""

    static_l_h: Annotated[float, Field(ge=0.1, le=20_000)]
    rated_kpa: Annotated[float, Field(ge=1, le=100_000)]
    max_duty: Annotated[Annotated[float, Field(ge=0.01, le=1)] | None, Field(description="default: 0.85")] = None


class Injectors(InjectorFlow):
    """The engine's injectors; lengths from the shoulder that rests in the manifold, positions of rings on them."""

    length_mm: SizeMm
    length_tol_mm: ToleranceMm
    upper_ring_mm: SizeMm
    lower_ring_mm: SizeMm
    bore_mm: SizeMm
    material: Id


class ChassisRegulator(Document):
    """The car's own regulator: where it holds the pressure while nothing returns from the rail, and what it follows.

    `at` tank (the default): at the pump's outlet; rail: at the rail, by a sensor that holds the pump to it.
    `reference`: where on the manifold a regulator takes its reference, as it stands after `to`.
    """

    at: Literal["tank", "rail"] | None = None
    follows: Follows | None = None
    reference: Label | None = None


class Regulator(Document):
    """What a request tells of the regulator: the pressure that it is set to, and what it follows."""

    set_kpa: Annotated[ToldPressureKpa | None, Field(description="default: the chassis's base_kpa")] = None
    follows: Follows | None = None


class Regulates(Document):
    """What a regulator can be set to, and what it follows; `nipple`: where its own is, as it stands after `nipple`."""

    min_kpa: PressureKpa
    max_kpa: PressureKpa
    follows: Follows
    nipple: Label | None = None


class Manifold(Document):
    """Where rail and injectors stand: the injector's seat over (below 0: under) the face for rail or spacers."""

    seat_mm: OffsetMm
    seat_tol_mm: ToleranceMm
    thread_mm: SizeMm
    material: Id
    cold_c: TemperatureC
    hot_c: TemperatureC


class Tank(Document):
    """The fuel before the pump, and the rail after a hot stop.

    `lift_m`: from the fuel up to the pump's inlet, below 0 where the pump stands under it; `rest_kpa`: what the rail
    still holds after soaking, gauge.
    """

    fuel_c: TemperatureC
    soak_c: TemperatureC
    lift_m: Annotated[float, Field(ge=-10, le=10)]
    inlet_loss_kpa: PressureKpa
    rest_kpa: PressureKpa
