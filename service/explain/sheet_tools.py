"""What to have at hand, from what the steps ask for."""

from collections.abc import Iterator

from service.domain import units
from service.domain.request import Request
from service.domain.revision import Revision
from service.domain.sheet import Sheet
from service.explain.sheet_tightening import of_screw, of_standard

_ALWAYS = (
    "Eye protection, fuel-resistant gloves, a class B extinguisher within reach",
    "Catch pan, lint-free cloths, caps for open lines, a closed metal container for fuel rags",
)


def tools(sheet: Sheet, request: Request, revision: Revision) -> list[str]:
    """Each tool, as a line of a list."""
    methods = {
        revision.standards[step.joint.opening.standard].joint.make_up.method
        for step in sheet.steps
        if step.joint is not None
    }
    told = list(_ALWAYS)
    if methods - {"push-to-click"}:
        told.append("Open-ended wrenches, two of a kind for joints that are held: one turns, one holds")
    torques = sorted(_torques(sheet, revision))
    if torques:
        told.append(f"Torque wrench that covers {_span(torques[0], torques[-1])}")
    if "push-to-click" in methods:
        told.append("Release tool for the quick connectors")
    if any(step.task == "screw" for step in sheet.steps):
        told.append("Key or socket for the rail's screws")
    told.append("Paint pen, to count flats and to mark each joint when it is done")
    if not any(spot.duty == "gauge" for rail in sheet.rails for spot in rail.spots):
        told.append(f"Test gauge that reads beyond {units.pressure(request.pressure_kpa)}")
    return told


def _torques(sheet: Sheet, revision: Revision) -> Iterator[float]:
    for step in sheet.steps:
        if step.joint is not None:
            torque = of_standard(revision.standards[step.joint.opening.standard])["torque"]
        else:
            torque = of_screw(step.torque_nm)["torque"]
        if torque is not None:
            yield from (value for value in (torque["min_nm"], torque["max_nm"]) if value is not None)


def _span(least: float, most: float) -> str:
    return units.torque(least) if least == most else f"{units.torque(least)} to {units.torque(most)}"
