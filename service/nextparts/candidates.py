"""Candidate parts: plugs and fittings that the maker does not have, told by their ports alone."""

from dataclasses import dataclass, replace
from itertools import combinations_with_replacement

from service.domain.parts import Item, Opening, Port
from service.domain.revision import Revision

_NAME = "next-part"
_PLENTY = 10**9


@dataclass(frozen=True, slots=True, order=True)
class Candidate:
    """A plug (one port) or a fitting (two, sorted)."""

    ports: tuple[Opening, ...]

    @property
    def kind(self) -> str:
        return "plug" if len(self.ports) == 1 else "fitting"


def fitting(one: Opening, other: Opening) -> Candidate:
    """Return the candidate fitting with these ports."""
    return Candidate((min(one, other), max(one, other)))


def candidates(revision: Revision) -> list[Candidate]:
    """Return every candidate over the port standards of a catalog: plugs first, then fittings, by their ports."""
    ports = openings(revision)
    plugs = [Candidate((port,)) for port in ports]
    return [*plugs, *(Candidate(pair) for pair in combinations_with_replacement(ports, 2))]


def openings(revision: Revision) -> list[Opening]:
    """Return both ends of every port standard, sorted."""
    return sorted(Opening(standard, end) for standard in revision.standards for end in ("male", "female"))


def sku_for(revision: Revision) -> str:
    """Return a SKU for a candidate that no item of the catalog has."""
    sku = _NAME
    while sku in revision.items:
        sku += "-"
    return sku


def item_of(candidate: Candidate, sku: str, standout_mm: float) -> Item:
    """Return a candidate as an item: sold, active, in stock, free, rated A for every fuel and for any pressure."""
    return Item(
        sku=sku,
        name=sku,
        kind=candidate.kind,
        family=None,
        finish=None,
        sold=True,
        active=True,
        superseded_by=None,
        price=0,
        stock=_PLENTY,
        lead_days=0,
        ports=tuple(Port(str(number), port) for number, port in enumerate(candidate.ports)),
        wetted=(),
        max_kpa=None,
        standout_mm=standout_mm,
        across_mm=None,
        passage=None,
        patterns=frozenset(),
        supplied=(),
    )


def with_part(revision: Revision, item: Item) -> Revision:
    """Return a revision with one more item that no rail comes with."""
    mating = dict(revision.mating)
    for opening, port in {port.opening: port for port in reversed(item.ports)}.items():
        entries = (*mating.get(opening.mate, ()), (item, port))
        mating[opening.mate] = tuple(sorted(entries, key=lambda entry: entry[0].sku))
    items = {**revision.items, item.sku: item}
    return replace(revision, items=items, mating=mating, index=revision.index.with_item(item))
