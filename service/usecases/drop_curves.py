"""Drop against power: the cheapest bill of each layout of a car, at rising demand."""

from math import ceil, floor, log10

from service.assessment import drop_curve
from service.documents.drawing import DropCurve, DropCurves
from service.documents.request import BillRequest
from service.domain import units
from service.domain.answer import Bill
from service.domain.request import Request
from service.explain.profiles import report_curve
from service.usecases.browse import find_chassis, find_fuel
from service.usecases.find_bills import key_maker
from service.usecases.library import Edition

_MOST_POINTS = 25
_STEPS = (1.0, 2.0, 2.5, 5.0, 10.0)
_BEYOND = 1.1
"""So many times the largest power a curve goes to, unless its end is told."""


def drop_curves(
    edition: Edition, chassis_id: str, fuel_id: str | None = None, power_kw: float | None = None
) -> DropCurves:
    """The curves of a chassis, each to past the largest power that its bill carries, or to a power [kW] that is told.

    Raises NotFoundError for an unknown chassis or fuel.
    """
    chassis, fuel = find_chassis(edition, chassis_id), find_fuel(edition, fuel_id)
    requests = [Request(chassis, x, fuel, chassis.stock_kw, limit=1) for x in edition.revision.layouts.values()]
    cheapest = [(request, next(iter(edition.engine.answer(request).bills), None)) for request in requests]
    return {
        "revision": edition.number,
        "currency": edition.revision.currency,
        "chassis": chassis.id,
        "name": chassis.name,
        "fuel": fuel.id,
        "fuel_name": fuel.name,
        "stock_kw": chassis.stock_kw,
        "curves": [_curve(edition, request, bill, power_kw) for request, bill in cheapest if bill is not None],
        "without_bill": [request.layout.id for request, bill in cheapest if bill is None],
        "text": (
            f"{chassis.name} on {fuel.name}, stock power {units.power(chassis.stock_kw)}: for each layout the cheapest "
            "bill at stock power, and of its paths the one that is nearest to its limit of drop, as part of that limit."
        ),
    }


def powers_up_to(end_kw: float) -> list[float]:
    """Powers in round steps from nothing to an end [kW], the end included; 12 to 27 of them."""
    rough = end_kw / _MOST_POINTS
    tens = 10.0 ** floor(log10(rough))
    step = next(step * tens for step in _STEPS if step * tens >= rough * (1 - 1e-9))
    powers = [round(index * step, 9) for index in range(ceil(end_kw / step - 1e-9))]
    return [*powers, end_kw]


def _curve(edition: Edition, request: Request, bill: Bill, power_kw: float | None) -> DropCurve:
    assessed = edition.assessor.assess(bill, request)
    policies = edition.revision.policies
    largest = assessed.sizing.power_kw
    end_kw = power_kw or _rounded_up(request.chassis.stock_kw * 2 if largest is None else largest * _BEYOND)
    asked = {"chassis": request.chassis.id, "layout": request.layout.id, "fuel": request.fuel.id, "limit": 1}
    return report_curve(
        bill,
        key_maker(edition.number, BillRequest.model_validate(asked))(bill),
        assessed.sizing,
        None if assessed.supply is None else assessed.supply.most_kw,
        drop_curve(bill, request, policies, powers_up_to(end_kw)),
        None if largest is None else drop_curve(bill, request, policies, [largest])[0],
        request,
    )


def _rounded_up(kw: float) -> float:
    """To two digits."""
    tens = 10.0 ** (floor(log10(kw)) - 1)
    return round(ceil(kw / tens - 1e-9) * tens, 9)
