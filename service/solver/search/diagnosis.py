"""What stops parts, found in one way for all that tell of it: the spots that nothing serves, and the parts there."""

from collections.abc import Collection, Iterable, Iterator
from typing import NamedTuple

from service.domain.findings import Finding, Rejection
from service.domain.request import Request
from service.domain.vehicles import Duty
from service.rules import RULE_ORDER, mates, pattern
from service.solver.search.setups import Setup

Head = tuple[str, str | None]
"""A part by its SKU, with the spot that it meets; None of a rail."""


class DeadSpot(NamedTuple):
    """A spot that nothing serves, its duty, and what stops each part there: at least one thing."""

    spot: str
    duty: Duty
    rejections: tuple[Rejection, ...]


def nearest_of(setups: Iterable[Setup]) -> Setup | None:
    """The setup in which the fewest spots are unserved, of those alike the first; None where there is no setup."""
    return min(setups, key=lambda setup: len(setup.dead), default=None)


def dead_spots(setup: Setup) -> Iterator[DeadSpot]:
    """The spots of a setup that nothing serves, in its order."""
    for place in setup.dead:
        spot = setup.spots[place]
        yield DeadSpot(spot, setup.duties[spot], setup.components[place].rejections or (unmet(spot),))


def unmet(spot: str) -> Rejection:
    """What stops every part at a spot that no part meets."""
    return Rejection("", spot, Finding(mates.RULE.id, mates.unmet_facts(spot)))


def no_rail(request: Request) -> Finding:
    """What stops a request for whose car no rail is made."""
    return Finding(pattern.RULE.id, pattern.no_rail_facts(request.chassis.pattern))


def furthest(rejections: Iterable[Rejection]) -> Rejection | None:
    """The one by the rule that is told last, of those alike the first: that part came furthest."""
    return max(rejections, key=lambda rejection: RULE_ORDER[rejection.finding.rule], default=None)


def furthest_of_each(rejections: Iterable[Rejection], used: Collection[Head]) -> dict[Head, Rejection]:
    """For each part at each spot that is not used there, what came furthest."""
    found: dict[Head, Rejection] = {}
    for rejection in rejections:
        head = (rejection.sku, rejection.spot)
        if head not in used:
            known = found.get(head)
            if known is None or RULE_ORDER[rejection.finding.rule] > RULE_ORDER[known.finding.rule]:
                found[head] = rejection
    return found
