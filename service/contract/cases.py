"""A case held to a deployment: its question is asked, and the answer is judged by what the case promises."""

import time
from collections.abc import Callable, Iterator, Mapping
from statistics import median
from typing import Any

from service.client import Call, ClientError, NotFoundError
from service.contract import operations, sections
from service.contract.answers import broken_promises, faults_of_answer
from service.contract.outcomes import Broken
from service.contract.questions import texts
from service.contract.site import Site
from service.documents import contract_kinds as kinds
from service.documents.answer import ChassisLayouts
from service.documents.contract import FileCase
from service.documents.contract_kinds import AnyCase
from service.documents.explain import Explanation
from service.documents.joint import JointAnswer
from service.documents.order_answer import OrderCheck

_TIMES = 5
_OWN_RAIL = "own-rail"


def judged(site: Site, case: AnyCase) -> Iterator[Broken]:
    """Yield what is wrong with the answer to a case, by itself and by what the case promises."""
    if isinstance(case, FileCase):
        yield from _bills(site, case)
    elif isinstance(case, kinds.ItemCase):
        yield from _item(site, case)
    else:
        call, judge = _KINDS[case.kind](case)
        answer = site.ask(call)
        yield from judge(answer)
        yield from _of_every_kind(site, case, call, answer)


def _bills(site: Site, case: FileCase) -> Iterator[Broken]:
    call = operations.find_bills(case.request.model_dump(exclude_unset=True))
    answer = site.ask(call)
    yield from faults_of_answer(answer, case.request)
    promises, asked = case.promises, site.watch.last
    if promises.key is not None and promises.key not in [bill["key"] for bill in answer["bills"]]:
        promises = promises.model_copy(update={"key": _as_given_now(site, promises.key)})
        site.watch.last = asked
    yield from broken_promises(answer, promises)
    yield from _of_every_kind(site, case, call, answer)
    listed = {line["sku"] for bill in answer["bills"] for line in bill["lines"]} | {_OWN_RAIL}
    named = {*(promises.contains or ()), *(promises.never_contains or ())}
    yield from _unknown(site, sorted(named - listed), case.request.revision)


def _unknown(site: Site, skus: list[str], revision: int | None) -> Iterator[Broken]:
    """A promise of a part that the catalog has not: it holds of nothing, so that it would never be seen to break."""
    for sku in skus:
        try:
            site.ask(operations.detail(sections.ITEMS, sku, revision=revision))
        except NotFoundError:
            yield Broken(
                f"the case names {sku}, which is no item of the catalog", "promises", "the sku of an item", sku
            )


def _as_given_now(site: Site, key: str) -> str:
    """A key that was given in an earlier format as it is given now; what names no bill stays as it is."""
    try:
        return site.ask(operations.recall_bill(key))["bill"]["key"]
    except ClientError:
        return key


def _of_every_kind(site: Site, case: AnyCase, call: Call[Any], answer: Mapping[str, Any]) -> Iterator[Broken]:
    """What may be promised of any answer: its currency, words in it, and how long it takes."""
    promises = case.promises
    currency = promises.currency if isinstance(promises, kinds.Priced) else None
    if currency is not None and answer["currency"] != currency:
        yield Broken("the answer is in another currency than is promised", "#/currency", currency, answer["currency"])
    if not isinstance(promises, kinds.Timed):
        return
    for words in promises.must_say or ():
        if not any(words in text for text in texts(dict(answer))):
            yield Broken(f"the answer does not say “{words}”", "", words, "no such text")
    if promises.max_ms is not None:
        took_ms = median(_took_ms(site, call) for _ in range(_TIMES))
        site.note = f"median of {_TIMES} answers: {took_ms:.0f} ms of at most {promises.max_ms} ms"
        if took_ms > promises.max_ms:
            what = f"the median of {_TIMES} answers takes {took_ms:.0f} ms, more than the {promises.max_ms} ms promised"
            yield Broken(what, "", f"at most {promises.max_ms} ms", f"{took_ms:.0f} ms")


def _took_ms(site: Site, call: Call[Any]) -> float:
    began = time.perf_counter()
    site.client.send(call)
    return (time.perf_counter() - began) * 1_000


