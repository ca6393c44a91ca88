"""What must hold of an answer in any case, and what a case promises of it: pure judgements, each a sentence."""

from collections.abc import Callable, Iterator
from itertools import pairwise
from math import inf
from typing import Any

from service.documents.contract import FilePromises, PinnedQuestion
from service.documents.found import FoundAnswer, FoundBill

_BOUGHT = "buy"
_RANKS: dict[str, Callable[[FoundBill], Any]] = {
    "price": lambda bill: bill["price"],
    "pieces": lambda bill: bill["pieces"],
    "lead": lambda bill: bill["lead_days"],
    "power": lambda bill: inf if bill["power"]["carries_kw"] is None else -round(bill["power"]["carries_kw"], 1),
    "drop": lambda bill: max((path["drop_kpa"] for path in bill["flow"]["paths"]), default=0.0),
}
"""By what bills are ordered; by margin they are not held to an order here, as the figure is not in the answer."""
_ROUNDING = 1e-6
_USUAL_LIMIT = 10


def faults_of_answer(answer: FoundAnswer, question: PinnedQuestion) -> Iterator[str]:
    """What is wrong with an answer by itself: totals, order, sums, conflicts."""
    bills, total = answer["bills"], answer["total_valid"]
    limit = question.limit or _USUAL_LIMIT
    if len(bills) != min(total, limit):
        yield f"total_valid is {total} and the limit {limit}, but {len(bills)} bills are listed"
    keys = [bill["key"] for bill in bills]
    if len(set(keys)) < len(keys):
        yield "a bill is listed twice"
    for place, bill in enumerate(bills, 1):
        yield from _faults_of_bill(bill, place)
    rank = _RANKS.get(question.order_by or "price")
    if rank is not None:
        for place, (before, after) in enumerate(pairwise(bills), 1):
            if rank(before) > rank(after) + _ROUNDING:
                order = question.order_by or "price"
                yield f"bills are not in the order of their {order}: bill {place} stands before bill {place + 1}"
    if total == 0 and not answer["conflicts"]:
        yield "there is no bill, and no conflict says why"
    if not answer["safety"]:
        yield "the answer has no cautions for who works on it"


def _faults_of_bill(bill: FoundBill, place: int) -> Iterator[str]:
    bought = sum(line["price"] for line in bill["lines"])
    if bought != bill["price"]:
        yield f"bill {place} costs {bill['price']}, but its lines add up to {bought}"
    if any(line["price"] and line["source"] != _BOUGHT for line in bill["lines"]):
        yield f"bill {place} asks a price for a part that is not bought"
    listed = {line["sku"] for line in bill["lines"]}
    for spot, duty in bill["duties"].items():
        if duty != "link" and spot not in bill["chains"]:  # a link's chain stands at one of its ends
            yield f"bill {place} says nothing of what goes into the {spot} spot"
    for spot, chain in bill["chains"].items():
        for sku in chain:
            if sku not in listed:
                yield f"bill {place} has {sku} at the {spot} spot, but no line for it"
    if any(not (line["reasons"] or line["repeats"]) for line in bill["lines"]):
        yield f"bill {place} has a line without a reason"


def broken_promises(answer: FoundAnswer, promises: FilePromises) -> Iterator[str]:
    """Which promises of a case an answer breaks."""
    bills = answer["bills"]
    if bool(bills) != promises.has_bill:
        yield (
            "has no bill, but one is promised" if promises.has_bill else f"has {len(bills)} bills, but none is promised"
        )
        return
    if not bills:
        return
    first = bills[0]
    listed = {line["sku"] for line in first["lines"]}
    for sku in promises.contains or ():
        if sku not in listed:
            yield f"the first bill has no {sku}, which it is promised to contain"
    for place, bill in enumerate(bills, 1):
        for sku in sorted({line["sku"] for line in bill["lines"]} & set(promises.never_contains or ())):
            yield f"bill {place} contains {sku}, which is promised never to be there"
    price = promises.price
    if price is not None and not price.at_least <= first["price"] <= price.at_most:
        yield f"the first bill costs {first['price']}, not {price.at_least} to {price.at_most}"
    if promises.key is not None and first["key"] != promises.key:
        yield "the first bill is not the very bill that is promised: its key is another"
