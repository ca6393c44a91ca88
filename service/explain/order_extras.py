"""What is ordered besides the parts that are compared, and what to know of a SKU that is ordered."""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence

from service.documents import answer as doc
from service.documents.nearest import nearest
from service.documents.order_answer import FromElsewhere, Note, OrderExtra
from service.domain.answer import Bill
from service.domain.orders import Ordered, Reading, is_compared
from service.domain.parts import Item
from service.domain.revision import Revision
from service.domain.tongue import said, sentence, word
from service.explain.order_changes import needed_units
from service.explain.phrases import quoted

# --- extras -------------------------------------------------------------------------------------------------------

_GIVEN = {
    "supplied": sentence("Comes with parts of this bill already ({qty} in their boxes): none has to be ordered."),
    "add-on": sentence("Comes with the add-on already ({qty} of it): none has to be ordered."),
    "on-car": sentence("On the car already ({qty} of it): order it only to replace what is worn."),
    "have": sentence("Goes with this bill ({qty} of it), and you have it."),
    "elsewhere": sentence("Goes with this bill ({qty} of it), but we do not sell it: buy it elsewhere."),
}


def order_extras(reading: Reading, bill: doc.Bill | None, revision: Revision) -> list[OrderExtra]:
    """Ordered things that are not compared: whether they go with the bill, and in what number."""
    sets = reading.order.sets
    return [
        {"sku": line.sku, "qty": line.qty, "goes": goes, "text": text}
        for line in reading.lines
        if not is_compared(revision.items[line.counts_as])
        for goes, text in [_goes(line, bill, sets)]
    ]


def _goes(line: Ordered, bill: doc.Bill | None, sets: int) -> tuple[bool, str]:
    if bill is None:
        return False, said("There is no bill for it to go with.")
    suggested = sum(extra["qty"] for extra in bill["extras"] if extra["sku"] == line.counts_as) * sets
    if suggested:
        return True, _beside(suggested, line.qty)
    given = Counter[str]()
    for x in bill["lines"]:
        if x["sku"] == line.counts_as:
            given[x["source"]] += x["qty"] * sets
    if given:
        return True, " ".join([said(_GIVEN[source], qty=qty) for source, qty in given.items()])
    return False, said("Nothing in this bill takes it.")


def _beside(suggested: int, ordered: int) -> str:
    """How what is ordered compares with what the joints of a bill take."""
    if ordered == suggested:
        return said("Goes with this bill, as many as its joints take ({taken}).", taken=suggested)
    told = {"taken": suggested, "ordered": ordered, "more": ordered - suggested}
    if ordered < suggested:
        return said("Goes with this bill: its joints take {taken}, only {ordered} ordered.", **told)
    if ordered == 2 * suggested:
        return said("Goes with this bill: its joints take {taken}; {ordered} are ordered, twice as many.", **told)
    return said("Goes with this bill: its joints take {taken}; {ordered} are ordered, {more} more than that.", **told)


def from_elsewhere(reading: Reading, bill: Bill) -> list[FromElsewhere]:
    """What the bill takes that we do not sell, for all sets and beyond what is had."""
    got = {sku: (item, reading.order.to_get(sku, units)) for sku, (item, units) in _unsold(bill).items()}
    return [
        {
            "sku": sku,
            "qty": qty,
            "text": said("{part} is not sold by us: buy {qty} of it elsewhere.", part=quoted(item.name), qty=qty),
        }
        for sku, (item, qty) in got.items()
        if qty
    ]


def _unsold(bill: Bill) -> dict[str, tuple[Item, int]]:
    needed = needed_units(bill)
    items = {item.sku: item for placed in bill.chains for item in placed.chain.items} | {bill.rail.sku: bill.rail}
    return {sku: (items[sku], units) for sku, units in needed.items() if not items[sku].sold}


# --- notes --------------------------------------------------------------------------------------------------------


def order_notes(reading: Reading, unknown: Iterable[str], bill: Bill | None, revision: Revision) -> list[Note]:
    """What to know of each SKU that is ordered."""
    told = [(line.sku, text) for line in reading.lines for text in _known(line, bill, revision)]
    told += [(sku, _unknown(nearest(sku, sorted(revision.items)))) for sku in unknown]
    return [{"sku": sku, "text": text} for sku, text in told]


def _unknown(alike: Sequence[str]) -> str:
    if not alike:
        return said("No item of this catalog has that SKU. It is not compared.")
    skus = ", ".join(alike)
    return said("No item of this catalog has that SKU; nearest: {skus}. It is not compared.", skus=skus)


def _known(line: Ordered, bill: Bill | None, revision: Revision) -> Iterator[str]:
    item, counts_as = revision.items[line.sku], revision.items[line.counts_as]
    if line.counts_as != line.sku:
        yield said("{sku} takes its place by now, and it counts as that.", sku=line.counts_as)
    elif item.superseded_by is not None:
        yield said(
            "{sku} takes its place by and by; it is still in the range and counts as what it is.",
            sku=item.superseded_by,
        )
    if not counts_as.active:
        yield said("No longer made, and nothing takes its place.")
    if not counts_as.sold:
        yield said("We do not sell it: it tells what to buy elsewhere.")
    if bill is not None and _is_in(counts_as, bill):
        alike = _in_the_finish_of(bill.rail, counts_as, revision)
        if alike is not None:
            yield said(
                "Its finish is {finish}, the rail's is {wanted}: {part} ({sku}) is the same part in that.",
                finish=counts_as.finish or word("another one"),
                wanted=bill.rail.finish,
                part=quoted(alike.name),
                sku=alike.sku,
            )


def _is_in(item: Item, bill: Bill) -> bool:
    return any(item in placed.chain.items[int(placed.supplied) :] for placed in bill.chains)


def _in_the_finish_of(rail: Item, item: Item, revision: Revision) -> Item | None:
    """The variant of a part that has the finish of a rail, where the part itself has another one."""
    if rail.finish is None or item.finish == rail.finish or item.family is None:
        return None
    return next(
        (
            other
            for other in map(revision.items.__getitem__, revision.index.by_family[item.family])
            if other.finish == rail.finish and other.active and _ends(other) == _ends(item)
        ),
        None,
    )


def _ends(item: Item) -> Sequence[object]:
    return sorted(port.opening for port in item.ports)