def _item(site: Site, case: kinds.ItemCase) -> Iterator[Broken]:
    promises, sku = case.promises, case.request.sku
    call = operations.detail(sections.ITEMS, sku, revision=case.request.revision)
    try:
        item = site.ask(call).result
    except NotFoundError:
        if promises.exists:
            yield Broken(f"there is no item {sku}, which is promised to exist", "", sku, "404")
        return
    if not promises.exists:
        yield Broken(f"there is an item {sku}, which is promised not to exist", "", "404", sku)
        return
    price = promises.price
    if price is not None and not price.at_least <= item.price <= price.at_most:
        expected = f"{price.at_least} to {price.at_most}"
        yield Broken(f"{sku} costs {item.price}, not {expected}", "#/result/price", expected, str(item.price))
    if promises.status is not None and item.status != promises.status:
        what = f"{sku} is {item.status}, not {promises.status} as is promised"
        yield Broken(what, "#/result/status", promises.status, item.status)
    yield from _of_every_kind(site, case, call, item.model_dump(mode="json"))


def _told(what: str, at: str, expected: Any, got: Any) -> Iterator[Broken]:
    """A promise of one value; None: it is not promised."""
    if expected is not None and got != expected:
        yield Broken(f"{what} is {got}, not {expected} as is promised", at, str(expected), str(got))


def _all_there(what: str, at: str, expected: list[str] | None, got: list[str]) -> Iterator[Broken]:
    for one in expected or ():
        if one not in got:
            yield Broken(f"{what} lacks {one}, which is promised", at, one, ", ".join(got) or "nothing")


def _order(case: kinds.OrderCase) -> tuple[Call[OrderCheck], Callable[[OrderCheck], Iterator[Broken]]]:
    promises = case.promises

    def judge(answer: OrderCheck) -> Iterator[Broken]:
        yield from _told("the verdict", "#/verdict", promises.verdict, answer["verdict"])
        yield from _told("the layout", "#/layout", promises.layout, answer["layout"])
        edits = answer.get("edits")
        if promises.edits is not None and (edits is None or edits > promises.edits):
            what = f"the order takes {edits} changes, more than the {promises.edits} promised"
            yield Broken(what, "#/edits", f"at most {promises.edits}", str(edits))

    return operations.check_order(case.request.model_dump(mode="json", exclude_unset=True)), judge


def _explain(case: kinds.ExplainCase) -> tuple[Call[Explanation], Callable[[Explanation], Iterator[Broken]]]:
    promises = case.promises

    def judge(answer: Explanation) -> Iterator[Broken]:
        yield from _told("in_bills", "#/in_bills", promises.in_bills, answer["in_bills"])
        yield from _all_there("where it stands", "#/where", promises.where, answer["where"])
        stops = [rule["rule"] for one in answer["verdicts"] if not one["stands"] for rule in one["rules"]]
        yield from _all_there("what stops it", "#/verdicts", promises.stopped_by, stops)

    return operations.explain(case.request.model_dump(mode="json", exclude_unset=True)), judge


def _layouts(case: kinds.LayoutsCase) -> tuple[Call[ChassisLayouts], Callable[[ChassisLayouts], Iterator[Broken]]]:
    promises = case.promises
    asked = case.request.model_dump(mode="json", exclude_unset=True)
    chassis, revision = asked.pop("chassis"), asked.pop("revision", None)

    def judge(answer: ChassisLayouts) -> Iterator[Broken]:
        having = [one["layout"] for one in answer["layouts"] if one["total_valid"]]
        without = [one["layout"] for one in answer["layouts"] if one["total_valid"] == 0]
        yield from _all_there("what has bills", "#/layouts", promises.with_bills, having)
        yield from _all_there("what has no bills", "#/layouts", promises.without_bills, without)

    return operations.chassis_layouts(chassis, asked, revision=revision), judge


def _joint(case: kinds.JointCase) -> tuple[Call[JointAnswer], Callable[[JointAnswer], Iterator[Broken]]]:
    promises = case.promises

    def judge(answer: JointAnswer) -> Iterator[Broken]:
        yield from _told("meets", "#/meets", promises.meets, answer["meets"])
        bridge = answer["bridge"]
        yield from _told(
            "the bridge", "#/bridge/items", promises.bridged_by, None if bridge is None else bridge["items"]
        )

    return operations.join(case.request.model_dump(mode="json", exclude_unset=True)), judge


_KINDS: dict[str, Callable[[Any], tuple[Call[Any], Callable[[Any], Iterator[Broken]]]]] = {
    "order_check": _order,
    "explain": _explain,
    "layouts": _layouts,
    "joint": _joint,
}
