"""The operating point of the pump on the plumbing of a bill, what it has left there, and where it runs out."""

from collections.abc import Iterator
from functools import lru_cache

from service.assessment.plumbing import Plumbing
from service.domain.assessment import Check, Supply
from service.domain.request import Request
from service.domain.revision import Fuel
from service.engineering import OperatingPoint, PumpCurve, hydraulic_power_w, operating_point, power_kw, warming_k
from service.solver.flows import bsfc_g_kwh
from service.solver.supply_limits import Place, SupplyLimits
from service.solver.system import System


def supply_of(plumbing: Plumbing, limits: SupplyLimits, request: Request, demand_l_h: float) -> Supply | None:
    """The operating point of the known pump; None where no pump is known.

    Where nothing returns, the lines carry what the engine burns, and what the pump moves beyond that goes back within
    the tank.
    """
    pump, most = request.pump, limits.pump
    if pump is None or most is None:
        return None
    fuel = request.fuel
    point = _settled(pump.as_fed, limits.held_kpa, demand_l_h, plumbing.system, plumbing.regulation.place)
    returned = max(0.0, point.flow_l_h - demand_l_h) if plumbing.returns else None
    density = fuel.fluid.density_kg_m3
    return Supply(
        own=request.has_own_curve,
        kpa=point.kpa,
        drop_kpa=point.kpa - limits.held_kpa,
        pump_l_h=point.flow_l_h,
        left_l_h=point.flow_l_h - demand_l_h,
        returned_l_h=returned,
        heat_w=hydraulic_power_w(point.flow_l_h if returned is None else returned, point.kpa),
        warming_k=_warming_k(point, request.fuel),
        most_l_h=most.flow_l_h,
        most_kw=power_kw(most.flow_l_h, bsfc_g_kwh(request), density),
    )


def pump_checks(supply: Supply | None) -> Iterator[Check]:
    """Yield the check of the pump against the power that is asked."""
    if supply is not None:
        facts = {"pump_l_h": supply.pump_l_h, "left_over_l_h": supply.left_l_h, "runs_out_kw": supply.most_kw}
        yield Check("pump", "caution" if supply.left_l_h < 0 else "ok", facts)


def _warming_k(point: OperatingPoint, fuel: Fuel) -> float | None:
    capacity = fuel.heat_capacity_j_kg_k
    if capacity is None or not point.flow_l_h:
        return None
    power_w = hydraulic_power_w(point.flow_l_h, point.kpa)
    return warming_k(power_w, point.flow_l_h, fuel.fluid.density_kg_m3, capacity)


@lru_cache(4096)
def _settled(curve: PumpCurve, held_kpa: float, demand_l_h: float, system: System, place: Place) -> OperatingPoint:
    if place == "tank":
        return OperatingPoint(curve.flow_l_h(held_kpa), held_kpa)
    if not system.returns:
        kpa = held_kpa + system.fed_drop_kpa(demand_l_h, demand_l_h)
        return OperatingPoint(curve.flow_l_h(kpa), kpa)
    after = place == "after"

    def drop_kpa(sent: float) -> float:
        lost = system.returned_drop_kpa(sent - demand_l_h) if after else 0.0
        return system.fed_drop_kpa(sent, demand_l_h) + lost

    return operating_point(curve, held_kpa, drop_kpa)
