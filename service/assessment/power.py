"""The power answer of a bill: its plumbing, pump and injectors as powers, the least of which it carries."""

from collections.abc import Iterator, Mapping, Sequence
from math import inf
from typing import Any

from service.assessment.plumbing import Plumbing
from service.domain.assessment import Sizing
from service.domain.parts import Item
from service.domain.power import USUAL_RESERVE, Power, PowerLimit
from service.domain.request import Request
from service.domain.revision import Policies
from service.engineering import power_kw
from service.solver.flows import bsfc_g_kwh
from service.solver.supply_limits import Supplied, SupplyLimits, regulation, supply_limits


def limits_of(plumbing: Plumbing, sizing: Sizing, request: Request) -> SupplyLimits:
    """What pump and injectors supply through the plumbing of a bill."""
    most = inf if sizing.demand_l_h is None else sizing.demand_l_h
    return supply_limits(plumbing.system, plumbing.regulation, Supplied.of(request), most)


def power_of(
    plumbing: Plumbing, supplied: SupplyLimits, limits: tuple[PowerLimit, ...], request: Request, policies: Policies
) -> Power:
    """The power answer of a bill of a request, which carries the least of its limits."""
    reserve = policies.power_reserve
    return Power(
        asked_kw=request.power_kw,
        assumed=not request.power_told,
        limits=limits,
        reserve=USUAL_RESERVE if reserve is None else reserve,
        boost_kpa=request.boost_kpa,
        set_kpa=request.regulated_kpa,
        follows=plumbing.regulation.follows,
        as_follows=supplied.follows,
        hangs=supplied.hangs,
        unset=tuple(_unset(plumbing.regulators, request.regulated_kpa)),
        apart=_apart(plumbing.regulators, request),
    )


def power_limits(plumbing: Plumbing, sizing: Sizing, limits: SupplyLimits, request: Request) -> Iterator[PowerLimit]:
    """The limits that are told, whatever power the request asks."""
    facts: dict[str, Any]
    per_kw = (bsfc_g_kwh(request), request.fuel.fluid.density_kg_m3)
    if sizing.demand_l_h is not None and sizing.power_kw is not None and sizing.limiting is not None:
        facts = {
            "demand_l_h": sizing.demand_l_h,
            "duty": sizing.limiting.duty,
            "spots": list(sizing.limiting.spots),
            "limit": sizing.limiting.bound,
        }
        yield PowerLimit("plumbing", sizing.power_kw, facts)
    held: dict[str, Any] = {
        "held_kpa": limits.held_kpa,
        "held_at": plumbing.regulation.place,
        "boost_kpa": request.boost_kpa,
    }
    if limits.pump is not None:
        curve = "request" if request.has_own_curve else "chassis"
        facts = {"flow_l_h": limits.pump.flow_l_h, "outlet_kpa": limits.pump.kpa, "pump": curve, **held}
        yield PowerLimit("pump", power_kw(limits.pump.flow_l_h, *per_kw), facts)
    if limits.injectors is not None and request.injectors is not None:
        told = request.injectors
        facts = {
            "flow_l_h": limits.injectors.flow_l_h,
            "over_kpa": limits.injectors.over_kpa,
            "count": request.chassis.cylinders,
            "static_l_h": told.static_l_h,
            "rated_kpa": told.rated_kpa,
            "max_duty": told.max_duty,
            "injectors": "chassis" if request.own_injectors is None else "request",
            **held,
        }
        yield PowerLimit("injectors", power_kw(limits.injectors.flow_l_h, *per_kw), facts)


def _unset(regulators: Sequence[Item], set_kpa: float) -> Iterator[Mapping[str, Any]]:
    """Those of the regulators that are not made for the set pressure."""
    for regulator in regulators:
        told = regulator.regulates
        if told is not None and not told.min_kpa <= set_kpa <= told.max_kpa:
            yield {
                "sku": regulator.sku,
                "part": regulator.name,
                "set_kpa": set_kpa,
                "min_kpa": told.min_kpa,
                "max_kpa": told.max_kpa,
            }


def _apart(regulators: Sequence[Item], request: Request) -> Mapping[str, Any] | None:
    """What each regulator follows where that differs and boost makes it matter."""
    follows = [regulation(request, item, returns=True).follows or "not told" for item in regulators]
    if not request.boost_kpa or len(set(follows)) < 2:
        return None
    return {"skus": [item.sku for item in regulators], "follows": follows, "boost_kpa": request.boost_kpa}
