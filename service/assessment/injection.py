"""Whether the injectors of the car deliver what the engine burns."""

from collections.abc import Iterator

from service.domain.assessment import Check
from service.domain.request import Request
from service.engineering import injector_flow_l_h, injectors_l_h, power_kw
from service.solver.flows import bsfc_g_kwh


def injector_checks(request: Request, demand_l_h: float) -> Iterator[Check]:
    """The demand beside the most that the injectors deliver; nothing where the car's are not told.

    The regulator follows the manifold, so that over an injector there is base pressure, boosted or not.
    """
    injectors, count = request.chassis.injectors, request.chassis.cylinders
    if injectors is None or not count:
        return
    static = injector_flow_l_h(injectors.flow.static_l_h, injectors.flow.rated_kpa, request.chassis.base_kpa)
    most = injectors_l_h(count, static, injectors.flow.max_duty)
    facts = {
        "count": count,
        "kpa": request.chassis.base_kpa,
        "static_l_h": static,
        "duty": demand_l_h / injectors_l_h(count, static, 1.0) if static else None,
        "max_duty": injectors.flow.max_duty,
        "runs_out_kw": power_kw(most, bsfc_g_kwh(request), request.fuel.fluid.density_kg_m3),
    }
    yield Check("injectors", "caution" if demand_l_h > most else "ok", facts)
