"""What stands over the rail: add-ons that take room from its spots come off before it, and go back after it."""

from collections.abc import Iterator

from service.domain.request import Request
from service.domain.revision import Revision
from service.domain.sheet import RailPlan, Step, Used
from service.domain.vehicles import Addon


def over_the_rail(request: Request) -> tuple[Addon, ...]:
    """The add-ons that take room from spots, and so may stand in the rail's way."""
    return tuple(addon for addon in request.addons if addon.clearances)


def put_back(request: Request, plans: tuple[RailPlan, ...], revision: Revision) -> Iterator[Step]:
    """A step for each, with what holds it on, and the room that it leaves at the spots that it stands over."""
    for addon in over_the_rail(request):
        used = tuple(Used(revision.items[x.sku], x.qty) for x in addon.fasteners)
        torques = {None if x.item.screw is None else x.item.screw.torque_nm for x in used}
        over = {clearance.spot for clearance in addon.clearances}
        plan = [spot for rail in plans for spot in rail.spots if spot.spot in over and spot.axial_left_mm is not None]
        nearest = min(plan, key=lambda spot: spot.axial_left_mm or 0.0, default=None)
        yield Step(
            "back-on",
            "addon-on",
            () if nearest is None else (nearest.spot,),
            used,
            addons=(addon.name,),
            torque_nm=torques.pop() if len(torques) == 1 else None,
            left_mm=None if nearest is None else nearest.axial_left_mm,
        )
