"""The hoses of a bill: one's own, by the spot that they lead to, and how each one leaves the port that it hangs on."""

from collections.abc import Iterator, Mapping

from service.domain.answer import Bill
from service.domain.parts import Item
from service.domain.request import Request
from service.domain.sheet import LaidHose, RailPlan, SpotPlan
from service.domain.vehicles import Hookup


def own_hoses(bill: Bill, request: Request) -> dict[str, Hookup]:
    """What the layout tells of the customer's own hoses, by spot."""
    for placement in request.layout.placements:
        if all(bill.duties.get(spot) == entry.duty for spot, entry in placement.items()):
            return {spot: entry.own_hose for spot, entry in placement.items() if entry.own_hose is not None}
    return {}


def laid(plans: tuple[RailPlan, ...], own: Mapping[str, Hookup]) -> tuple[LaidHose, ...]:
    """Each end of a hose at its spot: the lines of the bill, and one's own."""
    return tuple(hose for plan in plans for spot in plan.spots for hose in _at(spot, own.get(spot.spot)))


def _at(spot: SpotPlan, own: Hookup | None) -> Iterator[LaidHose]:
    turned = _turned_deg([part.item for part in spot.standing if not part.side])
    line = next((item for item in spot.beyond if item.kind == "line"), None)
    if line is not None:
        yield LaidHose(spot.spot, line, line.min_bend_mm, turned)
    elif own is not None:
        yield LaidHose(spot.spot, None, own.min_bend_mm, turned)


def _turned_deg(standing: list[Item]) -> float | None:
    """How far all that stands at a spot turns the way out; None: not told of every part."""
    turns = [item.outlet_deg for item in standing]
    return None if None in turns else sum(turn for turn in turns if turn is not None)
