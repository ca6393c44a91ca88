"""What is fitted on the bench, before its rail stands on the engine.

On a bench the rail is held by its body, every face can be seen, and no torque goes through mounts and injectors. So all
that goes into a rail up to the first line is tightened there, unless the room at its spot forbids it: a rail is set
down by hand and tilts a little, so a part with next to no room left cannot pass what stands around it. Lines and what
hangs on them wait for the rail, as their other ends are on the car.
"""

from collections.abc import Collection, Iterable
from dataclasses import replace

from service.domain.sheet import RailPlan, SpotPlan, Stage, Step

PASSING_MM = 3.0
"""Room left around a part that a rail set down by hand can tilt by [mm]. Source: common practice."""

_INTO_THE_RAIL: frozenset[Stage] = frozenset({"fittings", "gauge"})


def bench_first(made: Iterable[Step], plans: Iterable[RailPlan]) -> list[Step]:
    """The same steps, each at the bench where its spot lets it be; in working order.

    The first part of a spot that has to wait says how much room is left; the others go on to it.
    """
    tight = {spot.spot: left for plan in plans for spot in plan.spots if (left := _left_mm(spot)) < PASSING_MM}
    untold = dict(tight)
    placed = [_placed(step, tight, untold) for step in made]
    return [step for step in placed if step.stage == "bench"] + [step for step in placed if step.stage != "bench"]


def _placed(step: Step, tight: Collection[str], untold: dict[str, float]) -> Step:
    if step.stage not in _INTO_THE_RAIL:
        return step
    spot = step.spots[0]
    return replace(step, left_mm=untold.pop(spot, None)) if spot in tight else replace(step, stage="bench")


def _left_mm(spot: SpotPlan) -> float:
    """The least room that is left, along the axis or across it; without end where it is not limited."""
    told = (spot.axial_left_mm, spot.across_left_mm)
    return min((left for left in told if left is not None), default=float("inf"))
