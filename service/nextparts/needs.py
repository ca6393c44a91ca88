"""What questions ask of a part: of one bill with it, and the narrowest of many."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from math import pi, sqrt

from service.domain.answer import Bill, PlacedChain
from service.domain.chains import Chain, Link
from service.domain.request import Request, SpotSituation
from service.domain.revision import Policies

_L_H_PER_M3_S = 3.6e6
_MM_PER_M = 1_000.0


@dataclass(frozen=True, slots=True)
class Needs:
    """What a part has to be: lengths mm, pressure kPa gauge, power kW; None: not limited. `fuels`: ids, each once.

    `bore_mm_at_least` is the bore at which the fuel is as fast as it may be; a part loses nothing else to judge it by.
    """

    standout_mm_at_least: float | None
    standout_mm_at_most: float | None
    across_mm_at_most: float | None
    kpa_at_least: float
    fuels: tuple[str, ...]
    power_kw_at_least: float
    bore_mm_at_least: float | None


def needs_of(bill: Bill, request: Request, sku: str, policies: Policies) -> Needs:
    """Return what a bill of a request asks of the part with that SKU in it."""
    placed = [one for one in bill.chains if sku in one.chain.skus]
    windows = [window for one in placed for window in _windows(one.chain, bill.situations[one.spot], sku)]
    lows = [low for low, _ in windows if low is not None and low > 0]
    highs = [high for _, high in windows if high is not None]
    return Needs(
        standout_mm_at_least=_rounded(max(lows, default=None)),
        standout_mm_at_most=_rounded(min(highs, default=None)),
        across_mm_at_most=min((mm for one in placed for mm in _across(one, bill, sku)), default=None),
        kpa_at_least=request.pressure_kpa,
        fuels=(request.fuel.id,),
        power_kw_at_least=request.power_kw,
        bore_mm_at_least=_rounded(max(_bores(bill, placed, sku, policies), default=None)),
    )


def narrowest(needs: Iterable[Needs]) -> Needs:
    """Return what all of these ask together; at least one."""
    every = list(needs)
    return Needs(
        standout_mm_at_least=_most(x.standout_mm_at_least for x in every),
        standout_mm_at_most=_least(x.standout_mm_at_most for x in every),
        across_mm_at_most=_least(x.across_mm_at_most for x in every),
        kpa_at_least=max(x.kpa_at_least for x in every),
        fuels=tuple(dict.fromkeys(fuel for x in every for fuel in x.fuels)),
        power_kw_at_least=max(x.power_kw_at_least for x in every),
        bore_mm_at_least=_most(x.bore_mm_at_least for x in every),
    )


def _windows(chain: Chain, situation: SpotSituation, sku: str) -> Iterator[tuple[float | None, float | None]]:
    """Yield the least and the most that the part may stand proud: by each room and by the reach."""
    rooms = [(chain.near, situation.room.axial_mm)]
    if situation.far_spot is not None:
        rooms.append((chain.far, situation.far_room.axial_mm))
    for links, axial_mm in rooms:
        rest_mm, times = _standing(links, sku)
        if axial_mm is not None and times:
            yield None, (axial_mm - rest_mm) / times
    if situation.reach is not None:
        rest_mm, times = _standing([link for link in chain.links if link.item.kind != "line"], sku)
        if times:
            yield (situation.reach.min_mm - rest_mm) / times, (situation.reach.max_mm - rest_mm) / times


def _standing(links: Iterable[Link], sku: str) -> tuple[float, int]:
    """The standout of the other parts of a chain [mm], and how often the part adds its own."""
    outwards = [link.item for link in links if not link.side]
    return sum(item.standout_mm for item in outwards if item.sku != sku), sum(item.sku == sku for item in outwards)


def _across(placed: PlacedChain, bill: Bill, sku: str) -> Iterator[float]:
    situation = bill.situations[placed.spot]
    rooms = [(placed.chain.near, situation.room.across_mm)]
    if situation.far_spot is not None:
        rooms.append((placed.chain.far, situation.far_room.across_mm))
    for links, across_mm in rooms:
        if across_mm is not None and any(link.item.sku == sku for link in links):
            yield across_mm


def _bores(bill: Bill, placed: Iterable[PlacedChain], sku: str, policies: Policies) -> Iterator[float]:
    """Yield for each path through the part the bore [mm] at which its flow is as fast as the policies allow."""
    through = {one.spot for one in placed if any(link.item.sku == sku and not link.side for link in one.chain.links)}
    for path in bill.paths:
        if through.intersection(path.spots):
            area_m2 = path.flow_l_h / _L_H_PER_M3_S / policies.max_velocity_m_s
            yield sqrt(4 * area_m2 / pi) * _MM_PER_M


def _most(values: Iterable[float | None]) -> float | None:
    return max((value for value in values if value is not None), default=None)


def _least(values: Iterable[float | None]) -> float | None:
    return min((value for value in values if value is not None), default=None)


def _rounded(mm: float | None) -> float | None:
    return None if mm is None else round(mm, 3)
