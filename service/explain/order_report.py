"""Words an order check: the nearest bill and the changes that lead there into the result document."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from service.documents import answer as doc
from service.documents.answer import Reason
from service.documents.money import money_of
from service.documents.order_answer import Change, OrderResult, OtherLayout, Ships, StockLine, Swap
from service.domain.answer import Bill
from service.domain.findings import Finding
from service.domain.orders import Nearness, Reading
from service.domain.request import Request
from service.domain.revision import Revision
from service.domain.stock import Stocked, ships, stock_of
from service.domain.tongue import said
from service.explain.lines import stock_told
from service.explain.order_changes import Changes, Missing, changes_between, sold_units
from service.explain.order_extras import from_elsewhere, order_extras, order_notes
from service.explain.order_words import OrderWords, RejectionsOf
from service.explain.phrases import listed, quoted
from service.explain.reasons import broken
from service.explain.wishes import with_nearest_finish
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
    that one is wanted; `has_key`: it is to be one very bill."""

    reading: Reading
    layout: str | None
    unknown: tuple[str, ...]
    gauge_told: bool
    has_key: bool = False


def report_order(
    order: OrderTold, found: NearestTold, others: Sequence[Nearness], revision: Revision, rejections: RejectionsOf
) -> OrderResult:
    """The result document where there is a bill; `rejections` tells what stops parts in its layout."""
    reading, bill = order.reading, found.bill
    changes = changes_between(reading, bill, revision.items)
    words = OrderWords(reading.order, bill, found.request, revision, rejections)
    needed = sold_units(bill)
    stock = {one.sku: one for one in stock_of(reading.order, needed, revision.items)}
    reasons = list(_general(order, found, others, revision))
    result: OrderResult = {
        "revision": revision.number,
        **money_of(revision),
        "sets": reading.order.sets,
        "verdict": found.nearness.verdict,
        "layout": found.nearness.layout,
        "bill": _with_stock_of_all_sets(found.document, stock),
        "add": _add(changes, words, reasons),
        "remove": _remove(changes, words, reasons),
        "swap": _swap(changes, words, reasons),
        "elsewhere": from_elsewhere(reading, bill),
        "price_change": found.nearness.price_change,
        "edits": found.nearness.edits,
        "stock": [_stock_line(one) for one in stock.values()],
        "ships": _ships(*ships(reading.order, needed, revision.items)),
        "also_possible": [_other(other, found.nearness.changes) for other in others],
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
        **money_of(revision),
        "sets": order.reading.order.sets,
        "verdict": "impossible",
        "layout": order.layout,
        "bill": None,
        "add": [],
        "remove": [],
        "swap": [],
        "elsewhere": [],
        "price_change": None,
        "edits": None,
        "stock": [],
        "ships": None,
        "also_possible": [_other(other, None) for other in others],
        "extras": order_extras(order.reading, None, revision),
        "notes": order_notes(order.reading, order.unknown, None, revision),
        "reasons": [_obstacle(*one, order, revision) for one in obstacles],
    }


def _other(other: Nearness, shown_changes: int | None) -> OtherLayout:
    return {
        "layout": other.layout,
        "changes": other.changes,
        "verdict": other.verdict,
        "price_change": other.price_change,
        "tie": other.changes == shown_changes,
        "edits": other.edits,
    }


def _stock_line(stock: Stocked) -> StockLine:
    return {
        "sku": stock.sku,
        "need": stock.need,
        "in_stock": stock.in_stock,
        "short": stock.short,
        "rest_days": stock.rest_days,
    }


def _ships(now: int, rest_days: int) -> Ships:
    return {"now": now, "rest_days": rest_days}


def _with_stock_of_all_sets(bill: doc.Bill, stock: Mapping[str, Stocked]) -> doc.Bill:
    """The bill of one set, with each line that is bought beside what all sets need of it."""
    return {**bill, "lines": [_with_stock(line, stock.get(line["sku"])) for line in bill["lines"]]}


