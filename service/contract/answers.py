"""What must hold of an answer in any case, and what a case promises of it: pure judgements."""

from collections.abc import Callable, Iterator
from itertools import islice, pairwise
from math import inf
from typing import Any

from service.contract.outcomes import Broken
from service.contract.wishes import faults_of_wishes, faults_of_words
from service.documents.contract import FilePromises, PinnedQuestion
from service.documents.found import FoundAnswer, FoundBill, FoundPower

_BOUGHT = "buy"
RANKS: dict[str, Callable[[FoundBill], Any]] = {
    "price": lambda bill: bill["price"],
    "pieces": lambda bill: bill["pieces"],
    "lead": lambda bill: bill["lead_days"],
    "power": lambda bill: inf if bill["power"]["carries_kw"] is None else -round(bill["power"]["carries_kw"], 1),
    "drop": lambda bill: max((path["drop_kpa"] for path in bill["flow"]["paths"]), default=0.0),
}
"""By what bills are ordered; by margin they are not held to an order here, as the figure is not in the answer."""
_ROUNDING = 1e-6
ROUNDINGS = {"power": 0.1 + _ROUNDING, "drop": 0.001 + _ROUNDING}
"""By how much a bill may stand before a better one: power counts by tenths of a kilowatt, a drop by pascals."""
_FIGURES = 1e-4
"""Figures are told to some six digits: so far apart two that mean the same may be."""
_USUAL_LIMIT = 10


def faults_of_answer(answer: FoundAnswer, question: PinnedQuestion) -> Iterator[Broken]:
    """What is wrong with an answer by itself: totals, order, sums, power, limits, conflicts,
    wishes, words."""
    bills, total = answer["bills"], answer["total_valid"]
    limit = question.limit or _USUAL_LIMIT
    if len(bills) != min(total, limit):
        what = f"total_valid is {total} and the limit {limit}, but {len(bills)} bills are listed"
        yield Broken(what, "#/bills", f"{min(total, limit)} bills", f"{len(bills)} bills")
    if question.revision is not None and answer["revision"] != question.revision:
        what = "the answer is of another revision than was asked of"
        yield Broken(what, "#/revision", str(question.revision), str(answer["revision"]))
    keys = [bill["key"] for bill in bills]
    if len(set(keys)) < len(keys):
        yield Broken("a bill is listed twice", "#/bills", "each key once")
    for place, bill in enumerate(bills, 1):
        yield from _faults_of_bill(bill, place)
        yield from faults_of_power(bill["power"], f"#/bills/{place - 1}/power")
    rank, order = RANKS.get(question.order_by or "price"), question.order_by or "price"
    if rank is not None:
        for place, (before, after) in enumerate(pairwise(bills), 1):
            if rank(before) > rank(after) + ROUNDINGS.get(order, _ROUNDING):
                what = f"bills are not in the order of their {order}: bill {place} stands before bill {place + 1}"
                yield Broken(what, f"#/bills/{place}", f"{order} not below {rank(before)}", str(rank(after)))
    if total == 0 and not answer["conflicts"]:
        yield Broken("there is no bill, and no conflict says why", "#/conflicts", "a conflict", "none")
    if len(answer["stories"]) != len(answer["conflicts"]):
        got = f"{len(answer['stories'])} stories of {len(answer['conflicts'])} conflicts"
        yield Broken("not each conflict has its story", "#/stories", "a story a conflict", got)
    if not answer["safety"]:
        yield Broken("the answer has no cautions for who works on it", "#/safety", "cautions", "none")
    yield from faults_of_wishes(answer, question.model_dump(exclude_unset=True), "body")
    yield from islice(faults_of_words(answer), 1)


def _faults_of_bill(bill: FoundBill, place: int) -> Iterator[Broken]:
    at, lines = f"#/bills/{place - 1}", bill["lines"]
    bought = sum(line["price"] for line in lines)
    if bought != bill["price"]:
        what = f"bill {place} costs {bill['price']}, but its lines add up to {bought}"
        yield Broken(what, f"{at}/price", str(bought), str(bill["price"]))
    units = sum(line["qty"] for line in lines if line["source"] in (_BOUGHT, "elsewhere"))
    if units != bill["pieces"]:
        what = f"bill {place} has {bill['pieces']} pieces, but its lines have {units} units to get"
        yield Broken(what, f"{at}/pieces", str(units), str(bill["pieces"]))
    for line in lines:
        if line["price"] != line["unit_price"] * line["qty"] * (line["source"] == _BOUGHT):
            what = f"bill {place} asks {line['price']} for {line['qty']} of {line['sku']} at {line['unit_price']} each"
            yield Broken(what, f"{at}/lines", "the unit price times the units that are bought", str(line["price"]))
        if line["price"] and line["source"] != _BOUGHT:
            what = f"bill {place} asks a price for a part that is not bought"
            yield Broken(what, f"{at}/lines", f"0 for {line['sku']}", str(line["price"]))
        if not (line["reasons"] or line["repeats"]):
            yield Broken(f"bill {place} has a line without a reason", f"{at}/lines", f"why {line['sku']} is there")
        if any(not (reason["rule"] and reason["text"]) for reason in line["reasons"]):
            yield Broken(f"bill {place} has a reason without a rule or text", f"{at}/lines", "a rule and a text")
    yield from _faults_of_chains(bill, place)
    for path in bill["flow"]["paths"]:
        drop, speed = (path["drop_kpa"], path["limit_kpa"]), (path["peak_m_s"], path["limit_m_s"])
        for figure, (found, most) in (("drop_kpa", drop), ("peak_m_s", speed)):
            if found > most * (1 + _FIGURES):
                what = (
                    f"bill {place} is over its limit on the {path['duty']} path: {figure} is {found} of at most {most}"
                )
                yield Broken(what, f"{at}/flow/paths", f"at most {most}", str(found))


