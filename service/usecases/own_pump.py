"""The pump that a request tells of: its curve held to what a curve can be."""

from collections.abc import Iterator, Sequence
from itertools import pairwise

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
    points = [(point.kpa, point.l_h) for point in asked.pump]
    wrong = list(_disorder(points))
    faults += wrong
    if wrong:
        return None
    curve = PumpCurve(tuple(points))
    return Pump(curve) if volts is None else Pump(curve, volts.rated, volts.fed)


def _disorder(points: Sequence[tuple[float, float]]) -> Iterator[RequestFault]:
    """Where along a pump's curve pressure does not rise, or flow does."""
    for index, ((low_kpa, most), (kpa, l_h)) in enumerate(pairwise(points), 1):
        if kpa <= low_kpa:
            expected = f"more than the {low_kpa:g} kPa of the point before"
            yield RequestFault(f"/pump/{index}/kpa", rendered(kpa), expected)
        if l_h > most:
            expected = f"at most the {most:g} L/h of the point before"
            yield RequestFault(f"/pump/{index}/l_h", rendered(l_h), expected)
