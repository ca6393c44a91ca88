"""The plumbing of an answered bill, solved over again from the catalog document alone by SciPy's root finder."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from scipy.optimize import brentq, root

from tests.support.slow_hydraulics import Record, Run, drop_kpa, feed_demand_l_h, peak_m_s

Json = dict[str, Any]
Curve = Sequence[tuple[float, float]]


@dataclass(frozen=True)
class SlowPath:
    duty: str
    bank: str
    run: Run
    limit_kpa: float


@dataclass(frozen=True)
class SlowNetwork:
    """Every path of a bill: banks are fed alike, paths of one bank share so that their drops agree."""

    catalog: Json
    request: Json
    bill: Json

    @property
    def chassis(self) -> Json:
        return _by_id(self.catalog["chassis"], self.request["chassis"])

    @property
    def layout(self) -> Json:
        return _by_id(self.catalog["layouts"], self.request["layout"])

    @property
    def fuel(self) -> Json:
        return _by_id(self.catalog["fuels"], self.request["fuel"])

    @property
    def policies(self) -> Json:
        return dict(self.catalog["policies"])

    def demand_l_h(self, power_kw: float) -> float:
        return feed_demand_l_h(self.fuel, power_kw, boosted=False)

    def paths(self) -> list[SlowPath]:
        flowing = {spot for spot, duty in self.bill["duties"].items() if duty in ("feed", "return", "link")}
        placement = next(x for x in self.layout["placements"] if x.keys() == flowing and self._alike(x))
        return [self._path(spot, placement[spot]) for spot in self.bill["chains"] if spot in flowing]

    def _alike(self, placement: Mapping[str, Json]) -> bool:
        return all(self.bill["duties"][spot] == entry["duty"] for spot, entry in placement.items())

    def _path(self, spot: str, entry: Json) -> SlowPath:
        items = {item["sku"]: item for item in self.catalog["items"]}
        run = [items[sku].get("flow") for sku in self.bill["chains"][spot]]
        if entry["duty"] != "return":
            rail = next(line["sku"] for line in self.bill["lines"] if items[line["sku"]]["kind"] == "rail")
            run.append(items[rail].get("flow"))
        hookup = entry.get("hookup", {})
        if hookup.get("kind") == "own-hose":
            run.append(hookup.get("flow"))
        elif hookup:
            run.append(_by_id(self.chassis["hookups"], hookup["kind"]).get("flow"))
        kind = "return" if entry["duty"] == "return" else "feed"
        bank = spot.partition(".")[0] if "." in spot else ""
        return SlowPath(entry["duty"], bank, [x for x in run if x], self.policies[f"max_{kind}_drop_kpa"])

    def banks(self, duty: str) -> list[list[SlowPath]]:
        paths = [path for path in self.paths() if path.duty == duty]
        return [[path for path in paths if path.bank == bank] for bank in sorted({path.bank for path in paths})]

    @property
    def crosses(self) -> bool:
        fed, left = ({paths[0].bank for paths in self.banks(duty)} for duty in ("feed", "return"))
        return bool(fed and left) and not fed & left

    def regulator_on_rail(self) -> bool:
        items = {item["sku"]: item for item in self.catalog["items"]}
        returns = [spot for spot, duty in self.bill["duties"].items() if duty == "return"]
        return all(any(items[sku]["kind"] == "regulator" for sku in self.bill["chains"][spot]) for spot in returns)

    def feed_drop_kpa(self, total_l_h: float) -> float:
        """What the feeds lose: the flows and the common drop of each bank are the unknowns of a root."""
        banks = self.banks("feed")
        return max((self._shared(paths, total_l_h / len(banks)) for paths in banks), default=0.0)

    def _shared(self, paths: Sequence[SlowPath], total_l_h: float) -> float:
        if len(paths) == 1 or total_l_h <= 0:
            return max(drop_kpa(path.run, self.fuel, max(0.0, total_l_h)) for path in paths)

        def unbalanced(unknown: np.ndarray) -> list[float]:
            *flows, common = unknown
            lost = [drop_kpa(path.run, self.fuel, abs(flow)) for path, flow in zip(paths, flows, strict=True)]
            return [*(one - common for one in lost), sum(flows) - total_l_h]

        start = [total_l_h / len(paths)] * len(paths)
        return _root(unbalanced, [*start, drop_kpa(paths[0].run, self.fuel, start[0])])[-1]

    def lines_kpa(self, fed_l_h: float, burnt_l_h: float) -> float:
        """What all lines take: feeds, link, and the return where the regulator stands behind it; nothing where the
        pressure is held at the pump."""
        if not self.banks("return") and (self.chassis.get("regulator") or {}).get("at", "tank") == "tank":
            return 0.0
        linked = fed_l_h - burnt_l_h / 2 if self.crosses else burnt_l_h / 2
        links = [drop_kpa(path.run, self.fuel, max(0.0, linked)) for bank in self.banks("link") for path in bank]
        returns = self.banks("return")
        back = [
            drop_kpa(path.run, self.fuel, max(0.0, fed_l_h - burnt_l_h) / len(returns))
            for bank in returns
            for path in bank
            if not self.regulator_on_rail()
        ]
        return self.feed_drop_kpa(fed_l_h) + max(links, default=0.0) + max(back, default=0.0)

    def settled(self, curve: Curve, base_kpa: float, burnt_l_h: float) -> tuple[float, float]:
        """Pressure and flow of the pump; without a return the lines carry what is burnt."""
        returns = bool(self.banks("return"))

        def unbalanced(unknown: np.ndarray) -> list[float]:
            kpa, flow = unknown
            lines = self.lines_kpa(flow if returns else burnt_l_h, burnt_l_h)
            return [kpa - base_kpa - lines, flow - _moved(curve, kpa)]

        kpa, moved = _root(unbalanced, [base_kpa, _moved(curve, base_kpa)])
        return kpa, moved

    def runs_out_l_h(self, curve: Curve, base_kpa: float) -> float:
        """The flow at which all is burnt."""
        [most] = _root(
            lambda x: [x[0] - _moved(curve, base_kpa + self.lines_kpa(x[0], x[0]))], [_moved(curve, base_kpa)]
        )
        return most

    def largest_power_kw(self) -> float:
        """The power at which the worst path is just at its limit."""
        return float(brentq(lambda kw: self.worst_use(kw) - 1, self.chassis["stock_kw"], 1e6, xtol=1e-9))

    def worst_use(self, power_kw: float) -> float:
        """The greatest part of its limit, of drop or velocity, that a path uses at a power."""
        return max(self._use(path, flow) for path, flow in self._carrying(power_kw))

    def path_drops(self, power_kw: float) -> list[float]:
        """What each path loses at a power [kPa]."""
        return [drop_kpa(path.run, self.fuel, flow) for path, flow in self._carrying(power_kw)]

    def _carrying(self, power_kw: float) -> Iterator[tuple[SlowPath, float]]:
        demand = self.demand_l_h(power_kw)
        moved = demand * self.policies["flow_margin"]
        returns, feeds = self.banks("return"), self.banks("feed")
        fed = max(moved, self._pumped(demand)) if returns else moved
        linked = fed - demand / 2 if self.crosses else moved / 2
        for paths in feeds:
            yield from zip(paths, self._flows(paths, fed / len(feeds)), strict=True)
        yield from ((path, fed / len(returns)) for paths in returns for path in paths)
        yield from ((path, linked) for paths in self.banks("link") for path in paths)

    def _pumped(self, demand_l_h: float) -> float:
        """What the car's own pump moves against base pressure, where it is told."""
        points = self.chassis.get("pump")
        if points is None:
            return float(demand_l_h * self.policies["recirculation"])
        volts = self.chassis.get("pump_v") or {"fed": 1.0, "rated": 1.0}
        speed = volts["fed"] / volts["rated"]
        curve = [(point["kpa"] * speed**2, point["l_h"] * speed) for point in points]
        return _moved(curve, self.chassis["base_kpa"])

    def _flows(self, paths: Sequence[SlowPath], total_l_h: float) -> list[float]:
        if len(paths) == 1:
            return [total_l_h]
        first, second = paths

        def apart(part: float) -> float:
            low, high = part * total_l_h, (1 - part) * total_l_h
            return drop_kpa(first.run, self.fuel, low) - drop_kpa(second.run, self.fuel, high)

        def worst(part: float) -> float:
            shares = (part * total_l_h, (1 - part) * total_l_h)
            return max(drop_kpa(path.run, self.fuel, share) for path, share in zip(paths, shares, strict=True))

        found = brentq(apart, 0, 1, xtol=1e-12)
        # Where a path turns turbulent its drop jumps: it is held on the side that loses less.
        part = min((found, found * (1 - 1e-9), found * (1 + 1e-9)), key=worst)
        return [part * total_l_h, (1 - part) * total_l_h]

    def _use(self, path: SlowPath, flow_l_h: float) -> float:
        drop = drop_kpa(path.run, self.fuel, flow_l_h) / path.limit_kpa
        return max(drop, peak_m_s(path.run, flow_l_h) / self.policies["max_velocity_m_s"])


def _root(unbalanced: Callable[[np.ndarray], Sequence[float]], start: Sequence[float]) -> list[float]:
    """SciPy's own verdict is not asked: it also calls it a failure where it cannot better what is exact."""
    found = root(unbalanced, start)
    assert max(map(abs, unbalanced(found.x))) < 1e-6, found.message
    return [float(value) for value in found.x]


def _moved(curve: Curve, kpa: float) -> float:
    kpas, flows = zip(*curve, strict=True)
    return float(np.interp(kpa, kpas, flows, right=0.0))


def _by_id(documents: Sequence[Record], wanted: str) -> Json:
    return next(dict(document) for document in documents if document["id"] == wanted)
