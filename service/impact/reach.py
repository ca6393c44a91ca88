"""The parts that could stand at a spot at all, by their ports and kinds: never fewer than the search looks at.

Lengths, pressures, fuels and wishes are not asked, so a part that is not among these has no say there.
"""

from collections import deque
from collections.abc import Iterator, Mapping
from functools import lru_cache
from typing import NamedTuple

from service.domain.parts import Item, Opening, Port, RailShape
from service.domain.request import Request
from service.domain.revision import Revision
from service.domain.vehicles import DutyEntry
from service.rules import closed


class End(NamedTuple):
    """Where a chain starts, what it does, and the opening that it ends on (None: it ends in itself)."""

    opening: Opening
    duty: str
    target: Opening | None


class Reach:
    """Finds the parts within reach in one revision; each end is looked at once."""

    def __init__(self, revision: Revision) -> None:
        self._revision = revision
        self._most = revision.policies.max_chain
        self.at = lru_cache(None)(self._at)
        self._forwards = lru_cache(None)(self._steps_from)
        self._backwards = lru_cache(None)(self._steps_to)

    def shapes(self, request: Request) -> tuple[RailShape, ...]:
        """Return the shapes of rail that a request is about."""
        if request.own_rail is not None:
            return (request.own_rail,)
        return self._revision.shapes.get(request.chassis.pattern, ())

    def _at(self, end: End) -> frozenset[str]:
        found = {item.sku: item for item in self._in_chains(end)}
        ports = {port.opening for item in found.values() for port in item.ports}
        plugs = {
            plug.sku
            for opening in ports
            for plug, _ in self._meeting(opening)
            if plug.kind == "plug" and len(plug.ports) == 1
        }
        return frozenset(found) | plugs

    def _in_chains(self, end: End) -> Iterator[Item]:
        closer = closed.CLOSERS.get(end.duty)
        carriers = closed.CARRIERS.get(end.duty, frozenset())
        onwards = self._backwards(end.duty, end.target)
        for opening, steps in self._forwards(end.opening, end.duty).items():
            for item, entry in self._meeting(opening):
                if (item.kind == closer and steps < self._most) or (
                    item.kind in carriers
                    and any(
                        steps + 1 + onwards.get(port.opening, self._most) <= self._most for port in _others(item, entry)
                    )
                ):
                    yield item

    def _steps_from(self, start: Opening, duty: str) -> dict[Opening, int]:
        """How many parts at least lie between a spot and each opening that a chain may leave."""
        steps, front = {start: 0}, deque([start])
        carriers = closed.CARRIERS.get(duty, frozenset())
        while front:
            opening = front.popleft()
            for item, entry in self._meeting(opening):
                if item.kind in carriers and steps[opening] < self._most:
                    for port in _others(item, entry):
                        if port.opening not in steps:
                            steps[port.opening] = steps[opening] + 1
                            front.append(port.opening)
        return steps

    def _steps_to(self, duty: str, target: Opening | None) -> dict[Opening, int]:
        """How many parts at least a chain needs from each opening on to end well."""
        index = self._revision.index
        carriers = closed.CARRIERS.get(duty, frozenset())
        steps = dict.fromkeys(index.met_by.get(closed.CLOSERS.get(duty, ""), ()), 1)
        steps |= {} if target is None else {target.mate: 0}
        front = deque(sorted(steps, key=steps.__getitem__))
        while front:
            opening = front.popleft()
            for source in {x for kind in carriers for x in index.led_from.get((kind, opening), ())}:
                if source not in steps:
                    steps[source] = steps[opening] + 1
                    front.append(source)
        return steps

    def _meeting(self, opening: Opening) -> tuple[tuple[Item, Port], ...]:
        return self._revision.mating.get(opening, ())


def ends(shape: RailShape, request: Request) -> Iterator[End]:
    """Yield where the chains of a request start on a shape of rail, and what each does there."""
    chassis = request.chassis
    openings = {spot: opening for place, opening in shape.spots.items() for spot in chassis.on_banks(place)}
    for spot, opening in openings.items():
        yield End(opening, "closed", None)
        if request.gauge in ("any", spot):
            yield End(opening, "gauge", None)
    for placement in request.layout.placements if request.layout.banks == chassis.banks else ():
        for spot, entry in placement.items():
            target = target_of(spot, placement, openings, request)
            if spot in openings and target is not None:
                yield End(openings[spot], entry.duty, target)


def target_of(
    spot: str, placement: Mapping[str, DutyEntry], openings: Mapping[str, Opening], request: Request
) -> Opening | None:
    """Return the opening that the chain of a flowing spot ends on; None where car or rail has none."""
    entry = placement[spot]
    if entry.duty == "link":
        return openings.get(entry.to_spot or spot)
    hookup = entry.own_hose or request.chassis.hookups.get(entry.hookup_kind or "")
    return None if hookup is None else hookup.opening


def _others(item: Item, entry: Port) -> Iterator[Port]:
    return (port for port in item.ports if port is not entry)
