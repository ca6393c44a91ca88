"""The pump that a request tells of, held to what a curve can be."""

from service.documents.arriving import Part
from service.documents.engineering_integrity import curve_faults
from service.documents.rendering import rendered
from service.documents.request import Wishes
from service.domain.engine_side import Pump
from service.engineering import PumpCurve
from service.usecases.errors import RequestFault


def own_pump(asked: Wishes, faults: list[RequestFault]) -> Pump | None:
    """The pump of a request, None where it tells of none; what is wrong with it is added to the faults."""
    volts = asked.pump_v
    if asked.pump is None:
        if volts is not None:
            told = rendered(volts.model_dump())
            faults.append(RequestFault("/pump_v", told, "the pump's curve as well, in the field pump"))
        return None
    curve = Part((), asked.model_dump(include={"pump"}))
    wrong = [RequestFault(fault.pointer, fault.found, fault.expected) for fault in curve_faults(curve)]
    faults += wrong
    if wrong:
        return None
    points = PumpCurve(tuple((point.kpa, point.l_h) for point in asked.pump))
    return Pump(points) if volts is None else Pump(points, volts.rated, volts.fed)
