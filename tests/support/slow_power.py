"""What a set-up carries, the slow and obvious way: every limit by bisection, over the plain catalog documents.

It shares nothing with `service`: pressures and limits are written down again from what they are defined as.
"""

from collections.abc import Callable, Mapping
from copy import copy
from dataclasses import dataclass
from math import sqrt

from tests.support.slow_chains import Chain
from tests.support.slow_flows import Flows, Setting, pump_curve, pump_flow_l_h, set_kpa
from tests.support.slow_hydraulics import drop_kpa, feed_demand_l_h, shares_l_h
from tests.support.slow_questions import Json, Question

ORDER = ("plumbing", "pump", "injectors")
USUAL_DUTY, USUAL_RESERVE = 0.85, 0.2
_MOST_L_H = 1e6
_HALVINGS = 40


@dataclass(frozen=True)
class OraclePower:
    """The power answer; `limits` in kW, in the order of telling."""

    asked_kw: float
    assumed: bool
    limits: dict[str, float]
    reserve: float
    follows: str

    @property
    def limited_by(self) -> str | None:
        return min(self.limits, key=lambda what: self.limits[what], default=None)

    @property
    def carries_kw(self) -> float | None:
        return None if self.limited_by is None else self.limits[self.limited_by]

    @property
    def not_told(self) -> list[str]:
        return [what for what in ORDER if what not in self.limits]

    @property
    def verdict(self) -> str:
        if self.carries_kw is None or self.asked_kw * (1 + self.reserve) <= self.carries_kw:
            return "ok"
        return "over" if self.asked_kw > self.carries_kw else "tight"


def power_of(question: Question, setting: Setting, chains: Mapping[str, Chain]) -> OraclePower:
    """The power answer of a valid bill; `chains` has a chain for every spot with fuel."""
    told = question.wish("power_kw")
    asked = question.chassis["stock_kw"] if told is None else told
    lines = _Lines(question, setting, chains)
    per_kw = feed_demand_l_h(question.fuel, 1.0, boosted=question.boost_kpa > 0)
    follows = _follows(question, lines)
    ways = [follows] if follows else ["manifold", "atmosphere"]
    found = [_limits(question, lines, way, asked * per_kw) for way in ways]
    shown = min(found, key=lambda limits: min(limits.values(), default=0.0))
    return OraclePower(
        asked_kw=asked,
        assumed=told is None,
        limits={what: l_h / per_kw for what, l_h in shown.items()},
        reserve=question.policies.get("power_reserve", USUAL_RESERVE),
        follows=follows or "not told",
    )


class _Lines:
    """What fuel runs through on the chosen chains."""

    def __init__(self, question: Question, setting: Setting, chains: Mapping[str, Chain]) -> None:
        self.question, self.setting, self.chains = question, setting, chains
        self.flows = Flows(question)
        self.feed_banks = setting.banks("feed")
        self.return_banks = setting.banks("return")
        self.returns = sorted(spot for spot in chains if setting.duties[spot] == "return")

    @property
    def regulator(self) -> Json | None:
        """The regulator in the chain of the first return."""
        first = self.chains[self.returns[0]].items if self.returns else []
        return next((item for item in first if item["kind"] == "regulator"), None)

    @property
    def place(self) -> str:
        if self.returns:
            return "after" if self.regulator is None else "rail"
        return str((self.question.chassis.get("regulator") or {}).get("at", "tank"))

    def fed_kpa(self, sent_l_h: float, burnt_l_h: float) -> float:
        """From the pump to the farthest rail."""
        crosses = self.feed_banks and self.return_banks and not self.feed_banks & self.return_banks
        linked = sent_l_h - burnt_l_h / 2 if crosses else burnt_l_h / 2
        worst = {"feed": 0.0, "link": 0.0}
        for spots in self.setting.flowing():
            duty = self.setting.duties[spots[0]]
            if duty != "return":
                share = sent_l_h / len(self.feed_banks) if duty == "feed" else linked
                worst[duty] = max(worst[duty], self._drop_kpa(spots, share))
        return worst["feed"] + worst["link"]

    def _drop_kpa(self, spots: list[str], flow_l_h: float) -> float:
        fuel = self.question.fuel
        runs = [self.flows.run(self.setting, spot, self.chains[spot]) for spot in spots]
        shares = shares_l_h(runs, fuel, flow_l_h)
        return max(drop_kpa(run, fuel, share) for run, share in zip(runs, shares, strict=True))

    def is_rated(self) -> bool:
        spots = [spot for joined in self.setting.flowing() for spot in joined]
        return any(self.flows.run(self.setting, spot, self.chains[spot]) for spot in spots)

    def keep_limits(self, demand_l_h: float) -> bool:
        """Whether every path is within policy when the engine burns so much."""
        flows = copy(self.flows)
        flows.demand_l_h = demand_l_h
        return flows.hold(flows.paths(self.setting, self.chains))


def _follows(question: Question, lines: _Lines) -> str | None:
    regulator = lines.regulator or {}
    for told in (question.wish("regulator"), regulator.get("regulates"), question.chassis.get("regulator")):
        if told and told.get("follows"):
            return str(told["follows"])
    return None


def _limits(question: Question, lines: _Lines, follows: str, demand_l_h: float) -> dict[str, float]:
    """Each limit that is told, as what the engine burns [L/h]."""
    boost = question.boost_kpa
    held = set_kpa(question) + (boost if follows == "manifold" else 0.0)
    at_tank = lines.place == "tank"
    found = {}
    if lines.is_rated():
        most = _greatest(lines.keep_limits, demand_l_h)
        if most < _MOST_L_H:  # a feed beside which nothing is rated takes all there is
            found["plumbing"] = most
    curve = pump_curve(question)
    if curve is not None:

        def moves(burnt: float) -> bool:
            outlet = held if at_tank else held + lines.fed_kpa(burnt, burnt)
            return pump_flow_l_h(curve, outlet) >= burnt

        found["pump"] = _greatest(moves, 0.0)
    told = question.wish("injectors") or question.chassis.get("injectors")
    if told is not None:

        def delivers(burnt: float) -> bool:
            over = held - (lines.fed_kpa(burnt, burnt) if at_tank else 0.0) - boost
            static = told["static_l_h"] * sqrt(max(0.0, over) / told["rated_kpa"])
            duty = told.get("max_duty") or USUAL_DUTY
            return bool(burnt <= question.chassis["cylinders"] * static * duty)

        found["injectors"] = _greatest(delivers, 0.0)
    return found


def _greatest(holds: Callable[[float], bool], low: float) -> float:
    """The greatest for which it holds; it does for the low one, and for none beyond where it first does not."""
    high = max(1.0, 2 * low)
    while high < _MOST_L_H and holds(high):
        low, high = high, 2 * high
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        low, high = (middle, high) if holds(middle) else (low, middle)
    return low
