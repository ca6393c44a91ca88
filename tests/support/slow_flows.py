"""The flow of a bill, path by path: who carries how much through what, and whether it is within policy."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from itertools import pairwise

from tests.support.slow_chains import Chain, hookup_of
from tests.support.slow_hydraulics import Run, drop_kpa, feed_demand_l_h, peak_m_s, shares_l_h
from tests.support.slow_questions import Json, Question


@dataclass(frozen=True)
class OraclePath:
    duty: str
    spots: tuple[str, ...]
    flow_l_h: float
    drop_kpa: float
    peak_m_s: float
    limit_kpa: float
    unrated: tuple[str, ...]


@dataclass(frozen=True)
class Setting:
    """A rail, a placement, a duty for every spot, and the chains each may have (a link: its first spot)."""

    rail: Json
    placement: Json
    duties: dict[str, str]
    candidates: dict[str, list[Chain]]

    def flowing(self) -> list[list[str]]:
        """Spots whose flow is judged together: the feeds of one bank, each return, each link."""
        feeds: dict[str, list[str]] = {}
        alone: list[list[str]] = []
        for spot in self.candidates:
            if self.duties[spot] == "feed":
                feeds.setdefault(_bank(spot), []).append(spot)
            elif self.has_fuel(spot):
                alone.append([spot])
        return [*alone, *feeds.values()]

    def has_fuel(self, spot: str) -> bool:
        return self.duties[spot] in ("feed", "return", "link")

    def banks(self, duty: str) -> set[str]:
        return {_bank(spot) for spot in self.candidates if self.duties[spot] == duty}


class Flows:
    """The flowing paths of a choice of chains, with their flow, drop and peak velocity."""

    def __init__(self, question: Question) -> None:
        self.question = question
        self.fuel = question.fuel
        power_kw = question.wish("power_kw") or question.chassis["stock_kw"]
        self.demand_l_h = feed_demand_l_h(self.fuel, power_kw, boosted=question.boost_kpa > 0)
        self._shares: dict[tuple[object, ...], list[float]] = {}

    def paths(self, setting: Setting, chains: Mapping[str, Chain]) -> tuple[OraclePath, ...]:
        """The paths of all spots with fuel; `chains` has a chain for each of them."""
        return tuple(path for spots in setting.flowing() for path in self.joined(setting, spots, chains))

    def joined(self, setting: Setting, spots: list[str], chains: Mapping[str, Chain]) -> list[OraclePath]:
        """The paths of spots whose flow is judged together."""
        duty = setting.duties[spots[0]]
        flow_l_h = self.flow_l_h(setting, duty)
        if len(spots) == 1:
            return [self._path(duty, spots[0], setting, chains[spots[0]], flow_l_h)]
        runs = [self.run(setting, spot, chains[spot]) for spot in spots]
        shares = self._shared(runs, flow_l_h)
        return [self._path(duty, spot, setting, chains[spot], share) for spot, share in zip(spots, shares, strict=True)]

    def hold(self, paths: Iterable[OraclePath]) -> bool:
        """Whether all are within policy."""
        top_m_s = self.question.policies["max_velocity_m_s"]
        return all(path.drop_kpa <= path.limit_kpa and path.peak_m_s <= top_m_s for path in paths)

    def flow_l_h(self, setting: Setting, duty: str) -> float:
        """What a link, a return or the feeds of one bank carry."""
        feed_banks, return_banks = setting.banks("feed"), setting.banks("return")
        engine_l_h = self.demand_l_h * self.question.policies["flow_margin"]
        feed_l_h = engine_l_h
        if return_banks:
            feed_l_h = max(engine_l_h, self.pump_l_h())
        if duty == "link":
            crosses = feed_banks and return_banks and not feed_banks & return_banks
            return feed_l_h - self.demand_l_h / 2 if crosses else engine_l_h / 2
        return feed_l_h / len(feed_banks if duty == "feed" else return_banks)

    def pump_l_h(self) -> float:
        """What the pump moves: as it is told, or against set pressure and boost alone, or what goes round usually."""
        told = self.question.wish("pump_l_h")
        if told is not None:
            return float(told)
        curve = pump_curve(self.question)
        if curve is not None:
            return pump_flow_l_h(curve, set_kpa(self.question) + self.question.boost_kpa)
        return float(self.demand_l_h * self.question.policies["recirculation"])

    def limit_kpa(self, duty: str) -> float:
        return float(self.question.policies["max_return_drop_kpa" if duty == "return" else "max_feed_drop_kpa"])

    def run(self, setting: Setting, spot: str, chain: Chain) -> Run:
        """What the fuel passes and is rated: chain, rail (feeds, links), hose behind the hookup."""
        run = [item["flow"] for item in self._passed(setting, spot, chain) if item.get("flow") is not None]
        duty = setting.duties[spot]
        if duty == "link":
            return run
        entry = setting.placement[spot]
        hookup = hookup_of(self.question, entry) or {}
        behind = hookup.get("flow")
        if behind is not None:
            length_m = self.question.wish(f"{duty}_hose_m") if entry["hookup"]["kind"] == "own-hose" else None
            run.append(behind if length_m is None else behind | {"length_mm": length_m * 1000})
        return run

    def _passed(self, setting: Setting, spot: str, chain: Chain) -> list[Json]:
        return [*chain.items, setting.rail] if setting.duties[spot] in ("feed", "link") else chain.items

    def _path(self, duty: str, spot: str, setting: Setting, chain: Chain, flow_l_h: float) -> OraclePath:
        run = self.run(setting, spot, chain)
        return OraclePath(
            duty=duty,
            spots=(spot, setting.placement[spot]["to_spot"]) if duty == "link" else (spot,),
            flow_l_h=flow_l_h,
            drop_kpa=drop_kpa(run, self.fuel, flow_l_h),
            peak_m_s=peak_m_s(run, flow_l_h),
            limit_kpa=self.limit_kpa(duty),
            unrated=tuple(item["sku"] for item in self._passed(setting, spot, chain) if item.get("flow") is None),
        )

    def _shared(self, runs: list[Run], total_l_h: float) -> list[float]:
        key = (total_l_h, tuple(tuple(tuple(sorted(piece.items())) for piece in run) for run in runs))
        if key not in self._shares:
            self._shares[key] = shares_l_h(runs, self.fuel, total_l_h)
        return self._shares[key]


def set_kpa(question: Question) -> float:
    """What the regulator is set to."""
    told = (question.wish("regulator") or {}).get("set_kpa")
    return float(question.chassis["base_kpa"] if told is None else told)


def pump_curve(question: Question) -> list[tuple[float, float]] | None:
    """Points (kPa, L/h) of the pump that is told, at the voltage that it gets; None: none is told."""
    own = question.wish("pump")
    points = own or question.chassis.get("pump")
    if points is None:
        return None
    volts = question.wish("pump_v") or (None if own else question.chassis.get("pump_v"))
    speed = volts["fed"] / volts["rated"] if volts else 1.0
    return [(point["kpa"] * speed**2, point["l_h"] * speed) for point in points]


def pump_flow_l_h(curve: list[tuple[float, float]], kpa: float) -> float:
    """Straight between the points, level before the first, nothing beyond the last."""
    if kpa <= curve[0][0]:
        return curve[0][1]
    for (low, most), (high, least) in pairwise(curve):
        if kpa <= high:
            return most + (least - most) * (kpa - low) / (high - low)
    return 0.0


def _bank(spot: str) -> str:
    return spot.partition(".")[0] if "." in spot else "1"
