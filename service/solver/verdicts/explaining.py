"""Why one part is, or is not, in the bills of a request: a verdict for each place that it could have."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from service.domain.explanation import Explanation, Role, Stop, Verdict
from service.domain.findings import Finding
from service.domain.lazy import lazy
from service.domain.parts import Item
from service.domain.request import Request
from service.domain.vehicles import place_of
from service.rules import closed, layout, mounting, supplied
from service.solver.judge.judges import Judges
from service.solver.search.diagnosis import nearest_of, no_rail
from service.solver.search.finder import BillFinder
from service.solver.search.setups import Surveyor, shapes_of
from service.solver.verdicts.changes import ChangeFinder
from service.solver.verdicts.places import PlaceFinder, Places, cheapest_with, feasible_setups
from service.solver.verdicts.rail_verdict import rail_verdict, stops_of_rail
from service.solver.verdicts.spot_verdicts import SpotVerdicts
from service.solver.verdicts.stops import StopFinder
from service.solver.verdicts.whole_bill import stops_of_bill

CHAIN_KINDS = frozenset(closed.CLOSERS.values()).union(*closed.CARRIERS.values())
_ROLES: tuple[Role, ...] = ("rail", "mounting", "box", "extra")
_KEPT_SURVEYS = 8


@dataclass(frozen=True)
class Explainer:
    """Explains parts of one revision."""

    judges: Judges
    finder: BillFinder

    def explain(self, request: Request, item: Item, spot: str | None) -> Explanation:
        """Each place of the item in the bills of a request; where a spot is given, that one alone."""
        case = _Case(self.judges, self.finder, request, item)
        where = (*sorted(case.found.listed), *(role for role in _ROLES if role in case.found.roles))
        return Explanation(request, item, where, case.found.most_units, tuple(case.verdicts(spot)))


class _Case:
    """One item in one request; requests with a wish changed are looked at as they come up."""

    def __init__(self, judges: Judges, finder: BillFinder, request: Request, item: Item) -> None:
        self._judges = judges
        self._revision = judges.revision
        self._request = request
        self._item = item
        self._finder = PlaceFinder(judges.revision, item)
        self._survey = lru_cache(_KEPT_SURVEYS)(finder.survey)
        self._places = lru_cache(None)(lambda asked: self._finder.places(asked, self._survey(asked).bundles))
        self._changes = ChangeFinder(judges, request, item, self._places, self._prices, finder.count)

    @lazy
    def found(self) -> Places:
        """Where the item is in the bills of the request itself."""
        return self._places(self._request)

    def verdicts(self, spot: str | None) -> Iterator[Verdict]:
        item = self._item
        if spot is not None:
            yield from self._at_spots(spot)
        elif item.kind == "rail":
            yield self._of_rail()
        elif item.kind in CHAIN_KINDS:
            yield from self._at_spots(None)
        if spot is None:
            yield from self._in_roles()
            if item.kind not in CHAIN_KINDS | {"rail"} and not self.found.roles:
                yield self._out_of_place()

    def _prices(self, request: Request, spot: str | None, role: Role | None) -> list[int]:
        """What the cheapest bills cost that have the item there; of one that may be anywhere, on each rail."""
        bundles = self._survey(request).bundles
        if spot is not None or role is not None:
            found = [cheapest_with(bundles, self._item, spot)]
        else:
            rails = {rail for bundle in bundles for setup in bundle.setups for rail in setup.rails}
            found = [cheapest_with(bundles, rail, None) for rail in rails]
        return sorted({one.bill.price for one in found if one is not None})

    def _at_spots(self, spot: str | None) -> Iterator[Verdict]:
        stops = StopFinder(self._judges.flows)
        survey = self._survey(self._request)
        verdicts = SpotVerdicts(self._revision, stops, self._request, self._item, survey, self.found, self._changes)
        found = list(verdicts.at(spot))
        yield from found or [self._without_a_spot(spot)]

    def _without_a_spot(self, spot: str | None) -> Verdict:
        """Where no rail that may be used has the spot, or none may be used at all: what stops the rails."""
        surveyor = self._surveyor()
        surveyor.setups()
        place = None if spot is None else place_of(spot)
        told: dict[str, Stop] = {}
        for rejection in surveyor.rejections:
            rail = self._revision.items.get(rejection.sku)
            if rail is None or place is None or any(port.spot == place for port in rail.ports):
                told.setdefault(rejection.finding.rule, Stop(rejection.finding, None, rail))
        stops = tuple(told.values()) or (Stop(self._no_rail(spot)),)
        return Verdict(spot, None, stands=False, stops=stops, change=self._changes.smallest(spot, None))

    def _no_rail(self, spot: str | None) -> Finding:
        if spot is None:
            return no_rail(self._request)
        return Finding(layout.RULE.id, layout.no_spot_facts(self._request.layout, spot))

    def _of_rail(self) -> Verdict:
        stops = stops_of_rail(self._item, self._request, self._judges)
        return rail_verdict(self._item, self.found, self._survey(self._request).bundles, stops, self._changes)

    def _in_roles(self) -> Iterator[Verdict]:
        """The roles that the item has besides spots and rail."""
        found = self.found
        if found.filling is not None:
            yield Verdict(None, "mounting", stands=True, finding=_filled(found.filling))
        if found.owner is not None:
            boxes = sum(box.qty for box in found.owner.supplied if box.sku == self._item.sku and box.spot is None)
            facts = supplied.box_facts(found.owner.name, boxes)
            yield Verdict(None, "box", stands=True, finding=Finding(supplied.RULE.id, facts))
        if "extra" in found.roles:
            yield Verdict(None, "extra", stands=True)

    def _out_of_place(self) -> Verdict:
        """A part that is screwed into nothing and that nothing asks for: what fills its mounting roles instead."""
        request, sku = self._request, self._item.sku
        rails = self._mounted_rails()
        mounted = [*request.chassis.mounting, *(x for addon in request.addons for x in addon.mounting)]
        roles = {x.role for x in mounted if x.sku == sku}
        roles |= {box.role for rail in rails for box in rail.supplied if box.role is not None and box.sku == sku}
        filled = [x for rail in rails for x in mounting.fill(request.chassis, request.addons, rail) if x.role in roles]
        stops = list({x.role: Stop(_filled(x)) for x in filled if x.sku != sku}.values())
        if not filled:
            stops.append(Stop(Finding(closed.RULE.id, closed.portless_facts(self._item.kind))))
        told = (*stops, *self._of_bills())
        return Verdict(None, None, stands=False, stops=told, change=self._changes.smallest(None, None))

    def _mounted_rails(self) -> list[Item]:
        """The rails of valid bills; where there are none, all that are made for the car."""
        if self._request.own_rail is not None:
            return []
        in_bills = [
            rail for feasible in feasible_setups(self._survey(self._request).bundles) for rail in feasible.rails
        ]
        return in_bills or [rail for shape in shapes_of(self._request, self._revision) for rail in shape.rails]

    def _of_bills(self) -> tuple[Stop, ...]:
        """What leaves no bill at all, where there is none."""
        survey = self._survey(self._request)
        if any(True for _ in feasible_setups(survey.bundles)):
            return ()
        setup = nearest_of(survey.setups)
        return (
            self._without_a_spot(None).stops if setup is None else stops_of_bill(setup, self._request, self._revision)
        )

    def _surveyor(self) -> Surveyor:
        return Surveyor(self._judges, self._request)


def _filled(filling: mounting.Filling) -> Finding:
    return Finding(mounting.RULE.id, mounting.facts(filling))
