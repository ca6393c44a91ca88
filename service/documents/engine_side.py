"""What a catalog may tell of the car: injectors, manifold, tank."""

from typing import Annotated

from pydantic import Field

from service.documents.fields import (
    Document,
    FlowLh,
    Id,
    OffsetMm,
    Part0To1,
    PressureKpa,
    SizeMm,
    TemperatureC,
    ToleranceMm,
)


class Injectors(Document):
    """The engine's injectors; lengths from the shoulder that rests in the manifold, positions of rings on them."""

    static_l_h: FlowLh
    rated_kpa: Annotated[float, Field(gt=0, le=100_000)]
    max_duty: Annotated[Part0To1, Field(gt=0)]
    length_mm: SizeMm
    length_tol_mm: ToleranceMm
    upper_ring_mm: SizeMm
    lower_ring_mm: SizeMm
    bore_mm: SizeMm
    material: Id


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
