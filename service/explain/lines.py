"""The lines of a bill: what to get from where, how many, where each goes, and why."""

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from service.documents.answer import Line, Reason, Source
from service.domain.answer import Bill
from service.domain.findings import Finding
from service.domain.flows import PathFlow
from service.domain.parts import OWN_RAIL, Item
from service.domain.request import Request
from service.domain.revision import Revision
from service.explain.reasons import in_order, kept, of_link, of_rail
from service.explain.sound_twins import sound_twin
from service.rules import mounting, supplied


@dataclass
class _Use:
    """One use of an item: where from, how many, at which spot, what else would do, and what speaks for it."""

    item: Item
    source: Source
    qty: int = 1
    spot: str | None = None
    choices: tuple[str, ...] = ()
    findings: list[Finding] = field(default_factory=list)


def lines(bill: Bill, request: Request, revision: Revision) -> list[Line]:
    """All lines: rail, chains by spot, mounting parts, and what else comes in the boxes.

    What the customer has goes first, to the spots that sort first.
    """
    by_line: dict[tuple[str, Source], list[_Use]] = {}
    for use in _uses(bill, request, revision):
        by_line.setdefault((use.item.sku, use.source), []).append(use)
    return [_line(uses) for uses in by_line.values()]


def _uses(bill: Bill, request: Request, revision: Revision) -> Iterator[_Use]:
    rail = bill.rail
    have = Counter(dict(request.have))
    had = bill.banks if rail.sku == OWN_RAIL else min(bill.banks, have[rail.sku])
    rails: tuple[tuple[Source, int], ...] = (("have", had), (_bought(rail), bill.banks - had))
    for source, qty in rails:
        if qty:
            findings = list(of_rail(bill, request, revision, is_had=source == "have"))
            yield _Use(rail, source, qty, None, bill.rail_choices, findings)
    paths = {spot: path for path in bill.paths for spot in path.spots}
    for placed in bill.chains:
        path: PathFlow | None = paths.get(placed.spot)
        for index, link in enumerate(placed.chain.links):
            source = "supplied" if placed.supplied and index == 0 else _taken(link.item, have)
            findings = list(of_link(bill, placed, index, path, request, revision, is_had=source == "have"))
            findings += _better(link.item, source, request, revision)
            yield _Use(link.item, source, 1, placed.spot, placed.choices[index], findings)
    for filling in mounting.fill(request.chassis, request.addons, rail) if rail.sku != OWN_RAIL else ():
        finding = Finding(mounting.RULE.id, mounting.facts(filling))
        yield _Use(revision.items[filling.sku], filling.source, filling.qty, findings=[finding])
    yield from _boxed(bill, revision)


def _better(item: Item, source: Source, request: Request, revision: Revision) -> list[Finding]:
    """What is told of a part that is bought though a better one costs about the same."""
    found = sound_twin(item, request.fuel.id, revision) if source == "buy" else None
    return [] if found is None else [found]


def _boxed(bill: Bill, revision: Revision) -> Iterator[_Use]:
    """What comes in the boxes of the parts that are got, for neither a spot nor a role of the rail."""
    owners = [(bill.rail, bill.banks)]
    owners += [(item, 1) for placed in bill.chains for item in placed.chain.items[int(placed.supplied) :]]
    for owner, count in owners:
        for box in owner.supplied:
            if box.spot is None and not (box.role is not None and owner.kind == "rail"):
                finding = Finding(supplied.RULE.id, supplied.box_facts(owner.name, box.qty))
                yield _Use(revision.items[box.sku], "supplied", box.qty * count, findings=[finding])


def _taken(item: Item, have: Counter[str]) -> Source:
    """Where the next unit of an item comes from; a unit that is had is taken."""
    if have[item.sku]:
        have[item.sku] -= 1
        return "have"
    return _bought(item)


def _bought(item: Item) -> Source:
    return "buy" if item.sold else "elsewhere"


def _line(uses: list[_Use]) -> Line:
    first = uses[0]
    qty = sum(use.qty for use in uses)
    return {
        "sku": first.item.sku,
        "name": first.item.name,
        "qty": qty,
        "source": first.source,
        "price": first.item.price * qty if first.source == "buy" else 0,
        "spots": sorted({use.spot for use in uses if use.spot is not None}),
        "choices": sorted({sku for use in uses for sku in use.choices}),
        "reasons": _reasons(finding for use in uses for finding in use.findings),
    }


def _reasons(findings: Iterable[Finding]) -> list[Reason]:
    """In the order of telling, each text once."""
    told: dict[tuple[str, str], Reason] = {}
    for finding in in_order(findings):
        reason = kept(finding)
        told.setdefault((reason["rule"], reason["text"]), reason)
    return list(told.values())
