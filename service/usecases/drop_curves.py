"""Drop against power: the cheapest bill of each layout of a car, at rising demand."""

from collections.abc import Iterable
from math import ceil, floor, inf, log10

from service.assessment import drop_curve
from service.documents.drawing import DropCurve, DropCurves
from service.documents.money import money_of
from service.documents.request import BillRequest
from service.domain import units
from service.domain.answer import Bill
from service.domain.profiles import CurveEnds, DropPoint
from service.domain.request import Request
from service.explain.profiles import report_curve
from service.usecases.browse import find_chassis, find_fuel
from service.usecases.find_bills import key_maker
from service.usecases.library import Edition

_MOST_POINTS = 25
_STEPS = (1.0, 2.0, 2.5, 5.0, 10.0)
_UNKNOWN = 2.0
"""So many times the stock power a curve goes to where nobody knows what its bill carries."""


def drop_curves(
    edition: Edition, chassis_id: str, fuel_id: str | None = None, power_kw: float | None = None
) -> DropCurves:
    """The curves of a chassis, each to the power that its bill carries, or to a power [kW] before that.

    Raises NotFoundError for an unknown chassis or fuel.
    """
    chassis, fuel = find_chassis(edition, chassis_id), find_fuel(edition, fuel_id)
    requests = [Request(chassis, x, fuel, chassis.stock_kw, limit=1) for x in edition.revision.layouts.values()]
    cheapest = [(request, next(iter(edition.engine.answer(request).bills), None)) for request in requests]
    return {
        "revision": edition.number,
        **money_of(edition.revision),
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
    """Powers in round steps from nothing to an end [kW], the end included: 12 to 27, one where the end is nothing."""
    if end_kw <= 0:
        return [0.0]
    rough = end_kw / _MOST_POINTS
    tens = 10.0 ** floor(log10(rough))
    step = next(step * tens for step in _STEPS if step * tens >= rough * (1 - 1e-9))
    powers = [round(index * step, 9) for index in range(ceil(end_kw / step - 1e-9))]
    return [*powers, end_kw]


def _curve(edition: Edition, request: Request, bill: Bill, power_kw: float | None) -> DropCurve:
    assessed = edition.assessor.assess(bill, request)
    carries = assessed.power.carries_kw
    end_kw = min(power_kw or inf, request.chassis.stock_kw * _UNKNOWN if carries is None else carries)
    asked = {"chassis": request.chassis.id, "layout": request.layout.id, "fuel": request.fuel.id, "limit": 1}

    def points(powers_kw: Iterable[float | None]) -> tuple[DropPoint, ...]:
        return drop_curve(bill, request, edition.revision.policies, [kw for kw in powers_kw if kw is not None])

    def point(kw: float | None) -> DropPoint | None:
        return next(iter(points([kw])), None)

    return report_curve(
        bill,
        key_maker(edition.number, BillRequest.model_validate(asked))(bill),
        assessed,
        points(powers_up_to(end_kw)),
        CurveEnds(point(carries), point(assessed.sizing.power_kw)),
        request,
    )
