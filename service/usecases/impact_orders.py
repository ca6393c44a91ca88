"""What a catalog does to the order checks that are kept: those that it judges otherwise than the one before."""

from collections.abc import Hashable

from pydantic import ValidationError

from service.documents import impact as doc
from service.documents.order import OrderRequest
from service.domain.work import TooCostlyError, metered
from service.impact.footprint import Footprints
from service.storage.order_checks import OrderCheckStore
from service.usecases.bill_keys import NoKeyError
from service.usecases.check_order import check_order
from service.usecases.errors import NotFoundError, RequestFaultsError
from service.usecases.impact import NewMeter, usual_meter
from service.usecases.keep_order_check import judgement
from service.usecases.library import Edition
from service.usecases.order_footprint import order_footprint

MOST_ORDERS = 1_000
"""So many kept order checks are looked at, the last ones."""
_CANNOT: list[object] = ["it cannot be judged"]
_REFUSED = (RequestFaultsError, NotFoundError, NoKeyError)


class OrderSide:
    """An edition that judges orders again."""

    def __init__(self, edition: Edition, new_meter: NewMeter = usual_meter) -> None:
        self._edition = edition
        self._new_meter = new_meter
        self._footprints = Footprints(edition.catalog, edition.revision)

    def footprint(self, asked: OrderRequest) -> Hashable:
        """Return all that the judgement of an order hangs on: the footprints of the questions that it makes, and the
        items that it names whole, with their successors; None where it cannot be judged."""
        try:
            return order_footprint(asked, self._edition, self._footprints)
        except _REFUSED:
            return None

    def judgement(self, asked: OrderRequest) -> list[object]:
        """Judge an order: verdict, layout and changes. Raises TooCostlyError."""
        try:
            with metered(self._new_meter()):
                return judgement(check_order(self._edition, asked))
        except _REFUSED:
            return _CANNOT


def orders_told(
    before: Edition, after: Edition, checks: OrderCheckStore | None, new_meter: NewMeter = usual_meter
) -> doc.ImpactOrders:
    """The document of the kept order checks that one edition judges otherwise than another."""
    old, new = OrderSide(before, new_meter), OrderSide(after, new_meter)
    looked_at, ids = 0, list[str]()
    for kept in () if checks is None else checks.page(MOST_ORDERS):
        try:
            if is_otherwise(OrderRequest.model_validate_json(kept.request), old, new):
                ids.append(kept.id)
        except (TooCostlyError, ValidationError):
            continue  # too much to judge again, or asked in a form that is not taken any more
        looked_at += 1
    return {"looked_at": looked_at, "otherwise": len(ids), "ids": ids}


def is_otherwise(asked: OrderRequest, old: OrderSide, new: OrderSide) -> bool:
    """Return whether an order is judged otherwise; it is judged only where what that hangs on differs. Raises
    TooCostlyError."""
    return old.footprint(asked) != new.footprint(asked) and old.judgement(asked) != new.judgement(asked)
