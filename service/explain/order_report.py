"""Words an order check: the nearest bill and the changes that lead there into the result document."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from service.documents import answer as doc
from service.documents.answer import Reason
from service.documents.order_answer import Change, OrderResult, OtherLayout, Swap
from service.domain.answer import Bill
from service.domain.findings import Finding
from service.domain.orders import Nearness, Reading
from service.domain.request import Request
from service.domain.revision import Revision
from service.explain.order_changes import Changes, Missing, changes_between
from service.explain.order_extras import from_elsewhere, order_extras, order_notes
from service.explain.order_words import OrderWords, RejectionsOf
from service.explain.phrases import quoted
from service.explain.reasons import broken
from service.rules import closed, layout, supply, wish


@dataclass(frozen=True, eq=False)
class NearestTold:
    """The nearest bill: as the solver found it, with its request, and as it is reported."""

    nearness: Nearness
    bill: Bill
    request: Request
    document: doc.Bill


@dataclass(frozen=True, eq=False)
class OrderTold:
    """An order as it was asked and read. `layout` None: any would do; `gauge_told`: a gauge among what is ordered tells
    that one is wanted."""

    reading: Reading
    layout: str | None
    unknown: tuple[str, ...]
    gauge_told: bool


def report_order(
    order: OrderTold, found: NearestTold, others: Iterable[Nearness], revision: Revision, rejections: RejectionsOf
) -> OrderResult:
    """The result document where there is a bill; `rejections` tells what stops parts in its layout."""
    reading, bill = order.reading, found.bill
    changes = changes_between(reading, bill, revision.items)
    words = OrderWords(reading.order, bill, found.request, revision, rejections)
    reasons = list(_general(order, found, revision))
    result: OrderResult = {
        "revision": revision.number,
        "sets": reading.order.sets,
        "verdict": found.nearness.verdict,
        "layout": found.nearness.layout,
        "bill": found.document,
        "add": _add(changes, words, reasons),
        "remove": _remove(changes, words, reasons),
        "swap": _swap(changes, words, reasons),
        "elsewhere": from_elsewhere(reading, bill),
        "price_change": found.nearness.price_change,
        "also_possible": _also_possible(others),
        "extras": order_extras(reading, found.document, revision),
        "notes": order_notes(reading, order.unknown, bill, revision),
        "reasons": reasons,
    }
    return result


def report_impossible(
    order: OrderTold,
    others: Iterable[Nearness],
    revision: Revision,
    obstacles: Iterable[tuple[Request, Finding | None]],
) -> OrderResult:
    """The result document where no bill is valid; `obstacles`: what stands in the way in each layout, None where it is
    only that there is not enough for all sets."""
    return {
        "revision": revision.number,
        "sets": order.reading.order.sets,
        "verdict": "impossible",
        "layout": order.layout,
        "bill": None,
        "add": [],
        "remove": [],
        "swap": [],
        "elsewhere": [],
        "price_change": None,
        "also_possible": _also_possible(others),
        "extras": order_extras(order.reading, None, revision),
        "notes": order_notes(order.reading, order.unknown, None, revision),
        "reasons": [_obstacle(*one, order, revision) for one in obstacles],
    }


def _also_possible(others: Iterable[Nearness]) -> list[OtherLayout]:
    return [
        {"layout": x.layout, "changes": x.changes, "verdict": x.verdict, "price_change": x.price_change} for x in others
    ]


# --- changes and their reasons --------------------------------------------------------------------------------------


def _add(changes: Changes, words: OrderWords, reasons: list[Reason]) -> list[Change]:
    by_item: dict[str, list[Missing]] = {}
    for missing in changes.add:
        by_item.setdefault(missing.item.sku, []).append(missing)
    found: list[Change] = []
    for sku, missing_units in by_item.items():
        qty = sum(missing.qty for missing in missing_units)
        why = words.added(missing_units)
        found.append({"sku": sku, "qty": qty, "why": why["text"]})
        reasons.append(_for_change(f"Add {qty} of {quoted(missing_units[0].item.name)}.", why))
    return found


def _remove(changes: Changes, words: OrderWords, reasons: list[Reason]) -> list[Change]:
    found: list[Change] = []
    for excess in changes.remove:
        why = words.removed(excess)
        found.append({"sku": excess.sku, "qty": excess.qty, "why": why["text"]})
        reasons.append(_for_change(f"Leave out {excess.qty} of {quoted(excess.item.name)}.", why))
    return found


def _swap(changes: Changes, words: OrderWords, reasons: list[Reason]) -> list[Swap]:
    found: list[Swap] = []
    for swap in changes.swap:
        why, new = words.swapped(swap), swap.new
        found.append({"out": swap.out.sku, "in": new.item.sku, "qty": swap.qty, "spot": new.spot, "why": why["text"]})
        told = f"Take {swap.qty} of {quoted(new.item.name)} in place of {quoted(swap.out.item.name)}."
        reasons.append(_for_change(told, why))
    return found


def _for_change(told: str, why: Reason) -> Reason:
    return {**why, "text": f"{told} {why['text']}"}


# --- what holds for the whole -----------------------------------------------------------------------------------------


def _general(order: OrderTold, found: NearestTold, revision: Revision) -> Iterator[Reason]:
    nearness = found.nearness
    if order.layout is None:
        name = revision.layouts[nearness.layout].name
        text = f"No layout was asked for; of all that fit, the order comes nearest to {quoted(name)}."
        yield {"rule": layout.RULE.id, "text": text, "facts": {"layout": nearness.layout}}
    if order.gauge_told:
        text = "A gauge is ordered, which tells that one is wanted, wherever it may be."
        yield {"rule": wish.RULE.id, "text": text, "facts": dict(wish.gauge_facts("any"))}
    if not nearness.changes:
        text = "Every part that the bill takes is ordered, and none besides: no port is left open."
        yield {"rule": closed.RULE.id, "text": text, "facts": {"layout": nearness.layout}}


def _obstacle(request: Request, finding: Finding | None, order: OrderTold, revision: Revision) -> Reason:
    if finding is None:
        sets = order.reading.order.sets
        text = f"One set can be made up, but there is not enough for {sets}: of what is in stock, or of what you have."
        reason: Reason = {"rule": supply.RULE.id, "text": text, "facts": {"sets": sets}}
    else:
        reason = broken(finding)
    sku = reason["facts"].get("sku")
    culprit = f"{quoted(revision.items[sku].name)}: " if sku in revision.items else ""
    text = f"{quoted(request.layout.name)} cannot be built here. {culprit}{reason['text']}"
    return {**reason, "text": text, "facts": {**reason["facts"], "layout": request.layout.id}}
