"""Where one part is in the valid bills of a request: exactly, though no bill is built."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

from service.domain.answer import Bill
from service.domain.explanation import Role
from service.domain.parts import OWN_RAIL, Item, Supplied
from service.domain.request import Request
from service.domain.revision import Revision
from service.rules import mounting
from service.solver.judge.options import Choices
from service.solver.search.bills import build_bill, feasible_choices
from service.solver.search.bundles import Bundle
from service.solver.search.frontier import SORT_KEY
from service.solver.search.limits import Limits
from service.solver.search.ranking import Ranker
from service.solver.search.setups import Setup


@dataclass(frozen=True, slots=True)
class ItemPlaces:
    """`at`: the spots with their duties, both ends of a link; `listed`: those that bills list it under; `roles`: what
    it is besides; `filling` and `owner`: its mounting role, the part in whose box it comes; `most_units`: no bill needs
    more of it for its rails and chains."""

    at: frozenset[tuple[str, Role]]
    listed: frozenset[str]
    roles: frozenset[Role]
    filling: mounting.Filling | None
    owner: Item | None
    most_units: int

    def holds(self, spot: str | None, role: Role | None) -> bool:
        """Whether the part is at a spot (of any duty where None), in a role, or anywhere where both are None."""
        if spot is not None:
            return any(place == spot and role in (None, duty) for place, duty in self.at)
        return role in self.roles if role is not None else bool(self.at or self.roles)


class FeasibleSetup(NamedTuple):
    """A setup with what of it stands in valid bills."""

    setup: Setup
    limits: Limits
    rails: Sequence[Item]
    columns: Sequence[Choices]


def feasible_setups(bundles: Iterable[Bundle]) -> Iterator[FeasibleSetup]:
    """Every setup that has a bill, without the rails and choices that no bill within the limits takes in."""
    for bundle in bundles:
        for setup in bundle.setups:
            rails: Sequence[Item] = setup.rails
            columns: Sequence[Choices] = [component.choices for component in setup.components]
            if bundle.limits.limiting:
                rails, columns = feasible_choices(setup, bundle.limits)
            if rails and all(choices.size for choices in columns):
                yield FeasibleSetup(setup, bundle.limits, rails, columns)


def skus_in(setups: Iterable[FeasibleSetup], request: Request) -> set[str]:
    """The SKUs in bills of setups: in chains, as rails, as mounting parts, and in the boxes of parts that are got."""
    rails: set[Item] = set()
    columns: set[Choices] = set()
    for feasible in setups:
        rails.update(feasible.rails)
        columns.update(feasible.columns)
    items = rails.union(*(column.items for column in columns))
    got = rails.union(*(column.needed_items for column in columns))
    boxed = {box.sku for owner in got for box in owner.supplied if _comes_besides(box, owner)}
    return {item.sku for item in items} | boxed | {filling.sku for filling in _fillings(request, rails)}


def _comes_besides(box: Supplied, owner: Item) -> bool:
    """Whether what is in a part's box is for no spot, and for no role of a rail."""
    return box.spot is None and not (box.role is not None and owner.kind == "rail")


def _fillings(request: Request, rails: Iterable[Item]) -> Iterator[mounting.Filling]:
    """The mounting parts with rails of the catalog."""
    for rail in rails:
        if rail.sku != OWN_RAIL:
            yield from mounting.fill(request.chassis, request.addons, rail)


