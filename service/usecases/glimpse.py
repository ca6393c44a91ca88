"""A glimpse of a request: what its first bill costs and carries, and what each spot does in it."""

from collections.abc import Sequence
from typing import NamedTuple

from service.documents.answer import Power
from service.documents.request import BillRequest
from service.domain.vehicles import Duty
from service.domain.work import TooCostlyError, part, spend
from service.explain.power import power_told
from service.usecases.alternatives import STEPS_OF_A_BILL
from service.usecases.library import Edition
from service.usecases.long_work import begin_long_work
from service.usecases.resolve_request import resolve_request, with_skus


class Glimpse(NamedTuple):
    """Price in minor units; `total_valid`: how many bills there are."""

    price: int
    power: Power
    duties: dict[str, Duty]
    total_valid: int


def glimpse(edition: Edition, request: BillRequest) -> Glimpse | None:
    """What the first bill of a request comes to; None where there is none. Raises RequestFaultsError."""
    asked = request.model_copy(update={"limit": 1})
    resolved = resolve_request(with_skus(asked, edition.revision), edition.revision)
    answer = edition.engine.answer(resolved)
    bill = next(iter(answer.bills), None)
    if bill is None:
        return None
    spend(STEPS_OF_A_BILL, "bills")
    power = power_told(edition.assessor.power(bill, resolved))
    return Glimpse(bill.price, power, dict(bill.duties), answer.total_valid)


def glimpses(edition: Edition, requests: Sequence[BillRequest]) -> list[Glimpse | None]:
    """A glimpse of each request; None of one that takes too much work beside the others. Raises RequestFaultsError."""
    found: list[Glimpse | None] = []
    for place, request in enumerate(requests):
        try:
            with part(len(requests) - place):
                found.append(glimpse(edition, request))
        except TooCostlyError:
            begin_long_work()  # what took too much of a few steps may not take too much of many
            found.append(None)
    return found
