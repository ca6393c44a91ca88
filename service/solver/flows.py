"""Flow through the paths of a placement: what each carries, and what it loses on its way."""

from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import NamedTuple

from service.domain.chains import Run
from service.domain.flows import FlowDemand, PathFlow
from service.domain.request import Request
from service.domain.revision import Policies
from service.domain.vehicles import Duty, DutyEntry, bank_of
from service.hydraulics import Fluid, Passage, drop_pa, fuel_demand_l_h, velocity_m_s
from service.rules import flow

M3_S = 1e-3 / 3600
KPA = 1e-3


def flow_demand(request: Request, placement: Mapping[str, DutyEntry], policies: Policies) -> FlowDemand:
    """What the engine burns and what each path of the placement carries, L/h."""
    fuel = request.fuel
    demand = fuel_demand_l_h(request.power_kw, bsfc_g_kwh(request), fuel.fluid.density_kg_m3)
    with_margin = demand * policies.flow_margin
    feed_banks, return_banks, does_cross = _banks(placement)
    feed = with_margin
    if return_banks:
        pumped = demand * policies.recirculation if request.pumped_l_h is None else request.pumped_l_h
        feed = max(with_margin, pumped)
    return FlowDemand(
        demand_l_h=demand,
        feed_l_h=feed / max(1, feed_banks),
        return_l_h=feed / max(1, return_banks),
        link_l_h=feed - demand / 2 if does_cross else with_margin / 2,
    )


def parts_of_demand(request: Request, placement: Mapping[str, DutyEntry], policies: Policies) -> dict[Duty, float]:
    """What each path of a duty carries for each L/h that the engine burns, once it burns so much that what the pump is
    told to move no longer counts."""
    feed_banks, return_banks, does_cross = _banks(placement)
    moved = policies.flow_margin
    if return_banks and request.pumped_l_h is None:
        moved = max(moved, policies.recirculation)
    return {
        "feed": moved / max(1, feed_banks),
        "return": moved / max(1, return_banks),
        "link": moved - 0.5 if does_cross else policies.flow_margin / 2,
    }


def bsfc_g_kwh(request: Request) -> float:
    """What the engine needs of the fuel for its power: more under boost."""
    fuel = request.fuel
    return fuel.bsfc_boosted_g_kwh if request.boost_kpa > 0 else fuel.bsfc_na_g_kwh


def returns(placement: Mapping[str, DutyEntry]) -> bool:
    """Whether fuel goes back through a placement."""
    return _banks(placement)[1] > 0


def crosses(placement: Mapping[str, DutyEntry]) -> bool:
    """Whether the fuel leaves by another bank than it enters."""
    return _banks(placement)[2]


def _banks(placement: Mapping[str, DutyEntry]) -> tuple[int, int, bool]:
    """How many banks are fed, through how many fuel goes back, and whether it leaves by another one than it enters."""
    fed: set[str] = set()
    left: set[str] = set()
    for spot, entry in placement.items():
        if entry.duty == "feed":
            fed.add(bank_of(spot))
        elif entry.duty == "return":
            left.add(bank_of(spot))
    return len(fed), len(left), bool(fed and left) and not fed & left


class FlowState(NamedTuple):
    """All that decides a path's drop besides its chain. `hose`: the passage behind the hookup, None: not rated."""

    duty: Duty
    flow_l_h: float
    fluid: Fluid
    limit_kpa: float
    limit_m_s: float
    has_hose: bool
    hose: Passage | None
    rail: Passage | None

    def behind(self) -> tuple[Passage, ...]:
        """What the fuel runs through on this path besides the chain."""
        return tuple(passage for passage in (self.hose, self.rail) if passage is not None)

    def path(self, run: Run, lost: "Loss", spots: tuple[str, ...]) -> PathFlow:
        return PathFlow(
            duty=self.duty,
            spots=spots,
            flow_l_h=lost.flow_l_h,
            drop_kpa=lost.drop_kpa,
            peak_m_s=lost.peak_m_s,
            limit_kpa=self.limit_kpa,
            limit_m_s=self.limit_m_s,
            unrated=run.unrated,
            hose_rated=self.hose is not None if self.has_hose else None,
        )

    def holds(self, lost: "Loss") -> bool:
        return flow.within(lost.drop_kpa, lost.peak_m_s, self.limit_kpa, self.limit_m_s)

    def loss(self, passages: Iterable[Passage], flow_l_h: float) -> "Loss":
        """What this flow loses on its way, and how fast it is at most."""
        flow_m3_s = flow_l_h * M3_S
        drop = sum([drop_pa(passage, self.fluid, flow_m3_s) for passage in passages])
        peak = max([velocity_m_s(passage, flow_m3_s) for passage in passages], default=0.0)
        return Loss(flow_l_h, drop * KPA, peak)


class Loss(NamedTuple):
    """What a flow makes of passages one after the other."""

    flow_l_h: float
    drop_kpa: float
    peak_m_s: float

    def then(self, other: "Loss") -> "Loss":
        """With more passages behind, the same flow through all."""
        return Loss(self.flow_l_h, self.drop_kpa + other.drop_kpa, max(self.peak_m_s, other.peak_m_s))


def flow_state(
    request: Request, entry: DutyEntry, carried: FlowDemand, policies: Policies, rail: Passage | None
) -> FlowState:
    """The state of a path with this duty; the rail's own passage counts on feed and link paths."""
    flows = {"feed": carried.feed_l_h, "return": carried.return_l_h, "link": carried.link_l_h}
    is_return = entry.duty == "return"
    return FlowState(
        duty=entry.duty,
        flow_l_h=flows[entry.duty],
        fluid=request.fuel.fluid,
        limit_kpa=policies.max_return_drop_kpa if is_return else policies.max_feed_drop_kpa,
        limit_m_s=policies.max_velocity_m_s,
        has_hose=entry.duty != "link",
        hose=_hose(request, entry),
        rail=None if is_return else rail,
    )


def _hose(request: Request, entry: DutyEntry) -> Passage | None:
    if entry.own_hose is None:
        hookup = request.chassis.hookups.get(entry.hookup_kind or "")
        return hookup.passage if hookup else None
    length_m = request.return_hose_m if entry.duty == "return" else request.feed_hose_m
    passage = entry.own_hose.passage
    if passage is None or length_m is None:
        return passage
    return replace(passage, length_m=length_m)
