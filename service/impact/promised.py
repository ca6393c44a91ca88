"""What a case promises of an answer, held to it: pure judgements over documents, of whichever way the answer came."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from service.documents import contract_kinds as kinds
from service.documents.contract import Priced, Timed
from service.documents.contract_kinds import PromiseName
from service.domain.money import priced

Answer = Mapping[str, Any]


@dataclass(frozen=True)
class Unkept:
    """A promise that an answer does not keep: what in a sentence, where in the answer, what was expected, what came."""

    promise: PromiseName
    what: str
    at: str
    expected: str
    got: str


def names_promised(promises: Timed) -> frozenset[str]:
    """The names of what is promised, as they are told; without the time, which no catalog keeps or breaks."""
    given = promises.model_dump(exclude_none=True).keys() - {"max_ms"}
    return frozenset("keyed" if name == "key" else name for name in given)


def unkept(case: kinds.OtherCase, answer: Answer | None) -> Iterator[Unkept]:
    """Yield the promises that an answer does not keep; None: there is no such item, or the question has no sense."""
    if answer is None:
        yield from _without_answer(case)
        return
    if isinstance(case, kinds.ItemCase) and not case.promises.exists:
        sku = case.request.sku
        yield Unkept("exists", f"there is an item {sku}, which is promised not to exist", "", "404", sku)
        return
    yield from _JUDGED[case.kind](case.promises, answer)
    yield from unkept_of_every_kind(case.promises, answer)


def unkept_of_every_kind(promises: Timed, answer: Answer) -> Iterator[Unkept]:
    """What may be promised of any answer, but its time: its currency, and words in it."""
    currency = promises.currency if isinstance(promises, Priced) else None
    if currency is not None and answer["currency"] != currency:
        what = "the answer is in another currency than is promised"
        yield Unkept("currency", what, "#/currency", currency, answer["currency"])
    for words in promises.must_say or ():
        if not any(words in text for text in texts(answer)):
            yield Unkept("must_say", f"the answer does not say “{words}”", "", words, "no such text")


def texts(told: Any) -> Iterator[str]:
    """Every text in a document."""
    if isinstance(told, str):
        yield told
    elif isinstance(told, Mapping):
        for one in told.values():
            yield from texts(one)
    elif isinstance(told, list | tuple):
        for one in told:
            yield from texts(one)


def _without_answer(case: kinds.OtherCase) -> Iterator[Unkept]:
    if isinstance(case, kinds.ItemCase):
        if case.promises.exists:
            sku = case.request.sku
            yield Unkept("exists", f"there is no item {sku}, which is promised to exist", "", sku, "404")
        return
    for name in kinds.PROMISES:
        if name in names_promised(case.promises):
            yield Unkept(name, "what it asks is not understood any more", "", "an answer", "none")


def _item(promises: kinds.ItemPromises, item: Answer) -> Iterator[Unkept]:
    price, sku = promises.price, item["sku"]
    if price is not None and not price.at_least <= item["price"] <= price.at_most:
        expected = f"{price.at_least} to {price.at_most}"
        least, most, costs = (priced(x, item["currency"]) for x in (price.at_least, price.at_most, item["price"]))
        what = f"{sku} costs {costs}, not {least} to {most} as is promised"
        yield Unkept("price", what, "#/result/price", expected, str(item["price"]))
    if promises.status is not None and item["status"] != promises.status:
        what = f"{sku} is {item['status']}, not {promises.status} as is promised"
        yield Unkept("status", what, "#/result/status", promises.status, item["status"])


def _order(promises: kinds.OrderPromises, answer: Answer) -> Iterator[Unkept]:
    yield from _told("verdict", "the verdict", "#/verdict", promises.verdict, answer["verdict"])
    yield from _told("layout", "the layout", "#/layout", promises.layout, answer["layout"])
    edits = answer.get("edits")
    if promises.edits is not None and (edits is None or edits > promises.edits):
        changes = "1 change" if edits == 1 else f"{edits} changes"
        what = f"the order takes {changes}, more than the {promises.edits} promised"
        if edits is None:
            what = f"no bill is valid, though an order with at most {promises.edits} to change is promised"
        yield Unkept("edits", what, "#/edits", f"at most {promises.edits}", str(edits))


def _explain(promises: kinds.ExplainPromises, answer: Answer) -> Iterator[Unkept]:
    stands = "a bill has the part, though none is promised to"
    lacks = "no bill has the part, though one is promised to"
    yield from _so("in_bills", "#/in_bills", promises.in_bills, answer["in_bills"], stands, lacks)
    for one in _lacking(promises.where, answer["where"]):
        where = "as its rail" if one == "rail" else f"at {one}"
        yield _lacks("where", f"no bill has the part {where}, though that is promised", "#/where", one, answer["where"])
    stops = [rule["rule"] for one in answer["verdicts"] if not one["stands"] for rule in one["rules"]]
    for one in _lacking(promises.stopped_by, stops):
        yield _lacks(
            "stopped_by", f"the rule {one} stops the part nowhere, though that is promised", "#/verdicts", one, stops
        )


def _layouts(promises: kinds.LayoutsPromises, answer: Answer) -> Iterator[Unkept]:
    having = [one["layout"] for one in answer["layouts"] if one["total_valid"]]
    without = [one["layout"] for one in answer["layouts"] if one["total_valid"] == 0]
    for one in _lacking(promises.with_bills, having):
        what = f"the layout {one} has no bill, though it is promised to have one"
        yield _lacks("with_bills", what, "#/layouts", one, having)
    for one in _lacking(promises.without_bills, without):
        has = "has a bill" if one in having else "is none of the car"
        what = f"the layout {one} {has}, though it is promised to be one without a bill"
        yield _lacks("without_bills", what, "#/layouts", one, without)


def _joint(promises: kinds.JointPromises, answer: Answer) -> Iterator[Unkept]:
    meet = "the two meet, though they are promised not to"
    apart = "the two do not meet, though they are promised to"
    yield from _so("meets", "#/meets", promises.meets, answer["meets"], meet, apart)
    items = None if answer["bridge"] is None else answer["bridge"]["items"]
    if promises.bridged_by is not None and items != promises.bridged_by:
        asked = ", ".join(promises.bridged_by)
        what = f"the two are bridged by {', '.join(items)}, not by" if items else "nothing bridges the two, not"
        yield Unkept(
            "bridged_by", f"{what} {asked} as is promised", "#/bridge/items", str(promises.bridged_by), str(items)
        )


_JUDGED: dict[str, Callable[[Any, Answer], Iterator[Unkept]]] = {
    "item": _item,
    "order_check": _order,
    "explain": _explain,
    "layouts": _layouts,
    "joint": _joint,
}


def _told(promise: PromiseName, what: str, at: str, expected: str | None, got: str | None) -> Iterator[Unkept]:
    """A promise of one word; None: it is not promised."""
    if expected is not None and got != expected:
        yield Unkept(promise, f"{what} is {got or 'none'}, not {expected} as is promised", at, expected, str(got))


def _so(promise: PromiseName, at: str, expected: bool | None, got: bool, so: str, not_so: str) -> Iterator[Unkept]:
    """A promise that something is so, or is not; None: it is not promised."""
    if expected is not None and got is not expected:
        yield Unkept(promise, so if got else not_so, at, str(expected), str(got))


def _lacking(expected: Iterable[str] | None, got: list[str]) -> list[str]:
    return [one for one in expected or () if one not in got]


def _lacks(promise: PromiseName, what: str, at: str, expected: str, got: list[str]) -> Unkept:
    return Unkept(promise, what, at, expected, ", ".join(got) or "nothing")
