"""Where the pump settles on the plumbing of a bill, what it has left, and when it runs out."""

from collections.abc import Callable, Iterator
from functools import lru_cache
from typing import NamedTuple

from service.assessment.plumbing import Paths, Plumbing
from service.domain.assessment import Check, Supply
from service.domain.request import Request
from service.domain.revision import Fuel
from service.engineering import OperatingPoint, PumpCurve, hydraulic_power_w, operating_point, power_kw, warming_k
from service.hydraulics import Fluid, Passage, drop_pa, merged, share_flow
from service.solver.flows import KPA, M3_S, bsfc_g_kwh


class _Ways(NamedTuple):
    """What fuel runs through on paths that share a flow."""

    fluid: Fluid
    passages: tuple[tuple[Passage, ...], ...]

    def drop_kpa(self, l_h: float) -> float:
        drops = [self._drop(way) for way in self.passages]
        if len(drops) == 1:
            return drops[0](l_h)
        if len(set(self.passages)) == 1:  # alike, they share alike
            return drops[0](l_h / len(drops))
        return max(drop(share) for drop, share in zip(drops, share_flow(drops, l_h), strict=True))

    def _drop(self, way: tuple[Passage, ...]) -> Callable[[float], float]:
        return lambda l_h: sum([drop_pa(passage, self.fluid, l_h * M3_S) for passage in way]) * KPA


class _System(NamedTuple):
    """What the pump works against besides the pressure that is held; ways of one duty lie beside one another."""

    feeds: tuple[_Ways, ...]
    returns: tuple[_Ways, ...]
    return_banks: int
    links: tuple[_Ways, ...]
    crosses: bool

    def drop_kpa(self, fed_l_h: float, burnt_l_h: float) -> float:
        """What the lines take when so much is fed, of which so much is burnt."""
        returned = max(0.0, fed_l_h - burnt_l_h)
        linked = max(0.0, fed_l_h - burnt_l_h / 2) if self.crosses else burnt_l_h / 2
        return (
            _greatest(self.feeds, fed_l_h / max(1, len(self.feeds)))
            + _greatest(self.links, linked)
            + _greatest(self.returns, returned / max(1, self.return_banks))
        )


def supply_of(plumbing: Plumbing, request: Request, demand_l_h: float) -> Supply | None:
    """Where the pump that is told of settles; None where none is.

    What a return takes counts where the regulator stands behind it. Where nothing returns, the lines carry what the
    engine burns, and what the pump moves beyond that goes back within the tank.
    """
    pump = request.pump
    if pump is None:
        return None
    curve, base_kpa, fuel = pump.as_fed, request.pressure_kpa, request.fuel
    system = _system(plumbing)
    point = _settled(curve, base_kpa, demand_l_h, system, bool(plumbing.returns))
    most = _run_out(curve, base_kpa, system)
    returned = max(0.0, point.flow_l_h - demand_l_h) if plumbing.returns else None
    density = fuel.fluid.density_kg_m3
    return Supply(
        own=request.own_pump is not None,
        kpa=point.kpa,
        drop_kpa=point.kpa - base_kpa,
        pump_l_h=point.flow_l_h,
        left_l_h=point.flow_l_h - demand_l_h,
        returned_l_h=returned,
        heat_w=hydraulic_power_w(point.flow_l_h if returned is None else returned, point.kpa),
        warming_k=_warming_k(point, request.fuel),
        most_l_h=most.flow_l_h,
        most_kw=power_kw(most.flow_l_h, bsfc_g_kwh(request), density),
    )


def pump_checks(supply: Supply | None) -> Iterator[Check]:
    """Whether the pump feeds the power that is asked."""
    if supply is not None:
        facts = {
            "pump_l_h": supply.pump_l_h,
            "left_over_l_h": supply.left_l_h,
            "runs_out_kw": supply.most_kw,
        }
        yield Check("pump", "caution" if supply.left_l_h < 0 else "ok", facts)


def _warming_k(point: OperatingPoint, fuel: Fuel) -> float | None:
    capacity = fuel.heat_capacity_j_kg_k
    if capacity is None or not point.flow_l_h:
        return None
    power_w = hydraulic_power_w(point.flow_l_h, point.kpa)
    return warming_k(power_w, point.flow_l_h, fuel.fluid.density_kg_m3, capacity)


def _system(plumbing: Plumbing) -> _System:
    return _System(
        feeds=tuple(map(_ways, plumbing.feeds)),
        returns=() if plumbing.regulated_at_rail else tuple(map(_ways, plumbing.returns)),
        return_banks=plumbing.return_banks,
        links=tuple(map(_ways, plumbing.links)),
        crosses=plumbing.crosses,
    )


def _ways(paths: Paths) -> _Ways:
    passages = (merged((*run.passages, *state.behind())) for state, run in zip(paths.states, paths.runs, strict=True))
    return _Ways(paths.states[0].fluid, tuple(passages))


def _greatest(ways: tuple[_Ways, ...], l_h: float) -> float:
    return max((way.drop_kpa(l_h) for way in ways), default=0.0)


@lru_cache(4096)
def _settled(curve: PumpCurve, base_kpa: float, demand_l_h: float, system: _System, returns: bool) -> OperatingPoint:
    if returns:
        return operating_point(curve, base_kpa, lambda fed: system.drop_kpa(fed, demand_l_h))
    kpa = base_kpa + system.drop_kpa(demand_l_h, demand_l_h)
    return OperatingPoint(curve.flow_l_h(kpa), kpa)


@lru_cache(4096)
def _run_out(curve: PumpCurve, base_kpa: float, system: _System) -> OperatingPoint:
    """Where all that the pump moves is burnt."""
    return operating_point(curve, base_kpa, lambda fed: system.drop_kpa(fed, fed))
