"""The check of the injectors against what the engine burns."""

from collections.abc import Iterator

from service.domain.assessment import Check
from service.domain.request import Request
from service.engineering import injector_flow_l_h, injectors_l_h, power_kw
from service.solver.flows import bsfc_g_kwh
from service.solver.supply_limits import InjectorPoint


def injector_checks(point: InjectorPoint | None, request: Request, demand_l_h: float) -> Iterator[Check]:
    """Yield the check of the demand against the most that the injectors deliver, where these are known."""
    told, count = request.injectors, request.chassis.cylinders
    if told is None or point is None:
        return
    static = injector_flow_l_h(told.static_l_h, told.rated_kpa, point.over_kpa)
    facts = {
        "count": count,
        "kpa": point.over_kpa,
        "static_l_h": static,
        "duty": demand_l_h / injectors_l_h(count, static, 1.0) if static else None,
        "max_duty": told.max_duty,
        "runs_out_kw": power_kw(point.flow_l_h, bsfc_g_kwh(request), request.fuel.fluid.density_kg_m3),
    }
    yield Check("injectors", "caution" if demand_l_h > point.flow_l_h else "ok", facts)
