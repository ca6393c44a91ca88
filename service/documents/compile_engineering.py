"""Compile what a catalog tells for engineering: hardware of items and ports, and the engine's side of a car."""

from typing import TypeVar

from pydantic import BaseModel

from service.documents import catalog as doc
from service.documents import engine_side, hardware
from service.domain.engine_side import USUAL_MOST_DUTY, ChassisRegulator, InjectorFlow, Injectors, Pump
from service.domain.hardware import Range, Screw
from service.domain.revision import Policies
from service.engineering import PumpCurve, Thread

T = TypeVar("T")


def alike(target: type[T], told: BaseModel | None) -> T | None:
    """The domain value with the same fields; None where nothing is told."""
    return None if told is None else target(**told.model_dump())


def thread(told: hardware.StraightThread) -> Thread:
    return Thread(told.diameter_mm, told.pitch_mm, told.form == "unified")


def screw(told: hardware.Screw | None) -> Screw | None:
    if told is None:
        return None
    return Screw(
        thread=thread(told.thread),
        strength_class=told.strength_class,
        length_mm=told.length_mm,
        torque_nm=Range(told.torque_nm.min, told.torque_nm.max),
        nut_factor=Range(told.nut_factor.min, told.nut_factor.max),
        material=told.material,
    )


def pump(chassis: doc.Chassis) -> Pump | None:
    """The pump of a car; its points have passed the checks of a curve."""
    if chassis.pump is None:
        return None
    curve = PumpCurve(tuple((point.kpa, point.l_h) for point in chassis.pump))
    volts = chassis.pump_v
    return Pump(curve) if volts is None else Pump(curve, volts.rated, volts.fed)


def injector_flow(told: engine_side.InjectorFlow) -> InjectorFlow:
    """What injectors deliver; open for the usual part of the time where none is told."""
    return InjectorFlow(told.static_l_h, told.rated_kpa, USUAL_MOST_DUTY if told.max_duty is None else told.max_duty)


def injectors(told: engine_side.Injectors | None) -> Injectors | None:
    """The injectors of a car."""
    if told is None:
        return None
    return Injectors(injector_flow(told), **told.model_dump(exclude=set(engine_side.InjectorFlow.model_fields)))


def chassis_regulator(told: engine_side.ChassisRegulator | None) -> ChassisRegulator:
    """The car's own regulator; at the tank where no place is told."""
    return ChassisRegulator() if told is None else ChassisRegulator(told.at or "tank", told.follows, told.reference)


def policies(told: doc.Policies) -> Policies:
    """The policies; `squeeze` as a range."""
    squeeze = told.squeeze
    plain = told.model_dump(exclude={"squeeze"})
    return Policies(**plain, squeeze=None if squeeze is None else Range(squeeze.min, squeeze.max))
