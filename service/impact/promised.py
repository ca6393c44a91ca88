"""What a case promises of an answer, held to it: pure judgements over documents, of whichever way the answer came."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from service.documents import contract_kinds as kinds
from service.documents.contract import Priced, Timed
from service.documents.contract_kinds import PromiseName

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
        what = f"{sku} costs {item['price']}, not {expected}"
        yield Unkept("price", what, "#/result/price", expected, str(item["price"]))
    if promises.status is not None and item["status"] != promises.status:
        what = f"{sku} is {item['status']}, not {promises.status} as is promised"
        yield Unkept("status", what, "#/result/status", promises.status, item["status"])


def _order(promises: kinds.OrderPromises, answer: Answer) -> Iterator[Unkept]:
    yield from _told("verdict", "the verdict", "#/verdict", promises.verdict, answer["verdict"])
    yield from _told("layout", "the layout", "#/layout", promises.layout, answer["layout"])
    edits = answer.get("edits")
    if promises.edits is not None and (edits is None or edits > promises.edits):
        what = f"the order takes {edits} changes, more than the {promises.edits} promised"
        yield Unkept("edits", what, "#/edits", f"at most {promises.edits}", str(edits))


def _explain(promises: kinds.ExplainPromises, answer: Answer) -> Iterator[Unkept]:
    yield from _told("in_bills", "in_bills", "#/in_bills", promises.in_bills, answer["in_bills"])
    yield from _all_there("where", "where it stands", "#/where", promises.where, answer["where"])
    stops = [rule["rule"] for one in answer["verdicts"] if not one["stands"] for rule in one["rules"]]
    yield from _all_there("stopped_by", "what stops it", "#/verdicts", promises.stopped_by, stops)


def _layouts(promises: kinds.LayoutsPromises, answer: Answer) -> Iterator[Unkept]:
    having = [one["layout"] for one in answer["layouts"] if one["total_valid"]]
    without = [one["layout"] for one in answer["layouts"] if one["total_valid"] == 0]
    yield from _all_there("with_bills", "what has bills", "#/layouts", promises.with_bills, having)
    yield from _all_there("without_bills", "what has no bills", "#/layouts", promises.without_bills, without)


def _joint(promises: kinds.JointPromises, answer: Answer) -> Iterator[Unkept]:
    yield from _told("meets", "meets", "#/meets", promises.meets, answer["meets"])
    items = None if answer["bridge"] is None else answer["bridge"]["items"]
    yield from _told("bridged_by", "the bridge", "#/bridge/items", promises.bridged_by, items)


_JUDGED: dict[str, Callable[[Any, Answer], Iterator[Unkept]]] = {
    "item": _item,
    "order_check": _order,
    "explain": _explain,
    "layouts": _layouts,
    "joint": _joint,
}


def _told(promise: PromiseName, what: str, at: str, expected: Any, got: Any) -> Iterator[Unkept]:
    """A promise of one value; None: it is not promised."""
    if expected is not None and got != expected:
        yield Unkept(promise, f"{what} is {got}, not {expected} as is promised", at, str(expected), str(got))


def _all_there(
    promise: PromiseName, what: str, at: str, expected: Iterable[str] | None, got: list[str]
) -> Iterator[Unkept]:
    for one in expected or ():
        if one not in got:
            yield Unkept(promise, f"{what} lacks {one}, which is promised", at, one, ", ".join(got) or "nothing")
