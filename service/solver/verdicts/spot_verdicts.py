"""One part at the spots of a request: where it stands; elsewhere every rule that stops what comes furthest of it."""

from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache
from itertools import product
from typing import NamedTuple

from service.domain.chains import Chain
from service.domain.explanation import Left, Role, Stop, Verdict
from service.domain.findings import Finding
from service.domain.request import PartSituation
from service.rules import closed, mates, via
from service.rules.rule import Got
from service.solver.judge.options import Choice, Choices
from service.solver.judge.spots import ServedSpot
from service.solver.search.setups import Setup
from service.solver.verdicts.case import Case
from service.solver.verdicts.changes import ChangeFinder
from service.solver.verdicts.places import CheapestBill, cheapest_with, with_part
from service.solver.verdicts.stops import Seat, StopFinder, StoppedChain, flow_left, missing, part_stops
from service.solver.verdicts.whole_bill import stops_of_bill


class _Place(NamedTuple):
    """A seat in a setup."""

    setup: Setup
    component: int
    position: int

    @property
    def seat(self) -> Seat:
        return Seat(self.setup.components[self.component], self.position)


class SpotVerdicts:
    """Verdicts on the item of a case."""

    def __init__(self, case: Case, changes: ChangeFinder) -> None:
        self._case = case
        self._stops = StopFinder(case.judges.flows)
        self._changes = changes
        self._apart = lru_cache(None)(lambda served, spot: tuple(self._told_apart(served, spot)))

    def at(self, spot: str | None) -> Iterator[Verdict]:
        """The verdicts on a spot (None: on each, both ends of a link), sorted; none where no rail that may be used has
        it."""
        by_spot: dict[str, dict[Role, list[_Place]]] = {}
        for place in self._seats():
            situation = place.seat.served.situation
            for at in situation.spots:
                by_spot.setdefault(at, {}).setdefault(situation.duty, []).append(place)
        for at, by_duty in sorted(by_spot.items()):
            if spot in (None, at):
                for duty in self._telling(at, by_duty):
                    yield self._verdict(at, duty, by_duty[duty])

    def _seats(self) -> Iterator[_Place]:
        """Each way to serve a spot once, in the setup where the least of the rest is unserved."""
        best: dict[object, _Place] = {}
        for setup in sorted(self._case.survey.setups, key=lambda setup: len(setup.dead)):
            for index, component in enumerate(setup.components):
                for position in range(len(component.served)):
                    best.setdefault((component.served, component.states, position), _Place(setup, index, position))
        yield from best.values()

    def _telling(self, spot: str, by_duty: dict[Role, list[_Place]]) -> list[Role]:
        """Of several duties of a spot those at which the part stands, else those that take its kind, else all."""
        stands = [duty for duty in by_duty if self._case.places.holds(spot, duty)]
        return stands or [duty for duty in by_duty if closed.takes(duty, self._case.item.kind)] or list(by_duty)

    def _verdict(self, spot: str, duty: Role, seats: list[_Place]) -> Verdict:
        if self._case.places.holds(spot, duty):
            found = cheapest_with(self._case.survey.bundles, self._case.item, spot, duty)
            return _standing(spot, duty, found)
        stopped = min((self._stopped(place, spot) for place in seats), key=_how_near)
        change = self._changes.smallest(spot, None)
        return Verdict(spot, duty, stands=False, chain=stopped.chain, stops=stopped.stops, change=change)

    def _stopped(self, place: _Place, spot: str) -> "_StoppedPart":
        furthest = self._stops.furthest(place.seat, self._case.item)
        if furthest is None:
            return _StoppedPart(None, self._apart(place.seat.served, spot))
        of_bill = stops_of_bill(self._with(place, furthest, spot), self._case.request, self._case.revision)
        return _StoppedPart(furthest.chain, (*furthest.stops, *of_bill))

    def _with(self, place: _Place, stopped: StoppedChain, spot: str) -> Setup:
        """The setup with the part at the spot: with all its chains that may stand there, else with this one."""
        narrowed = None if stopped.stops else with_part(place.setup, self._case.item, spot)
        if narrowed is not None:
            return narrowed
        component, position = place.seat
        served = component.served[position]
        at = 1 << stopped.place
        is_supplied = bool(stopped.chain.links) and stopped.chain.items[0] in served.plugs
        columns = [
            [choice.options[0] for choice in (served.table.picked(at, is_supplied) if n == position else x.choices).all]
            for n, x in enumerate(component.served)
        ]
        components = list(place.setup.components)
        components[place.component] = self._stops.choosing(component, Choices(map(Choice, product(*columns))))
        return replace(place.setup, components=tuple(components))

    def _told_apart(self, served: ServedSpot, spot: str) -> Iterator[Stop]:
        """Why no chain from a spot holds the part at all; then what stops the part wherever it is."""
        item, situation = self._case.item, served.situation
        dead_end = served.judge.dead_end(situation, item.sku)
        if not closed.takes(situation.duty, item.kind):
            yield Stop(Finding(closed.RULE.id, closed.not_taken_facts(item.kind, situation.duty, spot)))
            return
        if not via.may_stand((item.kind,), situation.via):
            yield Stop(Finding(via.RULE.id, via.facts(situation.via, item.kind)))
        elif dead_end is not None:
            yield Stop(dead_end)
        else:
            most = self._case.revision.policies.max_chain if closed.CARRIERS[situation.duty] else None
            ends_in_it = closed.CLOSERS.get(situation.duty) == item.kind
            yield Stop(Finding(mates.RULE.id, mates.apart_facts(spot, most, ends_in_it=ends_in_it)))
        got: Got = "had" if dict(self._case.request.have).get(item.sku) else "bought"
        yield from part_stops(served.judge.parts(PartSituation.of(self._case.request)), item, got)


class _StoppedPart(NamedTuple):
    """The chain that comes furthest, None where there is none, and all that stops it."""

    chain: Chain | None
    stops: tuple[Stop, ...]


def _how_near(stopped: _StoppedPart) -> tuple[bool, int, float, str]:
    chain = stopped.chain
    return chain is None, len(stopped.stops), missing(stopped.stops), "" if chain is None else chain.text


def _standing(spot: str, duty: Role, found: CheapestBill | None) -> Verdict:
    """A part that stands, in the cheapest bill with it."""
    if found is None:
        raise ValueError(f"no bill has the part at {spot}, where it was found to stand")
    bill, setup = found
    chains = {placed.spot: placed.chain for placed in bill.chains}
    component = next(x for x in setup.components if any(spot in served.situation.spots for served in x.served))
    at = next(served.situation.spot for served in component.served if spot in served.situation.spots)
    left: Left | None = None
    if component.states:
        left = flow_left(component, tuple(chains[served.situation.spot].run for served in component.served))
    return Verdict(spot, duty, stands=True, chain=chains[at], bill=bill, flow_left=left)
