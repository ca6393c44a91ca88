"""Pressures along a rail that fuel enters and leaves at places, in steady state."""

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import cache
from itertools import accumulate, pairwise

from service.hydraulics.passage import TRANSITION_REYNOLDS, Fluid, Passage, drop_pa, reynolds
from service.hydraulics.sharing import root

_M3_S = 1e-3 / 3600
_KPA = 1e-3
_EDGE_WIDTH = 1e-6  # of a flow: within so much below it the jump to turbulent friction is drawn as a slope
_ACCURACY = 1e-12


def along_rail(
    bore_m: float, roughness_m: float, fed_mm: Sequence[float], drawn_l_h: Mapping[float, float], fluid: Fluid
) -> dict[float, float]:
    """Give how far the pressure at each place along a rail differs from that of its feeds [kPa]: mostly below 0.

    bore_m: of the rail [m], above 0
    roughness_m: of its wall [m], 0 or more
    fed_mm: where feeds enter, all at the same pressure [mm], at least one
    drawn_l_h: what leaves at each place: injectors, a return, a link [mm -> L/h]
    fluid: density [kg/m3] and dynamic viscosity [Pa*s]

    Friction along the bore alone; pressure that flow regains as it slows down is left out, so the least is on the safe
    side. Raises ValueError without a feed.
    Source: pipe with draw-off, Darcy-Weisbach between the places.
    """
    if not fed_mm:
        raise ValueError("a rail needs at least one feed, not fed_mm []")
    feeds = sorted(set(fed_mm))
    free = {place: drawn_l_h[place] for place in sorted(drawn_l_h) if place not in feeds}

    @cache
    def pipe(length_mm: float) -> Passage:
        return Passage(bore_m, length_mm * 1e-3, 0.0, roughness_m)

    def course(places: Sequence[float], enters_l_h: float) -> Iterator[float]:
        """The pressure at each place after the first, which is a feed."""
        kpa, flow_l_h = 0.0, enters_l_h
        for one, other in pairwise(places):
            kpa -= _lost_kpa(pipe(abs(other - one)), fluid, flow_l_h)
            yield kpa
            flow_l_h -= free.get(other, 0.0)

    found = dict.fromkeys(feeds, 0.0)
    ends = [place for place in reversed(free) if place < feeds[0]], [place for place in free if place > feeds[-1]]
    for feed, beyond in zip((feeds[0], feeds[-1]), ends, strict=True):
        found |= zip(beyond, course([feed, *beyond], sum(free[x] for x in beyond)), strict=True)
    for low, high in pairwise(feeds):
        between = [place for place in free if low < place < high]
        run = [low, *between, high]
        sums = list(accumulate((free[x] for x in between), initial=0.0))

        def at_far_feed(enters_l_h: float, run: Sequence[float] = run) -> float:
            return list(course(run, enters_l_h))[-1]

        # With the least of the sums nothing runs towards the far feed, with the most nothing runs back from it.
        enters = min(sums) if min(sums) == max(sums) else _root(at_far_feed, min(sums), max(sums))
        found |= zip(between, course(run, enters), strict=False)
    return {place: found[place] for place in drawn_l_h}


def spread_percent(kpa: Sequence[float]) -> float:
    """Give how far injectors differ at these pressures: most flow less least, over their mean [%].

    kpa: pressure over each injector [kPa], above 0; at least one

    Raises ValueError where a pressure is not above 0, or there is none.
    Source: square-root law of the orifice, e.g. White, Fluid Mechanics, section 3.5.
    """
    if not kpa or not all(0 < one < math.inf for one in kpa):
        raise ValueError(f"injectors need pressures above 0, at least one, not {list(kpa)}")
    flows = [math.sqrt(one) for one in kpa]
    return 100 * (max(flows) - min(flows)) / (sum(flows) / len(flows))


def _lost_kpa(passage: Passage, fluid: Fluid, flow_l_h: float) -> float:
    """What a passage loses, with the sign of its flow; its jump is a steep slope just below the edge of laminar flow,
    so that there always is a flow at which the losses on both sides of a place agree."""
    flow_m3_s = abs(flow_l_h) * _M3_S
    number = reynolds(passage, fluid, flow_m3_s)
    low = TRANSITION_REYNOLDS * (1 - _EDGE_WIDTH)
    if low < number < TRANSITION_REYNOLDS:
        edge_m3_s = flow_m3_s * TRANSITION_REYNOLDS / number
        before, behind = (drop_pa(passage, fluid, edge_m3_s * part) for part in (1 - _EDGE_WIDTH, 1 + _EDGE_WIDTH))
        lost_pa = before + (behind - before) * (number - low) / (TRANSITION_REYNOLDS - low)
    else:
        lost_pa = drop_pa(passage, fluid, flow_m3_s)
    return math.copysign(lost_pa * _KPA, flow_l_h)


def _root(falling: Callable[[float], float], low: float, high: float) -> float:
    """Where a function changes sign; an end that rounding has put on the wrong side counts as the place."""
    at_low, at_high = falling(low), falling(high)
    if at_low <= 0 or at_high >= 0:
        return low if at_low <= 0 else high
    found: float = root(falling, low, high, xtol=_ACCURACY, rtol=_ACCURACY, maxiter=500)
    return found
