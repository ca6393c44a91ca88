"""The answer to an order as its page shows it: the verdict in one line, what to change, the order as it should be."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from service.assembly import rail_plans
from service.documents.answer import Bill, Reason
from service.documents.order_answer import OrderResult
from service.domain.money import priced
from service.explain.phrases import listed
from service.explain.sheet_rails import rail_told
from service.usecases.library import Edition
from service.usecases.recall_bill import held_by, recall_in
from service.web.pages.bills import ShownBill, shown_bill
from service.web.pages.pictures import Pictures

_VERDICTS: dict[str, tuple[str, str, str]] = {
    "complete": ("ok", "Complete", "nothing to change."),
    "short": ("tight", "Short", "something is missing."),
    "surplus": ("tight", "Surplus", "something is too much."),
    "wrong": ("over", "Wrong", "something is missing and something does not belong."),
    "impossible": ("over", "Impossible", "no valid bill."),
}


@dataclass(frozen=True)
class Verdict:
    """`sign`: what stands before it; `word` and `says`: the verdict; `difference`: what the right order costs more."""

    sign: str
    word: str
    says: str
    difference: str


@dataclass(frozen=True)
class CorrectedLine:
    """A line of the order as it should be. `number`: of its line in the bill; `price` of all pieces, minor units."""

    number: int
    qty: int
    sku: str
    name: str
    price: int


@dataclass(frozen=True)
class Change:
    """A change in words, with the SKUs whose pictures stand beside it: of a swap both, first what goes."""

    kind: Literal["add", "remove", "swap"]
    qty: int
    skus: Sequence[str]
    spot: str | None
    text: str


def verdict_of(edition: Edition, result: OrderResult) -> Verdict:
    """The verdict, with how many changes it takes and how much the right order costs more or less."""
    currency, change, edits = edition.revision.currency, result["price_change"], result.get("edits")
    sign, word, says = _VERDICTS[result["verdict"]]
    counted = "" if not edits else " 1 change." if edits == 1 else f" {edits} changes."
    difference = f"{priced(abs(change), currency)} {'more' if change > 0 else 'less'} than this one" if change else ""
    return Verdict(sign, word, says + counted, difference)


def corrected(edition: Edition, result: OrderResult) -> list[CorrectedLine]:
    """The order as it should be: how many of what, for all sets; what is bought from the maker alone."""
    bill = result["bill"]
    if bill is None:
        return []
    wanted: dict[str, tuple[int, int]] = {}
    for number, line in enumerate(bill["lines"], 1):
        if line["source"] == "buy":
            first, qty = wanted.get(line["sku"], (number, 0))
            wanted[line["sku"]] = (first, qty + line["qty"] * result["sets"])
    items = edition.items
    return [
        CorrectedLine(number, qty, sku, items[sku].name, qty * items[sku].price)
        for sku, (number, qty) in wanted.items()
    ]


def total_of(edition: Edition, result: OrderResult) -> int:
    """What the order as it should be costs, minor units."""
    return sum(line.price for line in corrected(edition, result))


def changes_of(result: OrderResult) -> list[Change]:
    """What to add, to leave out and to swap, each in one sentence with its reason."""
    texts = iter([reason["text"] for reason in _of_changes(result)])
    added = [Change("add", one["qty"], (one["sku"],), None, next(texts)) for one in result["add"]]
    removed = [Change("remove", one["qty"], (one["sku"],), None, next(texts)) for one in result["remove"]]
    swapped = [Change("swap", one["qty"], (one["out"], one["in"]), one["spot"], next(texts)) for one in result["swap"]]
    return [*added, *removed, *swapped]


def general_reasons(result: OrderResult) -> list[str]:
    """What is to be said of the whole order: not the changes, nor the layouts that tie, which have their own places."""
    whole = result["reasons"][: len(result["reasons"]) - len(_of_changes(result))]
    return [reason["text"] for reason in whole if "ties" not in reason["facts"]]


def _of_changes(result: OrderResult) -> Sequence[Reason]:
    """The reasons of the changes, which stand behind those of the whole."""
    count = sum(len(changes) for changes in (result["add"], result["remove"], result["swap"]))
    return result["reasons"][len(result["reasons"]) - count :]


def built(edition: Edition, bill: Bill, pictures: Pictures) -> ShownBill:
    """The bill that the right order makes, with the picture of its rails."""
    recalled = recall_in(edition, held_by(bill["key"]), bill["key"])
    return shown_bill(bill, [rail_told(rail) for rail in rail_plans(recalled.bill)], pictures)


def ties_of(edition: Edition, result: OrderResult) -> list[tuple[str, str]]:
    """The ids and names of the layouts that the order could be meant for as well as for the one shown."""
    layouts = edition.revision.layouts
    return [(one["layout"], layouts[one["layout"]].name) for one in result["also_possible"] if one.get("tie")]


def ships_told(result: OrderResult) -> str:
    """When the right order ships, in one sentence."""
    ships = result.get("ships")
    if ships is None:
        return ""
    short = [f"{one['short']} x {one['sku']}" for one in result.get("stock", []) if one["short"]]
    if not short:
        return "All of it is in stock."
    days = "1 day" if ships["rest_days"] == 1 else f"{ships['rest_days']} days"
    now = f"{ships['now']} of {result['sets']} sets ship now" if result["sets"] > 1 else "Not all of it is in stock"
    return f"{now}, the rest in {days}: short of {listed(short)}."
