"""Why one part is, or is not, in the bills of a request: a verdict for each place that it could have."""

from collections.abc import Iterator

from service.domain.explanation import Explanation, Role, Stop, Verdict
from service.domain.findings import Finding
from service.domain.parts import Item
from service.domain.request import Request
from service.domain.vehicles import place_of
from service.rules import closed, layout, mounting, supplied
from service.solver.judge.judges import Judges
from service.solver.search.diagnosis import nearest_of, no_rail
from service.solver.search.finder import BillFinder
from service.solver.search.outlines import shapes_of
from service.solver.search.setups import Surveyor
from service.solver.verdicts.case import Case
from service.solver.verdicts.changes import ChangeFinder
from service.solver.verdicts.places import feasible_setups
from service.solver.verdicts.rail_verdict import rail_verdict
from service.solver.verdicts.spot_verdicts import SpotVerdicts
from service.solver.verdicts.whole_bill import stops_of_bill

CHAIN_KINDS = frozenset(closed.CLOSERS.values()).union(*closed.CARRIERS.values())
_ROLES: tuple[Role, ...] = ("rail", "mounting", "box", "extra")


def explain(judges: Judges, finder: BillFinder, request: Request, item: Item, spot: str | None) -> Explanation:
    """Each place of an item in the bills of a request; where a spot is given, that one alone."""
    case = Case(judges, finder, request, item)
    where = (*sorted(case.places.listed), *(role for role in _ROLES if role in case.places.roles))
    return Explanation(request, item, where, case.places.most_units, tuple(_Verdicts(case).at(spot)))


class _Verdicts:
    """Verdicts on the item of a case."""

    def __init__(self, case: Case) -> None:
        self._case = case
        self._changes = ChangeFinder(case)

    def at(self, spot: str | None) -> Iterator[Verdict]:
        item = self._case.item
        if spot is not None:
            yield from self._at_spots(spot)
        elif item.kind == "rail":
            yield rail_verdict(self._case, self._changes)
        elif item.kind in CHAIN_KINDS:
            yield from self._at_spots(None)
        if spot is None:
            yield from self._in_roles()
            if item.kind not in CHAIN_KINDS | {"rail"} and not self._case.places.roles:
                yield self._out_of_place()

    def _at_spots(self, spot: str | None) -> Iterator[Verdict]:
        found = list(SpotVerdicts(self._case, self._changes).at(spot))
        yield from found or [self._without_a_spot(spot)]

    def _without_a_spot(self, spot: str | None) -> Verdict:
        """Where no rail that may be used has the spot, or none may be used at all: what stops the rails."""
        place = None if spot is None else place_of(spot)
        told: dict[str, Stop] = {}
        for rejection in Surveyor(self._case.judges, self._case.request).rejections:
            rail = self._case.revision.items.get(rejection.sku)
            if rail is None or place is None or any(port.spot == place for port in rail.ports):
                told.setdefault(rejection.finding.rule, Stop(rejection.finding, None, rail))
        stops = tuple(told.values()) or (Stop(self._no_rail(spot)),)
        return Verdict(spot, None, stands=False, stops=stops, change=self._changes.smallest(spot, None))

    def _no_rail(self, spot: str | None) -> Finding:
        if spot is None:
            return no_rail(self._case.request)
        return Finding(layout.RULE.id, layout.no_spot_facts(self._case.request.layout, spot))

    def _in_roles(self) -> Iterator[Verdict]:
        """The roles that the item has besides spots and rail."""
        found = self._case.places
        if found.filling is not None:
            yield Verdict(None, "mounting", stands=True, finding=_filled(found.filling))
        if found.owner is not None:
            boxes = sum(box.qty for box in found.owner.supplied if box.sku == self._case.item.sku and box.spot is None)
            facts = supplied.box_facts(found.owner.name, boxes)
            yield Verdict(None, "box", stands=True, finding=Finding(supplied.RULE.id, facts))
        if "extra" in found.roles:
            yield Verdict(None, "extra", stands=True)

    def _out_of_place(self) -> Verdict:
        """A part that is screwed into nothing and that nothing asks for: what fills its mounting roles instead."""
        request, sku = self._case.request, self._case.item.sku
        rails = self._mounted_rails()
        mounted = [*request.chassis.mounting, *(x for addon in request.addons for x in addon.mounting)]
        roles = {x.role for x in mounted if x.sku == sku}
        roles |= {box.role for rail in rails for box in rail.supplied if box.role is not None and box.sku == sku}
        filled = [x for rail in rails for x in mounting.fill(request.chassis, request.addons, rail) if x.role in roles]
        stops = list({x.role: Stop(_filled(x)) for x in filled if x.sku != sku}.values())
        if not filled:
            stops.append(Stop(Finding(closed.RULE.id, closed.portless_facts(self._case.item.kind))))
        told = (*stops, *self._of_bills())
        return Verdict(None, None, stands=False, stops=told, change=self._changes.smallest(None, None))

    def _mounted_rails(self) -> list[Item]:
        """The rails of valid bills; where there are none, all that are made for the car."""
        if self._case.request.own_rail is not None:
            return []
        in_bills = [rail for feasible in feasible_setups(self._case.survey.bundles) for rail in feasible.rails]
        return in_bills or [
            rail for shape in shapes_of(self._case.request, self._case.revision) for rail in shape.rails
        ]

    def _of_bills(self) -> tuple[Stop, ...]:
        """What leaves no bill at all, where there is none."""
        survey = self._case.survey
        if any(True for _ in feasible_setups(survey.bundles)):
            return ()
        setup = nearest_of(survey.setups)
        return (
            self._without_a_spot(None).stops
            if setup is None
            else stops_of_bill(setup, self._case.request, self._case.revision)
        )


def _filled(filling: mounting.Filling) -> Finding:
    return Finding(mounting.RULE.id, mounting.facts(filling))