def _faults_of_chains(bill: FoundBill, place: int) -> Iterator[Broken]:
    at, listed = f"#/bills/{place - 1}", {line["sku"] for line in bill["lines"]}
    for spot, duty in bill["duties"].items():
        if duty != "link" and spot not in bill["chains"]:  # a link's chain stands at one of its ends
            yield Broken(f"bill {place} says nothing of what goes into the {spot} spot", f"{at}/chains", spot)
    for spot, chain in bill["chains"].items():
        for sku in chain:
            if sku not in listed:
                what = f"bill {place} has {sku} at the {spot} spot, but no line for it"
                yield Broken(what, f"{at}/lines", f"a line for {sku}", "none")


def faults_of_power(power: FoundPower, at: str) -> Iterator[Broken]:
    """What is wrong with a power answer by itself: what it carries is its least limit, its verdict goes by that."""
    carries, asked = power["carries_kw"], power["asked_kw"]
    least = min((limit["kw"] for limit in power["limits"]), default=None)
    if (carries is None) is not (least is None) or (carries and least and abs(carries - least) > _FIGURES * least):
        what = f"a bill carries {carries} kW, but its least limit is {least} kW"
        yield Broken(what, f"{at}/carries_kw", str(least), str(carries))
        return
    if carries is None or least is None:
        return
    stops = [limit["what"] for limit in power["limits"] if limit["kw"] <= least * (1 + _FIGURES)]
    if power["limited_by"] not in stops:
        what = f"a bill is said to be limited by {power['limited_by']}, not by its least limit"
        yield Broken(what, f"{at}/limited_by", " or ".join(stops), str(power["limited_by"]))
    ranks = {"ok": 0, "tight": 1, "over": 2}
    lower, upper = (_verdict(carries * scale, asked, power["reserve"]) for scale in (1 + _FIGURES, 1 - _FIGURES))
    if not ranks[lower] <= ranks[power["verdict"]] <= ranks[upper]:
        what = f"a power of {asked} kW is told to be {power['verdict']} where {carries} kW are carried"
        yield Broken(what, f"{at}/verdict", lower, power["verdict"])


def _verdict(carries_kw: float, asked_kw: float, reserve: float) -> str:
    if asked_kw > carries_kw:
        return "over"
    return "tight" if asked_kw * (1 + reserve) > carries_kw else "ok"


def broken_promises(answer: FoundAnswer, promises: FilePromises) -> Iterator[Broken]:
    """Which promises of a case an answer breaks."""
    bills = answer["bills"]
    if bool(bills) != promises.has_bill:
        got = f"{len(bills)} bills"
        if promises.has_bill:
            yield Broken("has no bill, but one is promised", "#/bills", "a bill", got)
        else:
            yield Broken(f"has {len(bills)} bills, but none is promised", "#/bills", "none", got)
        return
    if not bills:
        return
    first = bills[0]
    listed = {line["sku"] for line in first["lines"]}
    for sku in promises.contains or ():
        if sku not in listed:
            yield Broken(f"the first bill has no {sku}, which it is promised to contain", "#/bills/0/lines", sku)
    for place, bill in enumerate(bills, 1):
        for sku in sorted({line["sku"] for line in bill["lines"]} & set(promises.never_contains or ())):
            what = f"bill {place} contains {sku}, which is promised never to be there"
            yield Broken(what, f"#/bills/{place - 1}/lines", f"no {sku}", sku)
    price = promises.price
    if price is not None and not price.at_least <= first["price"] <= price.at_most:
        expected = f"{price.at_least} to {price.at_most}"
        what = f"the first bill costs {first['price']}, not {expected}"
        yield Broken(what, "#/bills/0/price", expected, str(first["price"]))
    if promises.key is not None and first["key"] != promises.key:
        what = "the first bill is not the very bill that is promised: its key is another"
        yield Broken(what, "#/bills/0/key", promises.key, first["key"])
