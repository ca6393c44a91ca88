"""A case held to a deployment: its question is asked, and the answer is judged by what the case promises."""

import time
from collections.abc import Callable, Iterator
from statistics import median
from typing import Any

from service.client import Call, ClientError, NotFoundError
from service.contract import operations, sections
from service.contract.answers import broken_promises, faults_of_answer
from service.contract.outcomes import Broken
from service.contract.site import Site
from service.documents import contract_kinds as kinds
from service.documents.answer import ChassisLayouts
from service.documents.contract import FileCase, Timed
from service.documents.contract_kinds import AnyCase
from service.documents.fields import Document
from service.impact.promised import Unkept, unkept, unkept_of_every_kind

_TIMES = 5
_OWN_RAIL = "own-rail"


def judged(site: Site, case: AnyCase) -> Iterator[Broken]:
    """Yield what is wrong with the answer to a case, by itself and by what the case promises."""
    if isinstance(case, FileCase):
        yield from _bills(site, case)
        return
    call = _CALLS[case.kind](case.request)
    try:
        answer = site.ask(call)
    except NotFoundError:
        if not isinstance(case, kinds.ItemCase):
            raise
        yield from map(_broken, unkept(case, None))
        return
    told = answer
    if isinstance(case, kinds.ItemCase):
        told = answer.result.model_dump(mode="json") | {"currency": answer.currency}
    yield from map(_broken, unkept(case, told))
    yield from _in_time(site, case.promises, call)


def _broken(one: Unkept) -> Broken:
    return Broken(one.what, one.at, one.expected, one.got)


def _bills(site: Site, case: FileCase) -> Iterator[Broken]:
    call = operations.find_bills(case.request.model_dump(exclude_unset=True))
    answer = site.ask(call)
    yield from faults_of_answer(answer, case.request)
    promises, asked = case.promises, site.watch.last
    if promises.key is not None and promises.key not in [bill["key"] for bill in answer["bills"]]:
        promises = promises.model_copy(update={"key": _as_given_now(site, promises.key)})
        site.watch.last = asked
    yield from broken_promises(answer, promises)
    yield from map(_broken, unkept_of_every_kind(promises, answer))
    yield from _in_time(site, promises, call)
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


def _in_time(site: Site, promises: Timed, call: Call[Any]) -> Iterator[Broken]:
    """How long the answer takes, where that is promised."""
    if promises.max_ms is None:
        return
    took_ms = median(_took_ms(site, call) for _ in range(_TIMES))
    site.note = f"median of {_TIMES} answers: {took_ms:.0f} ms of at most {promises.max_ms} ms"
    if took_ms > promises.max_ms:
        what = f"the median of {_TIMES} answers takes {took_ms:.0f} ms, more than the {promises.max_ms} ms promised"
        yield Broken(what, "", f"at most {promises.max_ms} ms", f"{took_ms:.0f} ms")


def _took_ms(site: Site, call: Call[Any]) -> float:
    began = time.perf_counter()
    site.client.send(call)
    return (time.perf_counter() - began) * 1_000


def _asked(request: Document) -> dict[str, Any]:
    return request.model_dump(mode="json", exclude_unset=True)


def _layouts(request: kinds.CarQuestion) -> Call[ChassisLayouts]:
    asked = _asked(request)
    chassis, revision = asked.pop("chassis"), asked.pop("revision", None)
    return operations.chassis_layouts(chassis, asked, revision=revision)


_CALLS: dict[str, Callable[[Any], Call[Any]]] = {
    "order_check": lambda request: operations.check_order(_asked(request)),
    "explain": lambda request: operations.explain(_asked(request)),
    "layouts": _layouts,
    "item": lambda request: operations.detail(sections.ITEMS, request.sku, revision=request.revision),
    "joint": lambda request: operations.join(_asked(request)),
}
"""By kind what is asked of the API."""
