"""Why an order has to be changed, in words: what a part is missing for, and what speaks against one that is ordered."""

from collections.abc import Callable, Iterator, Sequence

from service.documents.answer import Reason
from service.domain.answer import Bill
from service.domain.findings import Facts, Finding, Rejection
from service.domain.lazy import lazy
from service.domain.orders import Order
from service.domain.parts import OWN_RAIL, Item
from service.domain.request import PartSituation, Request
from service.domain.revision import Revision
from service.domain.tongue import called, numbered, place, places, plural, said, sentence, word
from service.explain.order_changes import Excess, Missing, Swapped, needed_units
from service.explain.phrases import listed, quoted
from service.explain.reasons import broken, leads_to
from service.rules import PART_RULES, closed, elsewhere, layout, simple, supplied, supply

RejectionsOf = Callable[[], Sequence[Rejection]]


class OrderWords:
    """Words the changes that make an order into a bill; `rejections` tells what stops parts in the bill's layout."""

    def __init__(
        self, order: Order, bill: Bill, request: Request, revision: Revision, rejections: RejectionsOf
    ) -> None:
        self._order = order
        self._bill = bill
        self._request = request
        self._revision = revision
        self._gather_rejections = rejections
        self._needed = needed_units(bill)

    def added(self, missing: Sequence[Missing]) -> Reason:
        """Why units of one item are to be added."""
        item, spots = missing[0].item, list(dict.fromkeys(x.spot for x in missing if x.spot is not None))
        told = [*_open_spots(missing), *dict.fromkeys(self._use(x) for x in missing if not _closes_spot(x))]
        rule = layout.RULE.id if missing[0].placed is None else closed.RULE.id
        return _reason(rule, " ".join(told), {"sku": item.sku, "qty": sum(x.qty for x in missing), "spots": spots})

    def removed(self, excess: Excess) -> Reason:
        """Why units of one item are to be removed."""
        return self._against(excess, None)

    def swapped(self, swap: Swapped) -> Reason:
        """Why one part is to take another one's place."""
        against, new = self._against(swap.out, swap.new.spot), swap.new
        told = [against["text"], self._does(new)]
        facts = against["facts"] | {"in": new.item.sku, "qty": swap.qty, "spot": new.spot}
        return _reason(against["rule"], " ".join(told), facts)

    # --- what a part is for ---------------------------------------------------------------------------------------

    def _use(self, missing: Missing) -> str:
        """What a part is needed for."""
        placed = missing.placed
        if placed is None:
            many = self._bill.banks > 1
            return said("Each bank needs a rail.") if many else said(_ONE_RAIL)
        link, situation = placed.chain.links[missing.index], self._bill.situations[placed.spot]
        if link.side:
            owner = quoted(_owner(missing).name)
            return said(_SIDE_PORT, part=owner, spot=place(placed.spot))
        told = {"spot": place(placed.spot), "duty": word(situation.duty), "kind": word(link.item.kind)}
        if link.item.kind in situation.via:
            return said("The layout has a {kind} in the {duty} at the {spot} spot.", **told)
        if situation.duty == "gauge":
            is_gauge = link.item.kind == closed.CLOSERS["gauge"]
            return said(_GAUGE if is_gauge else _CARRIER, **told)
        told["leads_to"] = called(str(leads_to(situation)))
        return said("The {duty} between the {spot} spot and {leads_to} leads through it.", **told)

    def _does(self, new: Missing) -> str:
        """What a part does, in a sentence with its name."""
        placed, name = new.placed, quoted(new.item.name)
        if placed is None:
            return said("{part} is a rail for this engine.", part=name)
        link, situation = placed.chain.links[new.index], self._bill.situations[placed.spot]
        side_of = quoted(_owner(new).name) if link.side else None
        leads = leads_to(situation)
        text = closed.RULE.reason(
            closed.facts(link.item.kind, situation.duty, placed.spot, side_of=side_of, leads_to=leads)
        )
        return said("{part} {does}", part=name, does=text[0].lower() + text[1:])

    # --- what speaks against a part -------------------------------------------------------------------------------

    def _against(self, excess: Excess, spot: str | None) -> Reason:
        """What speaks against the units of an item that are too many; `spot`: where another one is to go instead."""
        facts = {"sku": excess.sku, "qty": excess.qty}
        for tell in (self._is_enough, self._is_had, self._is_supplied, self._is_replaced):
            told = tell(excess.item)
            if told is not None:
                return _reason(*told, facts)
        finding = self._stopped(excess.item, spot)
        if finding is not None:
            reason = broken(finding)
            return _reason(reason["rule"], reason["text"], {**reason["facts"], **facts})
        is_rail = excess.item.kind == "rail"
        text = said("The bill has its rail already.") if is_rail else said("No port of this bill is left for it.")
        return _reason(simple.RULE.id, text, facts)

    def _is_enough(self, item: Item) -> tuple[str, str] | None:
        got, ordered = self._order.to_get(item.sku, self._needed[item.sku]), self._order.units[item.sku]
        if not got:
            return None
        many = self._order.sets > 1
        words = _ENOUGH_BESIDES[many] if self._order.had.get(item.sku) else _ENOUGH[many]
        return simple.RULE.id, numbered(got, *words, count=got, ordered=ordered, sets=self._order.sets)

    def _is_had(self, item: Item) -> tuple[str, str] | None:
        if not self._needed[item.sku]:
            return None
        if self._order.sets > 1:
            return supply.RULE.id, said("You have as many as are needed for {sets} sets.", sets=self._order.sets)
        return supply.RULE.id, said("You have as many as are needed.")

    def _is_supplied(self, item: Item) -> tuple[str, str] | None:
        spots = [x.spot for x in self._bill.chains if x.supplied and x.chain.items[0].sku == item.sku]
        if not spots:
            return None
        return supplied.RULE.id, numbered(
            len(spots),
            "It comes with the rail for the {spots} spot: none has to be ordered.",
            "It comes with the rail for the {spots} spots: none has to be ordered.",
            spots=listed(places(spots)),
        )

    def _is_replaced(self, item: Item) -> tuple[str, str] | None:
        if item.kind != "rail" or self._bill.rail.sku != OWN_RAIL:
            return None
        return supply.RULE.id, said("Your own rail takes its place: none has to be bought.")

    def _stopped(self, item: Item, spot: str | None) -> Finding | None:
        """What rules a part out here: by itself, else at the spot, else where it comes furthest."""
        situation = PartSituation.of(self._request)
        for rule in PART_RULES:
            if not rule.holds(item, rule.reads(situation), self._revision, "bought"):
                return Finding(rule.id, {"part": item.name, **(rule.facts(item, situation, self._revision) or {})})
        found = [x for x in self._rejections if x.sku == item.sku and x.finding.rule != elsewhere.RULE.id]
        here = [x for x in found if x.spot in (spot, None)]
        return next((x.finding for x in (*here, *found)), None)

    @lazy
    def _rejections(self) -> Sequence[Rejection]:
        return self._gather_rejections()


