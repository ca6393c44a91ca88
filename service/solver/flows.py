"""Flow through the paths of a placement: what each carries, what it loses, and how feeds into one rail share."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from functools import lru_cache
from itertools import product
from typing import NamedTuple

from service.domain.chains import Run
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

    def behind(self) -> tuple[Passage, ...]:
        """What the fuel runs through on this path besides the chain."""
        return tuple(passage for passage in (self.hose, self.rail) if passage is not None)

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
            unrated=option.chain.run.unrated,
            hose_rated=self.hose is not None if self.has_hose else None,
        )

    def loss(self, passages: Iterable[Passage], flow_l_h: float) -> "Loss":
        """What this flow loses on its way, and how fast it is at most."""
        flow_m3_s = flow_l_h * _M3_S
        drop = sum([drop_pa(passage, self.fluid, flow_m3_s) for passage in passages])
        peak = max([velocity_m_s(passage, flow_m3_s) for passage in passages], default=0.0)
        return Loss(flow_l_h, drop * _KPA, peak)


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


class FlowJudge:
    """Adds flow to what the spots allow and keeps what stays within policy; each case is computed once."""

    def __init__(self) -> None:
        self.single = lru_cache(512)(self._single)
        self.shared = lru_cache(32)(self._shared)

    def _single(self, choices: Choices, state: FlowState) -> Choices:
        """The choices of one path of its own."""
        behind = state.loss(state.behind(), state.flow_l_h)
        paths: dict[Run, tuple[PathFlow]] = {}
        found = []
        for choice in choices.all:
            (option,) = choice.options
            run = option.chain.run
            if run not in paths:
                paths[run] = (state.path(option, state.loss(run.passages, state.flow_l_h).then(behind)),)
            found.append(Choice(choice.options, paths[run]))
        return _within_policy(found, choices.rejections)

    def _shared(self, feeds: tuple[tuple[Choices, FlowState], ...]) -> Choices:
        """The choices of several feeds into one rail, taken together: they share the flow so that drops agree."""
        states = [state for _, state in feeds]
        paths: dict[tuple[Run, ...], tuple[PathFlow, ...]] = {}
        found = []
        for combination in product(*(choices.all for choices, _ in feeds)):
            options = tuple([choice.options[0] for choice in combination])
            runs = tuple([option.chain.run for option in options])
            if runs not in paths:
                paths[runs] = _share(states, options)
            found.append(Choice(options, paths[runs]))
        return _within_policy(found, tuple(x for choices, _ in feeds for x in choices.rejections))


def _share(states: Sequence[FlowState], options: Sequence[Option]) -> tuple[PathFlow, ...]:
    """The paths of feeds into one rail, each with its share of the flow."""
    ways = [(*option.chain.run.passages, *state.behind()) for state, option in zip(states, options, strict=True)]

    def drop(state: FlowState, way: tuple[Passage, ...]) -> Drop:
        return lambda flow_l_h: sum([drop_pa(passage, state.fluid, flow_l_h * _M3_S) for passage in way])

    shares = share_flow([drop(*pair) for pair in zip(states, ways, strict=True)], states[0].flow_l_h)
    given = zip(states, options, ways, shares, strict=True)
    return tuple(state.path(option, state.loss(way, flow_l_h)) for state, option, way, flow_l_h in given)


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
