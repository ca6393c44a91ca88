"""Pressure at every injector along the rails, and how far the cylinders differ by it."""

import math
from collections.abc import Iterator, Mapping
from typing import NamedTuple

from service.assessment.verdicts import judged
from service.domain.assessment import Check
from service.domain.flows import FlowDemand
from service.domain.parts import Item
from service.domain.revision import Policies
from service.domain.vehicles import Duty, bank_of, place_of
from service.engineering import along_rail, spread_percent
from service.hydraulics import Fluid, Passage, drop_pa
from service.solver.flows import KPA, M3_S

_SURELY = 1 + 1e-4
"""A bound is a little more than it, for what is rounded and for the slope at the edge of laminar flow."""


class RailFlow(NamedTuple):
    """All that the pressure along the rails depends on; `linked_kpa` is what the link loses, None without one."""

    rail: Item
    duties: tuple[tuple[str, Duty], ...]
    carried: FlowDemand
    returned_l_h: float
    linked_kpa: float | None
    base_kpa: float
    fluid: Fluid


def surely_even(flow: RailFlow, policies: Policies) -> bool:
    """Whether the cylinders surely do not differ by too much, even where all fuel runs along the whole of each rail.

    No piece of a rail carries more than all that leaves the rail, and none is longer than it. So the pressures over the
    injectors differ by no more than all rails lose with that flow, and the link; and no mean is less than the least.
    """
    rail, most, carried = flow.rail, policies.max_spread_percent, flow.carried
    if most is None or rail.passage is None or not rail.injectors_mm:
        return True
    places = (*rail.injectors_mm, *rail.spots_mm.values())
    banks = len({bank_of(spot) for spot, _ in flow.duties})
    leaves_l_h = carried.demand_l_h / banks + flow.returned_l_h + max(0.0, carried.link_l_h)
    along = Passage(rail.passage.bore_m, (max(places) - min(places)) * 1e-3, 0.0, rail.passage.roughness_m)
    lost_kpa = _SURELY * banks * drop_pa(along, flow.fluid, _SURELY * leaves_l_h * M3_S) * KPA + (
        flow.linked_kpa or 0.0
    )
    if not 0 <= lost_kpa < flow.base_kpa:
        return False
    return _SURELY * (math.sqrt(flow.base_kpa / (flow.base_kpa - lost_kpa)) - 1) <= most / 100


def spread_checks(flow: RailFlow, policies: Policies) -> Iterator[Check]:
    """The pressure over each injector; nothing where the rail does not tell where its injectors and spots are."""
    rail = flow.rail
    flowing = {spot: duty for spot, duty in flow.duties if duty in ("feed", "return", "link")}
    if rail.passage is None or not rail.injectors_mm or any(place_of(spot) not in rail.spots_mm for spot in flowing):
        return
    kpa = [flow.base_kpa + change for change in _changes_kpa(flow, rail.passage, flowing)]
    if not kpa or not all(one > 0 for one in kpa):
        return
    spread = spread_percent(kpa)
    most = policies.max_spread_percent
    facts = {
        "injectors_kpa": kpa,
        "lowest_kpa": min(kpa),
        "highest_kpa": max(kpa),
        "spread_percent": spread,
        "most_spread_percent": most,
    }
    yield Check("spread", judged(None if most is None else spread <= most), facts, skus=(rail.sku,))


def _changes_kpa(flow: RailFlow, passage: Passage, flowing: Mapping[str, Duty]) -> Iterator[float]:
    """For each injector, bank by bank, how far its pressure is from that where the feed enters."""
    rail = flow.rail
    banks = sorted({bank_of(spot) for spot, _ in flow.duties})
    each_l_h = flow.carried.demand_l_h / len(banks) / len(rail.injectors_mm)
    fed = {bank_of(spot) for spot, duty in flowing.items() if duty == "feed"}
    returning = max(1, len({bank_of(spot) for spot, duty in flowing.items() if duty == "return"}))
    enters = 0.0
    for bank in sorted(banks, key=lambda one: one not in fed):  # what a link brings is known after the bank it leaves
        here = {place_of(spot): duty for spot, duty in flowing.items() if bank_of(spot) == bank}
        source: Duty = "feed" if bank in fed else "link"
        sources = tuple(rail.spots_mm[place] for place, duty in here.items() if duty == source)
        if not sources:
            continue
        draws = dict.fromkeys(rail.injectors_mm, each_l_h)
        for place, duty in here.items():
            leaves_l_h = flow.returned_l_h / returning if duty == "return" else flow.carried.link_l_h
            if duty == "return" or (duty == "link" and source == "feed" and len(fed) < len(banks)):
                draws[rail.spots_mm[place]] = draws.get(rail.spots_mm[place], 0.0) + leaves_l_h
        found = along_rail(passage.bore_m, passage.roughness_m, sources, draws, flow.fluid)
        start = enters if source == "link" else 0.0
        yield from (start + found[at] for at in rail.injectors_mm)
        if source == "feed" and flow.linked_kpa is not None:
            leaving = next((rail.spots_mm[place] for place, duty in here.items() if duty == "link"), sources[0])
            enters = found.get(leaving, 0.0) - flow.linked_kpa
