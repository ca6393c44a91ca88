"""What an item is an accessory or a spare part for, as the catalog itself tells it; which bills it stands in takes a
search (`part_uses`)."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import islice

from service.documents.catalog import Item
from service.domain.parts import Opening
from service.domain.revision import Revision
from service.usecases.library import Edition

MOST = 100
"""So many cars are told, and so many rails, in the order of the catalog."""


@dataclass(frozen=True)
class GoesWith:
    """The cars whose rail pattern an item lists or on which it is mounted, by id; the rails that it screws into, or in
    whose box it comes, by SKU."""

    chassis: tuple[str, ...]
    rails: tuple[str, ...]


def goes_with(edition: Edition, item: Item) -> GoesWith:
    """What an item of the edition goes with, at most `MOST` of each."""
    revision = edition.revision
    cars = revision.once(_cars)
    told = [("pattern", pattern) for pattern in item.patterns or ()]
    chassis = frozenset(id_ for key in (*told, ("mounted", item.sku)) for id_ in cars.get(key, ()))
    return GoesWith(
        tuple(islice((id_ for id_ in edition.catalog.chassis.texts if id_ in chassis), MOST)),
        tuple(islice(dict.fromkeys(_rails(revision, item)), MOST)),
    )


def _cars(revision: Revision) -> Mapping[tuple[str, str], set[str]]:
    """The ids of cars by their pattern, and by the SKU of what is mounted on them."""
    found: dict[tuple[str, str], set[str]] = {}
    for chassis in revision.chassis.values():
        for key in (("pattern", chassis.pattern), *(("mounted", mounted.sku) for mounted in chassis.mounting)):
            found.setdefault(key, set()).add(chassis.id)
    return found


def _rails(revision: Revision, item: Item) -> Iterator[str]:
    """Yield the rails that an item meets with a port of its own, then those that bring it along; a rail goes with
    none."""
    if item.kind == "rail":
        return
    is_rail = frozenset(revision.index.by_kind.get("rail", ()))
    for port in item.ports:
        mates = revision.index.by_opening.get(Opening(port.standard, port.end).mate, ())
        yield from (sku for sku in mates if sku in is_rail)
    yield from (sku for sku in revision.index.boxed_in.get(item.sku, ()) if sku in is_rail)
