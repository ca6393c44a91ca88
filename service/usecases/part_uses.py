"""What a part could be used for: the cars, layouts and spots where it stands in a valid bill."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import islice, product

from service.documents.uses import Use, UseRole
from service.domain.parts import Item
from service.domain.vehicles import Chassis, Layout
from service.domain.work import TooCostlyError, part, spent
from service.explain.too_costly import too_costly_here
from service.usecases.library import Edition
from service.usecases.long_work import begin_long_work

_ROLES: tuple[UseRole, ...] = ("rail", "mounting", "box")
_STEPS_OF_A_PAGE = 100_000
"""Some 0.1 s of work; a page over it ends early."""


@dataclass(frozen=True)
class UsesPage:
    """Uses from one place on; `next`: the place at which they go on, None after the last."""

    uses: list[Use]
    next: int | None


def uses_of(edition: Edition, sku: str, start: int, limit: int) -> UsesPage:
    """At most `limit` uses of a known SKU. `start`: a place among all cars with all layouts, from 0.

    Every car is asked plainly: at its stock power, on the first fuel, with a gauge and without. Where the work of a
    page is done before, it ends there. What takes too much for a whole question says so in its place.
    """
    item = edition.revision.items[sku]
    found: list[Use] = []
    for place, (chassis, layout) in _pairs(edition, start):
        if place > start and spent() > _STEPS_OF_A_PAGE:
            return UsesPage(found, place)
        try:
            with part(1):
                use = _use(edition, item, chassis, layout)
        except TooCostlyError as error:
            begin_long_work()  # what is too much for a few steps may not be for many
            if place > start:
                return UsesPage(found, place)
            use = _unknown(chassis, layout, error)
        if use is not None and len(found) == limit:
            return UsesPage(found, place)
        found += [use] if use is not None else []
    return UsesPage(found, None)


def _pairs(edition: Edition, start: int) -> Iterator[tuple[int, tuple[Chassis, Layout]]]:
    """Every car with every layout from a place on, with its place."""
    revision = edition.revision
    return islice(enumerate(product(revision.chassis.values(), revision.layouts.values())), start, None)


def _use(edition: Edition, item: Item, chassis: Chassis, layout: Layout) -> Use | None:
    """The use of an item in a layout of a car; None where no valid bill has it."""
    if item.sku not in edition.skus_in(chassis, layout):
        return None
    without, gauged = (edition.engine.places(request, item) for request in edition.plainly(chassis, layout))
    spots, roles = without.listed | gauged.listed, without.roles | gauged.roles
    told = [role for role in _ROLES if role in roles]
    needs_gauge = not (without.listed or without.roles.intersection(_ROLES))
    return _told(chassis, layout, sorted(spots), told, needs_gauge=needs_gauge) if spots or told else None


def _unknown(chassis: Chassis, layout: Layout, error: TooCostlyError) -> Use:
    """A layout of which it takes too much work to tell anything."""
    return {**_told(chassis, layout, [], [], needs_gauge=False), "too_costly": too_costly_here(error)}


def _told(chassis: Chassis, layout: Layout, spots: list[str], roles: list[UseRole], *, needs_gauge: bool) -> Use:
    return {
        "chassis": chassis.id,
        "chassis_name": chassis.name,
        "layout": layout.id,
        "layout_name": layout.name,
        "spots": spots,
        "roles": roles,
        "needs_gauge": needs_gauge,
    }
