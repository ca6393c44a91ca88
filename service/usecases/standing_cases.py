"""Ask a standing case of another kind than bills of an edition: an order check, an explanation, layouts, an item, a
joint."""

import hashlib
from collections.abc import Callable, Hashable, Iterator, Mapping
from typing import Any

from service.documents import contract_kinds as kinds
from service.documents.answer import ChassisLayouts
from service.documents.contract_kinds import OtherCase
from service.documents.explain import ExplainRequest
from service.documents.joint import JointQuestion
from service.documents.money import money_of
from service.documents.nearest import nearest
from service.documents.order import OrderRequest
from service.documents.packed import PackedCatalog
from service.documents.rendering import rendered
from service.documents.request import BillRequest
from service.impact.footprint import Footprints
from service.impact.promised import unkept
from service.impact.seen import Seen
from service.usecases.bill_keys import NoKeyError
from service.usecases.browse import chassis_layouts
from service.usecases.check_order import check_order
from service.usecases.errors import NotFoundError, RequestFault, RequestFaultsError
from service.usecases.explain_part import explain_in
from service.usecases.join import join_in
from service.usecases.library import Edition
from service.usecases.order_footprint import order_footprint
from service.usecases.resolve_request import resolve_request

REFUSED = (RequestFaultsError, NotFoundError, NoKeyError)


def seen_of(case: OtherCase, edition: Edition) -> Seen:
    """What an edition makes of a case: the promises that it does not keep. Raises TooCostlyError."""
    try:
        answer = answer_to(case, edition)
    except REFUSED:
        answer = None
    return Seen(0, (), tuple((one.promise, one.what) for one in unkept(case, answer)))


def answer_to(case: OtherCase, edition: Edition) -> Mapping[str, Any] | None:
    """The answer of an edition to a case, as the API tells it; None: there is no such item.

    Raises RequestFaultsError, NotFoundError and NoKeyError for what the catalog does not understand, TooCostlyError.
    """
    return _ANSWERS[case.kind](edition, case.request)


def footprint_of(case: OtherCase, edition: Edition, footprints: Footprints) -> Hashable:
    """All that the answer to a case hangs on: the whole catalog, where words are promised; None where it is not
    understood."""
    if case.promises.must_say is not None:  # names and texts sway no bill, but they are in the answer
        return edition.catalog.digest()
    try:
        told = _FOOTPRINTS[case.kind](edition, case.request, footprints)
    except REFUSED:
        return None
    return told, edition.catalog.maker.currency


def faults_of_promises(case: OtherCase, edition: Edition) -> Iterator[RequestFault]:
    """What a case promises of parts and layouts that the catalog has not: it would never be kept."""
    known = {
        "bridged_by": ("the sku of an item", edition.revision.items),
        "with_bills": ("the id of a layout", edition.revision.layouts),
        "without_bills": ("the id of a layout", edition.revision.layouts),
        "layout": ("the id of a layout", edition.revision.layouts),
    }
    for name, (expected, ids) in known.items():
        given = getattr(case.promises, name, None) or ()
        for place, value in [("", given)] if isinstance(given, str) else [(f"/{x}", y) for x, y in enumerate(given)]:
            if value not in ids:
                yield RequestFault(f"/promises/{name}{place}", rendered(value), expected, tuple(nearest(value, ids)))


def _item(edition: Edition, asked: kinds.ItemQuestion) -> Mapping[str, Any] | None:
    item = edition.catalog.items.get(edition.revision.sku_of(asked.sku))
    return None if item is None else item.model_dump(mode="json") | {"currency": edition.revision.currency}


def _layouts(edition: Edition, asked: kinds.CarQuestion) -> ChassisLayouts:
    wishes = asked.model_dump(exclude_unset=True, exclude={"chassis", "revision"})
    return {
        "revision": edition.number,
        **money_of(edition.revision),
        "chassis": asked.chassis,
        "layouts": chassis_layouts(edition, asked.chassis, wishes),
    }


_ANSWERS: dict[str, Callable[[Edition, Any], Mapping[str, Any] | None]] = {
    "item": _item,
    "order_check": check_order,
    "explain": explain_in,
    "layouts": _layouts,
    "joint": join_in,
}


def _of_item(edition: Edition, asked: kinds.ItemQuestion, _: Footprints) -> Hashable:
    return edition.catalog.items.texts.get(edition.revision.sku_of(asked.sku))


def _of_part(edition: Edition, asked: ExplainRequest, footprints: Footprints) -> Hashable:
    own = edition.catalog.items.texts.get(edition.revision.sku_of(asked.sku))
    return own, footprints.of(resolve_request(asked.request, edition.revision)), _ports(edition)


def _of_layouts(edition: Edition, asked: kinds.CarQuestion, footprints: Footprints) -> Hashable:
    wishes = asked.model_dump(exclude_unset=True, exclude={"revision"})
    questions = [BillRequest.model_validate(wishes | {"layout": layout}) for layout in edition.revision.layouts]
    return tuple(footprints.of(resolve_request(one, edition.revision)) for one in questions)


def _of_order(edition: Edition, asked: OrderRequest, footprints: Footprints) -> Hashable:
    return order_footprint(asked, edition, footprints)


def _of_joint(edition: Edition, _asked: JointQuestion, _: Footprints) -> Hashable:
    return edition.catalog.once(_digest_of_items), _ports(edition)


def _digest_of_items(catalog: PackedCatalog) -> bytes:
    """Any part may be in a bridge; a digest, as what is remembered keeps what it hangs on."""
    return hashlib.sha256("\n".join(catalog.texts["items"].values()).encode()).digest()


def _ports(edition: Edition) -> Hashable:
    texts = edition.catalog.texts
    return tuple(texts["port_standards"].values()), tuple(texts["joints"].values())


_FOOTPRINTS: dict[str, Callable[[Edition, Any, Footprints], Hashable]] = {
    "item": _of_item,
    "order_check": _of_order,
    "explain": _of_part,
    "layouts": _of_layouts,
    "joint": _of_joint,
}