def _with_stock(line: doc.Line, stock: Stocked | None) -> doc.Line:
    return line if stock is None or line["source"] != "buy" else {**line, **stock_told(stock)}


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
        name = quoted(missing_units[0].item.name)
        reasons.append(_for_change(said("Add {qty} of {part}.", qty=qty, part=name), why))
    return found


def _remove(changes: Changes, words: OrderWords, reasons: list[Reason]) -> list[Change]:
    found: list[Change] = []
    for excess in changes.remove:
        why = words.removed(excess)
        found.append({"sku": excess.sku, "qty": excess.qty, "why": why["text"]})
        told = said("Leave out {qty} of {part}.", qty=excess.qty, part=quoted(excess.item.name))
        reasons.append(_for_change(told, why))
    return found


def _swap(changes: Changes, words: OrderWords, reasons: list[Reason]) -> list[Swap]:
    found: list[Swap] = []
    for swap in changes.swap:
        why, new = words.swapped(swap), swap.new
        found.append({"out": swap.out.sku, "in": new.item.sku, "qty": swap.qty, "spot": new.spot, "why": why["text"]})
        told = said(
            "Take {qty} of {part} in place of {other}.",
            qty=swap.qty,
            part=quoted(new.item.name),
            other=quoted(swap.out.item.name),
        )
        reasons.append(_for_change(told, why))
    return found


def _for_change(told: str, why: Reason) -> Reason:
    return {**why, "text": f"{told} {why['text']}"}


# --- what holds for the whole -----------------------------------------------------------------------------------------


def _general(order: OrderTold, found: NearestTold, others: Sequence[Nearness], revision: Revision) -> Iterator[Reason]:
    nearness = found.nearness
    if order.has_key:
        text = said("The order is compared with the very bill of its key, and with no other.")
        yield {"rule": layout.RULE.id, "text": text, "facts": {"layout": nearness.layout}}
    if order.layout is None:
        yield _nearest_layout(nearness, [x for x in others if x.changes == nearness.changes], revision)
    if order.gauge_told:
        text = said("A gauge is ordered, which tells that one is wanted, wherever it may be.")
        yield {"rule": wish.RULE.id, "text": text, "facts": dict(wish.gauge_facts("any"))}
    if not nearness.changes:
        text = said("Every part that the bill takes is ordered, and none besides: no port is left open.")
        yield {"rule": closed.RULE.id, "text": text, "facts": {"layout": nearness.layout}}


def _nearest_layout(nearness: Nearness, ties: Sequence[Nearness], revision: Revision) -> Reason:
    """The layout that is shown; where others take as few changes, which of them is meant is asked back."""
    name = quoted(revision.layouts[nearness.layout].name)
    if not ties:
        text = said("No layout was asked for; of all that fit, the order comes nearest to {layout}.", layout=name)
        return {"rule": layout.RULE.id, "text": text, "facts": {"layout": nearness.layout}}
    names = [quoted(revision.layouts[one.layout].name) for one in ties]
    text = said(
        "No layout was asked for, and this could be meant as {layouts}: each takes as few changes. {layout} is shown; "
        "name the layout that is meant.",
        layouts=listed([name, *names], "or"),
        layout=name,
    )
    return {
        "rule": layout.RULE.id,
        "text": text,
        "facts": {"layout": nearness.layout, "ties": [x.layout for x in ties]},
    }


def _obstacle(request: Request, finding: Finding | None, order: OrderTold, revision: Revision) -> Reason:
    if finding is None:
        sets = order.reading.order.sets
        text = said(
            "One set can be made up, but there is not enough for {sets}: of what is in stock, or of what you have.",
            sets=sets,
        )
        reason: Reason = {"rule": supply.RULE.id, "text": text, "facts": {"sets": sets}}
    else:
        reason = with_nearest_finish(broken(finding), request.finish, revision)
    sku = reason["facts"].get("sku")
    culprit = f"{quoted(revision.items[sku].name)}: " if sku is not None and sku in revision.items else ""
    told = said("{layout} cannot be built here.", layout=quoted(request.layout.name))
    text = f"{told} {culprit}{reason['text']}"
    return {**reason, "text": text, "facts": {**reason["facts"], "layout": request.layout.id}}
