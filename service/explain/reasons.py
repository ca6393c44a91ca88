"""Why each part stands where it does: every rule that spoke about it, in the order of telling."""

from collections.abc import Iterable, Iterator

from service.documents.answer import Reason
from service.domain.answer import Bill, PlacedChain
from service.domain.findings import Finding
from service.domain.flows import PathFlow
from service.domain.parts import OWN_RAIL, Item
from service.domain.request import PartSituation, Request, SpotSituation
from service.domain.revision import Revision
from service.domain.vehicles import HOOKUP_WORDS
from service.explain.figures import figures
from service.rules import (
    CHAIN_RULES,
    PART_RULES,
    RULE_BY_ID,
    RULE_ORDER,
    closed,
    elsewhere,
    flow,
    layout,
    mates,
    supplied,
    supply,
    via,
    wish,
)

_HOOKUPS = {kind: words if kind == "own-hose" else f"the {words}" for kind, words in HOOKUP_WORDS.items()}


def kept(finding: Finding) -> Reason:
    """The finding in the words of its rule kept."""
    return {
        "rule": finding.rule,
        "text": RULE_BY_ID[finding.rule].reason(finding.facts),
        "facts": figures(finding.facts),
    }


def broken(finding: Finding) -> Reason:
    """The finding in the words of its rule broken."""
    return {
        "rule": finding.rule,
        "text": RULE_BY_ID[finding.rule].rejection(finding.facts),
        "facts": figures(finding.facts),
    }


def leads_to(situation: SpotSituation) -> str | None:
    """Where the chain of a spot ends, in words; None where it ends in itself."""
    if situation.far_spot is not None:
        return f"the {situation.far_spot} spot"
    hookup = situation.hookup_kind
    return hookup and (_HOOKUPS.get(hookup) or f"the {hookup}")


def in_order(findings: Iterable[Finding]) -> list[Finding]:
    return sorted(findings, key=lambda finding: RULE_ORDER[finding.rule])


def of_rail(bill: Bill, request: Request, revision: Revision, *, is_had: bool) -> Iterator[Finding]:
    """What speaks for the rail."""
    rail = bill.rail
    placement = request.layout.placements[bill.placement]
    if rail.sku != OWN_RAIL:
        yield from of_part(rail, request, revision, is_had=is_had)
        if not (rail.sold or is_had):
            yield of_elsewhere(None)
    yield Finding(layout.RULE.id, {"layout": request.layout.name, "needs": sorted(placement)})
    for box in rail.supplied:
        item = revision.items[box.sku]
        for spot in request.chassis.on_banks(box.spot) if box.spot and item.kind == "plug" else ():
            if bill.duties.get(spot, "closed") != "closed":
                yield Finding(supplied.RULE.id, supplied.spare_facts(item.name, spot, bill.duties[spot]))


def of_link(
    bill: Bill,
    placed: PlacedChain,
    index: int,
    path: PathFlow | None,
    request: Request,
    revision: Revision,
    *,
    is_had: bool,
) -> Iterator[Finding]:
    """What speaks for one item of a chain; what concerns the whole chain is told of its first item."""
    item = placed.chain.links[index].item
    yield from of_place(bill.situations[placed.spot], placed, index, request, revision)
    if index == 0 and path is not None:
        yield of_path(path)
    is_supplied = placed.supplied and index == 0
    yield from of_part(item, request, revision, is_supplied=is_supplied, is_had=is_had)
    if not (item.sold or is_supplied or is_had):
        yield of_elsewhere(placed.spot)


def of_place(
    situation: SpotSituation, placed: PlacedChain, index: int, request: Request, revision: Revision
) -> Iterator[Finding]:
    """What speaks for one item where it stands in its chain, whatever the rest of the bill is."""
    link = placed.chain.links[index]
    partner = _partner(placed, index)
    yield Finding(mates.RULE.id, mates.facts(link, partner, revision))
    side_of = partner if link.side else None
    yield Finding(
        closed.RULE.id,
        closed.facts(link.item.kind, situation.duty, situation.spot, side_of=side_of, leads_to=leads_to(situation)),
    )
    if link.item.kind in situation.via:
        yield Finding(via.RULE.id, via.facts(situation.via, link.item.kind))
    if index == 0:
        for rule in CHAIN_RULES:
            facts = rule.facts(placed.chain, situation)
            if facts is not None:
                yield Finding(rule.id, facts)
        if placed.supplied:
            yield Finding(supplied.RULE.id, supplied.facts(link.item.sku, situation.spot))
    if link.item.kind == closed.CLOSERS["gauge"]:
        yield Finding(wish.RULE.id, wish.gauge_facts(request.gauge, situation.spot))


def of_path(path: PathFlow) -> Finding:
    """How a flowing path keeps its limits."""
    return Finding(flow.RULE.id, flow.facts(path))


def of_elsewhere(spot: str | None) -> Finding:
    """Why a part that is not sold may stand at a spot."""
    return Finding(elsewhere.RULE.id, elsewhere.facts(spot))


def of_part(
    item: Item, request: Request, revision: Revision, *, is_supplied: bool = False, is_had: bool = False
) -> Iterator[Finding]:
    """What speaks for a part wherever it stands."""
    situation = PartSituation.of(request)
    for rule in PART_RULES:
        facts = rule.facts(item, situation, revision)
        told = (
            request.finish is not None and item.finish == request.finish
            if rule.id == wish.RULE.id
            else rule.id != supply.RULE.id
        )
        if facts is not None and (told or (rule.id == supply.RULE.id and not (is_supplied or is_had))):
            yield Finding(rule.id, facts)
    if is_had:
        yield Finding(supply.RULE.id, supply.had_facts(item))


def _partner(placed: PlacedChain, index: int) -> str:
    """What the item meets, in words: the spot, or the nearest main item before it."""
    mains = [link for link in placed.chain.links[:index] if not link.side]
    return mains[-1].item.name if mains else f"the {placed.spot} spot"