class PlaceFinder:
    """Finds the places of one item in bills of one revision."""

    def __init__(self, revision: Revision, item: Item) -> None:
        self._item = item
        self._owners = frozenset(
            owner
            for owner in map(revision.items.__getitem__, revision.index.boxed_in.get(item.sku, ()))
            for box in owner.supplied
            if box.sku == item.sku and _comes_besides(box, owner)
        )
        self._standards = frozenset(
            standard.id
            for standard in revision.standards.values()
            if item.sku in (*standard.joint.consumables, *standard.joint.spare_seals)
        )

    def places(self, request: Request, bundles: Iterable[Bundle]) -> ItemPlaces:
        """The places in the bills that there are to choose from."""
        at: set[tuple[str, Role]] = set()
        listed: set[str] = set()
        roles: set[Role] = set()
        filling: mounting.Filling | None = None
        owner: Item | None = None
        most_units = 0
        rails: set[Item] = set()
        for feasible in feasible_setups(bundles):
            for spots, duty in self._stands(feasible):
                at |= {(spot, duty) for spot in spots}
                listed.add(spots[0])
            if self._item in feasible.rails:
                roles.add("rail")
            most_units = max(most_units, self._units(feasible))
            filling = filling or self._filling(request, [rail for rail in feasible.rails if rail not in rails])
            rails.update(feasible.rails)
            owner = owner or self._owner(feasible)
            if self._standards and self._is_joined_in(feasible):
                roles.add("extra")
        roles |= {"mounting"} if filling else set()
        roles |= {"box"} if owner else set()
        return ItemPlaces(frozenset(at), frozenset(listed), frozenset(roles), filling, owner, most_units)

    def _stands(self, feasible: FeasibleSetup) -> Iterator[tuple[tuple[str, ...], Role]]:
        for component, column in zip(feasible.setup.components, feasible.columns, strict=True):
            if self._item not in column.items:
                continue
            for position, served in enumerate(component.served):
                if len(component.served) == 1 or column.with_item(self._item, position).size:
                    yield served.situation.spots, served.situation.duty

    def _units(self, feasible: FeasibleSetup) -> int:
        sku = self._item.sku
        in_chains = sum(column.most_units.get(sku, 0) for column in feasible.columns)
        return in_chains + (feasible.setup.banks if self._item in feasible.rails else 0)

    def _filling(self, request: Request, rails: Iterable[Item]) -> mounting.Filling | None:
        return next((x for x in _fillings(request, rails) if x.sku == self._item.sku), None)

    def _owner(self, feasible: FeasibleSetup) -> Item | None:
        if not self._owners:
            return None
        rail = next((rail for rail in feasible.rails if rail in self._owners), None)
        needed = (column.first_needed(self._owners) for column in feasible.columns)
        return rail or next(filter(None, needed), None)

    def _is_joined_in(self, feasible: FeasibleSetup) -> bool:
        """Whether any joint of the chains is made up with the part."""
        targets = {situation.target for situation in feasible.setup.situations.values()}
        met = {target.standard for target in targets if target is not None}
        return not self._standards.isdisjoint(met.union(*(column.standards for column in feasible.columns)))


class CheapestBill(NamedTuple):
    """A bill, and the setup that it is of."""

    bill: Bill
    setup: Setup


def cheapest_with(
    bundles: Iterable[Bundle], item: Item, spot: str | None, duty: Role | None = None
) -> CheapestBill | None:
    """The cheapest bill with the item at a spot, of this duty or any (None: as its rail); of those alike the first."""
    found = []
    for bundle in bundles:
        for setup in bundle.setups:
            narrowed = with_part(setup, item, spot, duty)
            if narrowed is not None:
                best = Ranker().best(Bundle((narrowed,), bundle.limits), "price", 1, grouped=False)
                found += [(SORT_KEY(one), setup.placement, one, narrowed, bundle.limits) for one, _ in best]
    if not found:
        return None
    _, _, one, setup, limits = min(found, key=lambda ranked: ranked[:2])
    rail = next(rail for rail in setup.rails if rail.sku == one.rail)
    return CheapestBill(build_bill(setup, rail, one.choices, (setup,), limits), setup)


def with_part(setup: Setup, item: Item, spot: str | None, duty: Role | None = None) -> Setup | None:
    """The bills of a setup that have the item at a spot, with this duty or any (None: as their rail); None where none
    has."""
    if spot is None:
        return replace(setup, rails=(item,)) if item in setup.rails else None
    for index, component in enumerate(setup.components):
        for position, served in enumerate(component.served):
            if spot in served.situation.spots and duty in (None, served.situation.duty):
                kept = component.choices.with_item(item, position)
                return narrowed_to(setup, index, kept) if kept.size else None
    return None


def narrowed_to(setup: Setup, index: int, choices: Choices) -> Setup:
    """The setup with no more than these choices for one of its components."""
    components = list(setup.components)
    components[index] = replace(components[index], choices=choices)
    return replace(setup, components=tuple(components))
