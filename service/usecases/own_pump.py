"""The pump that a request tells of, held to what a curve can be."""

from service.documents.arriving import Part
from service.documents.engineering_integrity import curve_faults
from service.documents.pump import PumpVolts
from service.documents.rendering import rendered
from service.documents.request import Wishes
from service.domain.engine_side import Pump
from service.domain.vehicles import Chassis
from service.engineering import PumpCurve
from service.usecases.errors import RequestFault


def own_pump(asked: Wishes, chassis: Chassis | None, faults: list[RequestFault]) -> Pump | None:
    """The pump of a request, None where it tells of none; what is wrong with it is added to the faults.

    Voltages without a curve are those of the car's own pump.
    """
    volts = asked.pump_v
    if asked.pump is None:
        return None if volts is None else _fed(volts, chassis, faults)
    curve = Part((), asked.model_dump(include={"pump"}))
    wrong = [RequestFault(fault.pointer, fault.found, fault.expected) for fault in curve_faults(curve)]
    faults += wrong
    if wrong:
        return None
    points = PumpCurve(tuple((point.kpa, point.l_h) for point in asked.pump))
    return Pump(points) if volts is None else Pump(points, volts.rated, volts.fed)


def _fed(volts: PumpVolts, chassis: Chassis | None, faults: list[RequestFault]) -> Pump | None:
    """The car's pump at these voltages."""
    if chassis is None:
        return None
    if chassis.pump is None:
        expected = f"the pump's curve as well, in the field pump: none is known of {chassis.id}"
        faults.append(RequestFault("/pump_v", rendered(volts.model_dump()), expected))
        return None
    return Pump(chassis.pump.curve, volts.rated, volts.fed)
