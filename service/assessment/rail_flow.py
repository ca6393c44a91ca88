"""Pressure at every injector along the rails, and how far the cylinders differ by it."""

from collections.abc import Iterator, Mapping
from functools import lru_cache

from service.assessment.verdicts import judged
from service.domain.answer import Bill
from service.domain.assessment import Check
from service.domain.request import Request
from service.domain.revision import Policies
from service.domain.vehicles import Duty, bank_of, place_of
from service.engineering import along_rail, spread_percent
from service.hydraulics import Fluid, Passage


def spread_checks(bill: Bill, request: Request, policies: Policies, returned_l_h: float) -> Iterator[Check]:
    """The pressure over each injector; nothing where the rail does not tell where its injectors and spots are."""
    rail, chassis = bill.rail, request.chassis
    flowing = {spot: duty for spot, duty in bill.duties.items() if duty in ("feed", "return", "link")}
    if rail.passage is None or not rail.injectors_mm or any(place_of(spot) not in rail.spots_mm for spot in flowing):
        return
    kpa = [chassis.base_kpa + change for change in _changes_kpa(bill, rail.passage, request, flowing, returned_l_h)]
    if not all(one > 0 for one in kpa):
        return
    spread = spread_percent(kpa)
    least = policies.max_spread_percent
    facts = {
        "injectors_kpa": kpa,
        "lowest_kpa": min(kpa),
        "highest_kpa": max(kpa),
        "spread_percent": spread,
        "most_spread_percent": least,
    }
    yield Check("spread", judged(None if least is None else spread <= least), facts, skus=(rail.sku,))


def _changes_kpa(
    bill: Bill, passage: Passage, request: Request, flowing: Mapping[str, Duty], returned_l_h: float
) -> Iterator[float]:
    """For each injector, bank by bank, how far its pressure is from that where the feed enters."""
    rail = bill.rail
    each_l_h = bill.carried.demand_l_h / bill.banks / len(rail.injectors_mm)
    banks = sorted({bank_of(spot) for spot in bill.duties})
    fed = {bank for bank in banks if any(bank_of(x) == bank and duty == "feed" for x, duty in flowing.items())}
    returning = max(1, len({bank_of(x) for x, duty in flowing.items() if duty == "return"}))
    links = [path for path in bill.paths if path.duty == "link"]
    enters = 0.0
    for bank in sorted(banks, key=lambda one: one not in fed):  # what the link brings is known after the bank it leaves
        here = {place_of(spot): duty for spot, duty in flowing.items() if bank_of(spot) == bank}
        source = "feed" if bank in fed else "link"
        sources = tuple(rail.spots_mm[place] for place, duty in here.items() if duty == source)
        if not sources:
            continue
        leaving = {
            place: returned_l_h / returning if duty == "return" else bill.carried.link_l_h
            for place, duty in here.items()
            if duty == "return" or (duty == "link" and source == "feed" and len(fed) < len(banks))
        }
        draws = dict.fromkeys(rail.injectors_mm, each_l_h)
        for place, l_h in leaving.items():
            at = rail.spots_mm[place]
            draws[at] = draws.get(at, 0.0) + l_h
        found = _along(passage.bore_m, passage.roughness_m, sources, tuple(sorted(draws.items())), request.fuel.fluid)
        start = enters if source == "link" else 0.0
        yield from (start + found[at] for at in rail.injectors_mm)
        if source == "feed" and links:
            [link_mm] = [rail.spots_mm[place] for place, duty in here.items() if duty == "link"][:1] or [sources[0]]
            enters = found.get(link_mm, 0.0) - links[0].drop_kpa


@lru_cache(4096)
def _along(
    bore_m: float,
    roughness_m: float,
    sources_mm: tuple[float, ...],
    draws: tuple[tuple[float, float], ...],
    fluid: Fluid,
) -> Mapping[float, float]:
    return along_rail(bore_m, roughness_m, sources_mm, dict(draws), fluid)
