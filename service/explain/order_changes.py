"""What makes an order into a bill: units that are missing, each where it goes, units that are too many, and swaps."""

from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace

from service.domain.answer import Bill, PlacedChain
from service.domain.orders import Reading
from service.domain.parts import OWN_RAIL, Item


@dataclass(frozen=True, eq=False)
class Missing:
    """So many units of an item to add; `placed` and `index` tell the link of a chain where they go, None: a rail.

    `is_far`: it stands behind the line of a link, so that it is screwed in from the other bank.
    """

    item: Item
    qty: int
    placed: PlacedChain | None = None
    index: int = 0
    is_far: bool = False

    @property
    def spot(self) -> str | None:
        return None if self.placed is None else self.placed.spot


@dataclass(frozen=True, eq=False)
class Excess:
    """So many units to remove of what is ordered under a SKU and counts as an item."""

    sku: str
    item: Item
    qty: int


@dataclass(frozen=True, eq=False)
class Swapped:
    """So many units of one part in another one's place."""

    out: Excess
    new: Missing
    qty: int


@dataclass(frozen=True, eq=False)
class Changes:
    """All that makes an order into a bill; a swap stands in `swap` alone."""

    add: tuple[Missing, ...] = ()
    remove: tuple[Excess, ...] = ()
    swap: tuple[Swapped, ...] = ()


def changes_between(reading: Reading, bill: Bill, items: Mapping[str, Item]) -> Changes:
    """The units to add are those of the spots that sort last, as what is had and ordered goes to the first ones; of
    what counts as one part, superseded ones are removed first."""
    missing = list(_missing(reading, bill))
    excess = list(_excess(reading, bill, items))
    swaps: list[Swapped] = []
    for takes_place in _WAYS:
        for at, new in enumerate(missing):
            for place, out in enumerate(excess):
                qty = min(missing[at].qty, out.qty)
                if qty and takes_place(new, out.item):
                    swaps.append(Swapped(out, new, qty))
                    missing[at] = replace(missing[at], qty=missing[at].qty - qty)
                    excess[place] = replace(out, qty=out.qty - qty)
    return Changes(tuple(x for x in missing if x.qty), tuple(x for x in excess if x.qty), tuple(swaps))


def needed_units(bill: Bill) -> Counter[str]:
    """The units by SKU that the bill needs beyond what is supplied; the customer's own rail is none of them."""
    needed = Counter[str]()
    for use in _uses(bill):
        needed[use.item.sku] += use.qty
    return needed


def sold_units(bill: Bill) -> Counter[str]:
    """Of these units those that we sell."""
    unsold = {item.sku for placed in bill.chains for item in placed.chain.items if not item.sold}
    unsold |= set() if bill.rail.sold else {bill.rail.sku}
    return Counter({sku: units for sku, units in needed_units(bill).items() if sku not in unsold})


def _uses(bill: Bill) -> Iterator[Missing]:
    """Each place for which a part has to be got, in the order in which parts go to them."""
    if bill.rail.sku != OWN_RAIL:
        yield Missing(bill.rail, bill.banks)
    for placed in bill.chains:
        is_far = False
        for index, link in enumerate(placed.chain.links):
            if index or not placed.supplied:
                yield Missing(link.item, 1, placed, index, is_far)
            is_far = is_far or (link.item.kind == "line" and bill.duties[placed.spot] == "link")


def _missing(reading: Reading, bill: Bill) -> Iterator[Missing]:
    order = reading.order
    at_hand = Counter(order.units) + Counter(order.had)
    for use in _uses(bill):
        if not use.item.sold:  # told apart: it is no change of an order
            continue
        needed = use.qty * order.sets
        given = min(needed, at_hand[use.item.sku])
        at_hand[use.item.sku] -= given
        if needed > given:
            yield replace(use, qty=needed - given)


def _excess(reading: Reading, bill: Bill, items: Mapping[str, Item]) -> Iterator[Excess]:
    order = reading.order
    needed = needed_units(bill)
    left = {sku: units - min(units, order.to_get(sku, needed[sku])) for sku, units in order.units.items()}
    for line in sorted(reading.lines, key=lambda line: line.sku == line.counts_as):
        qty = min(line.qty, left.get(line.counts_as, 0))
        if qty:
            left[line.counts_as] -= qty
            yield Excess(line.sku, items[line.counts_as], qty)


# --- swaps ------------------------------------------------------------------------------------------------------


def _is_variant(new: Missing, out: Item) -> bool:
    return out.family is not None and out.family == new.item.family


def _fits_there(new: Missing, out: Item) -> bool:
    """Whether a part of the same kind screws into what the new one screws into."""
    if out.kind != new.item.kind or new.placed is None:
        return False
    met = new.placed.chain.links[new.index].meets
    faces = {port.opening for port in new.item.ports if new.is_far or port.opening.mate == met}
    return any(port.opening in faces for port in out.ports)


def _does_the_same(new: Missing, out: Item) -> bool:
    """Whether the kind alone tells what a part is for: fittings are too many different things."""
    return out.kind == new.item.kind != "fitting"


_WAYS: tuple[Callable[[Missing, Item], bool], ...] = (_is_variant, _fits_there, _does_the_same)
"""How one part may take another one's place, the surest first."""
