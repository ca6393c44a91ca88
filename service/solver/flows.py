"""Flow through the paths of a placement: what each carries, what it loses, and how feeds into one rail share."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import product
from typing import NamedTuple

from service.domain.findings import Finding, Rejection
from service.domain.flows import FlowDemand, PathFlow
from service.domain.request import Request
from service.domain.revision import Policies
from service.domain.vehicles import Duty, DutyEntry, bank_of
from service.hydraulics import Fluid, Passage, drop_pa, fuel_demand_l_h, share_flow, velocity_m_s
from service.hydraulics.sharing import Drop
from service.rules import flow
from service.solver.options import Choice, Choices, Option

_M3_S = 1e-3 / 3600
_KPA = 1e-3


def flow_demand(request: Request, placement: Mapping[str, DutyEntry], policies: Policies) -> FlowDemand:
    """What the engine burns and what each path of the placement carries, L/h."""
    fuel = request.fuel
    bsfc = fuel.bsfc_boosted_g_kwh if request.boost_kpa > 0 else fuel.bsfc_na_g_kwh
    demand = fuel_demand_l_h(request.power_kw, bsfc, fuel.fluid.density_kg_m3)
    with_margin = demand * policies.flow_margin
    feed_banks = _banks(placement, "feed")
    return_banks = _banks(placement, "return")
    feed = with_margin
    if return_banks:
        pumped = demand * policies.recirculation if request.pump_l_h is None else request.pump_l_h
        feed = max(with_margin, pumped)
    crosses = bool(feed_banks and return_banks) and not feed_banks & return_banks
    return FlowDemand(
        demand_l_h=demand,
        feed_l_h=feed / max(1, len(feed_banks)),
        return_l_h=feed / max(1, len(return_banks)),
        link_l_h=feed - demand / 2 if crosses else with_margin / 2,
    )


def _banks(placement: Mapping[str, DutyEntry], duty: str) -> set[str]:
    return {bank_of(spot) for spot, entry in placement.items() if entry.duty == duty}


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

    def passages(self, option: Option) -> tuple[Passage, ...]:
        """All that the fuel runs through on this path and that has flow data."""
        passages = (*option.chain.passages, self.hose, self.rail)
        return tuple(passage for passage in passages if passage is not None)

    def path(self, option: Option, lost: "Loss") -> PathFlow:
        spot = option.situation
        return PathFlow(
            duty=self.duty,
            spots=(spot.spot,) if spot.far_spot is None else (spot.spot, spot.far_spot),
            flow_l_h=lost.flow_l_h,
            drop_kpa=lost.drop_kpa,
            peak_m_s=lost.peak_m_s,
            limit_kpa=self.limit_kpa,
            limit_m_s=self.limit_m_s,
            unrated=option.chain.unrated,
            hose_rated=self.hose is not None if self.has_hose else None,
        )

    def loss(self, passages: Iterable[Passage], flow_l_h: float) -> "Loss":
        """What this flow loses on its way, and how fast it is at most."""
        flow_m3_s = flow_l_h * _M3_S
        drop = sum(drop_pa(passage, self.fluid, flow_m3_s) for passage in passages)
        peak = max((velocity_m_s(passage, flow_m3_s) for passage in passages), default=0.0)
        return Loss(flow_l_h, drop * _KPA, peak)


@dataclass(frozen=True, slots=True)
class Loss:
    """What a flow makes of a run of passages."""

    flow_l_h: float
    drop_kpa: float
    peak_m_s: float


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


Alike = tuple[tuple[Passage, ...], tuple[str, ...]]
"""What options have in common that are the same to the fuel: their passages and what is not rated."""


def _alike(option: Option) -> Alike:
    return (option.chain.passages, option.chain.unrated)


class FlowJudge:
    """Adds flow to what the spots allow and keeps what stays within policy; each case is computed once."""

    def __init__(self) -> None:
        self.single = lru_cache(512)(self._single)
        self.shared = lru_cache(32)(self._shared)

    def _single(self, choices: Choices, state: FlowState) -> Choices:
        """The choices of one path of its own."""
        paths: dict[Alike, tuple[PathFlow]] = {}
        found = []
        for choice in choices.all:
            (option,) = choice.options
            alike = _alike(option)
            if alike not in paths:
                paths[alike] = (state.path(option, state.loss(state.passages(option), state.flow_l_h)),)
            found.append(Choice(choice.options, paths[alike]))
        return _within_policy(found, choices.rejections)

    def _shared(self, feeds: tuple[tuple[Choices, FlowState], ...]) -> Choices:
        """The choices of several feeds into one rail, taken together: they share the flow so that drops agree."""
        states = [state for _, state in feeds]
        paths: dict[tuple[Alike, ...], tuple[PathFlow, ...]] = {}
        found = []
        for combination in product(*(choices.all for choices, _ in feeds)):
            options = tuple(choice.options[0] for choice in combination)
            alike = tuple(map(_alike, options))
            if alike not in paths:
                runs = tuple(state.passages(option) for state, option in zip(states, options, strict=True))
                given = zip(states, options, runs, _share(states, runs), strict=True)
                paths[alike] = tuple(state.path(option, state.loss(run, flow)) for state, option, run, flow in given)
            found.append(Choice(options, paths[alike]))
        return _within_policy(found, tuple(x for choices, _ in feeds for x in choices.rejections))


def _share(states: list[FlowState], runs: tuple[tuple[Passage, ...], ...]) -> tuple[float, ...]:
    """Split the total, L/h, over the feeds."""

    def drop(state: FlowState, ways: tuple[Passage, ...]) -> Drop:
        return lambda flow_l_h: sum(drop_pa(way, state.fluid, flow_l_h * _M3_S) for way in ways)

    return share_flow([drop(*pair) for pair in zip(states, runs, strict=True)], states[0].flow_l_h)


def _within_policy(choices: list[Choice], rejections: tuple[Rejection, ...]) -> Choices:
    """Rule `flow`: keep what stays within policy; of a part with no choice left tell the one that comes nearest."""
    kept = [choice for choice in choices if all(flow.holds(path) for path in choice.paths)]
    heads = {option.head for choice in kept for option in choice.options}
    nearest: dict[tuple[str, str], PathFlow] = {}
    for choice in choices:
        for option in choice.options:
            if option.head not in heads and option.chain.links:
                path = next(path for path in choice.paths if not flow.holds(path))
                best = nearest.get(option.head)
                if best is None or path.drop_kpa < best.drop_kpa:
                    nearest[option.head] = path
    lost = [Rejection(sku, spot, Finding(flow.RULE.id, flow.facts(path))) for (sku, spot), path in nearest.items()]
    return Choices(kept, (*rejections, *lost))