_ONE_RAIL = sentence("All else is screwed into the rail: one is needed.")
_SIDE_PORT = sentence("A side port of {part} at the {spot} spot would stay open: it needs a plug.")
_GAUGE = sentence("A gauge is wanted at the {spot} spot.")
_CARRIER = sentence("What carries the gauge is missing at the {spot} spot.")
_ENOUGH = {
    False: plural(
        "Only {count} is needed, and {ordered} are ordered.", "Only {count} are needed, and {ordered} are ordered."
    ),
    True: plural(
        "Only {count} is needed for {sets} sets, and {ordered} are ordered.",
        "Only {count} are needed for {sets} sets, and {ordered} are ordered.",
    ),
}
_ENOUGH_BESIDES = {
    False: plural(
        "Only {count} is needed besides what you have, and {ordered} are ordered.",
        "Only {count} are needed besides what you have, and {ordered} are ordered.",
    ),
    True: plural(
        "Only {count} is needed for {sets} sets besides what you have, and {ordered} are ordered.",
        "Only {count} are needed for {sets} sets besides what you have, and {ordered} are ordered.",
    ),
}
"""By whether the order is for several sets."""


def _open_spots(missing: Sequence[Missing]) -> Iterator[str]:
    """The spots that would have no plug."""
    spots = list(dict.fromkeys(x.spot for x in missing if _closes_spot(x) and x.spot is not None))
    if spots:
        yield numbered(
            len(spots),
            "The {spots} spot would stay open: it needs a plug.",
            "The {spots} spots would stay open: each needs a plug.",
            spots=listed(places(spots)),
        )


def _closes_spot(missing: Missing) -> bool:
    """Whether a part is the plug of a closed spot."""
    if missing.placed is None:
        return False
    link = missing.placed.chain.links[missing.index]
    return missing.index == 0 and link.item.kind == closed.CLOSERS["closed"]


def _owner(missing: Missing) -> Item:
    """The part whose side port a plug closes."""
    links = missing.placed.chain.links if missing.placed is not None else ()
    return next(link.item for link in reversed(links[: missing.index]) if not link.side)


def _reason(rule: str, text: str, facts: Facts) -> Reason:
    return {"rule": rule, "text": text, "facts": dict(facts)}
