"""The least change of one number that gives a bill: to 0.1 of its unit, money exact, found by trying.

Where an answer changes at known points alone (clearances, boost), the tenths beside these are tried; where it depends
on flow, all tenths from the given value outwards.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from math import floor, inf

from tests.support.brute_force import all_bills, any_bill, every_filling, settings
from tests.support.slow_chains import Chain
from tests.support.slow_flows import Flows, Setting
from tests.support.slow_hydraulics import Run, drop_kpa, peak_m_s
from tests.support.slow_questions import Json, Question

NUMBERS: dict[str, tuple[int, int]] = {
    "power_kw": (1, 50_000),
    "pump_l_h": (1, 200_000),
    "feed_hose_m": (0, 1_000),
    "return_hose_m": (0, 1_000),
    "boost_kpa": (0, 10_000),
    "axial_mm": (0, 100_000),
    "across_mm": (0, 100_000),
    "max_price": (0, 10**13),
}
"""The least and the greatest that a request may give, in tenths."""

Works = Callable[[float], bool]
Changed = Callable[[float], Json]


def nearest_that_works(catalog: Json, name: str, given: float, without: Json, changed: Changed) -> list[float]:
    """The value nearest to the given one with which the request has a bill; both where up and down are as near.

    `without` is the request without the number, which has a bill; `changed` gives the one with another number. Empty:
    no tenth works.
    """
    if name == "max_price":
        return [min(bill.price for bill in all_bills(catalog, without))]
    measure = name.rpartition("/")[2]
    least, most = NUMBERS[measure]
    if measure in ("axial_mm", "across_mm", "boost_kpa"):
        beside = {floor(point * 10) + n for point in _break_points(catalog, measure, without) for n in (-1, 0, 1, 2)}
        tenths = [tenth for tenth in beside if least <= tenth <= most]
        return _nearest(given, tenths, lambda value: any_bill(catalog, changed(value)))
    far = 10 * abs(given - _flow_default(catalog, measure, without)) + 1
    around = range(floor(max(least, 10 * given - far)), floor(min(most, 10 * given + far)) + 1)
    return _nearest(given, around, _FlowTest(catalog, changed, given))


def _nearest(given: float, tenths: Iterable[int], works: Works) -> list[float]:
    """The nearest that works, and the nearest on the other side unless that is a tenth further or more."""
    found: list[float] = []
    for tenth in sorted(tenths, key=lambda tenth: abs(tenth / 10 - given)):
        value = tenth / 10
        if found and abs(value - given) > abs(found[0] - given) + 0.1 - 1e-6:
            break
        if all((value < given) != (other < given) for other in found) and works(value):
            found.append(value)
    return found


# --- clearances and boost: where chains come and go ---------------------------------------------------------


def _break_points(catalog: Json, measure: str, without: Json) -> set[float]:
    """A superset of the values at which some chain begins or ceases to stand, or the engine to be boosted."""
    question = Question(catalog, without)
    if measure == "boost_kpa":
        strong = {item["max_kpa"] for item in question.items if item.get("max_kpa") is not None}
        return {0, *(max_kpa - question.pressure_kpa for max_kpa in strong)}
    if measure == "across_mm":
        return {item["across_mm"] for item in question.items if item.get("across_mm") is not None}
    standouts = {item["standout_mm"] for item in question.items if item.get("standout_mm") is not None}
    sums = {0.0}
    for _ in range(question.policies["max_chain"]):
        sums |= {round(reached + standout, 6) for reached in sums for standout in standouts}
    return sums


# --- power, pump and hoses: where paths flow enough ---------------------------------------------------------


def _flow_default(catalog: Json, measure: str, without: Json) -> float:
    """The number that holds without the wish; infinite where several do (hoses of several lengths)."""
    question = Question(catalog, without)
    flows = Flows(question)
    if measure == "power_kw":
        return float(question.chassis["stock_kw"])
    if measure == "pump_l_h":
        return float(flows.demand_l_h * question.policies["recirculation"])
    duty = measure.partition("_")[0]
    entries = [entry for placement in question.layout["placements"] for entry in placement.values()]
    hookups = [entry["hookup"] for entry in entries if entry["duty"] == duty]
    lengths = {hookup["flow"]["length_mm"] / 1000 for hookup in hookups if hookup.get("flow") is not None}
    return lengths.pop() if len(lengths) == 1 else inf


@dataclass(frozen=True)
class _Case:
    """A way to fill the spots that have fuel, among bills that keep all rules but flow."""

    setting: Setting
    chains: dict[str, Chain]


class _FlowTest:
    """Tries a number that nothing but flow depends on: what else there is to choose from is found once."""

    def __init__(self, catalog: Json, changed: Changed, given: float) -> None:
        self.catalog, self.changed = catalog, changed
        question = Question(catalog, changed(given))
        flows = Flows(question)
        self.cases: dict[object, _Case] = {}
        self.most_l_h: dict[object, float] = {}
        for setting in settings(question):
            spots = [spot for joined in setting.flowing() for spot in joined]
            for chains in every_filling(question, setting):
                runs = tuple(_content(flows.run(setting, spot, chains[spot])) for spot in spots)
                flowing = {spot: chains[spot] for spot in spots}
                self.cases.setdefault((id(setting.placement), setting.rail["sku"], runs), _Case(setting, flowing))

    def __call__(self, value: float) -> bool:
        flows = Flows(Question(self.catalog, self.changed(value)))
        return any(
            all(
                self._may_hold(flows, case, spots) and flows.hold(flows.joined(case.setting, spots, case.chains))
                for spots in case.setting.flowing()
            )
            for case in self.cases.values()
        )

    def _may_hold(self, flows: Flows, case: _Case, spots: list[str]) -> bool:
        """False where the runs of these spots, each at the most that it can carry, carry too little together."""
        duty = case.setting.duties[spots[0]]
        limit_kpa = flows.limit_kpa(duty)
        runs = [flows.run(case.setting, spot, case.chains[spot]) for spot in spots]
        return flows.flow_l_h(case.setting, duty) <= sum(self._most_l_h(flows, run, limit_kpa) for run in runs)

    def _most_l_h(self, flows: Flows, run: Run, limit_kpa: float) -> float:
        """The flow from which on a run drops too much or is too fast: both grow with the flow."""
        key = (_content(run), limit_kpa)
        if key not in self.most_l_h:
            top_m_s = flows.question.policies["max_velocity_m_s"]
            low, high = 0.0, 1e6
            while high - low > 1e-6 * high:
                middle = (low + high) / 2
                if drop_kpa(run, flows.fuel, middle) <= limit_kpa and peak_m_s(run, middle) <= top_m_s:
                    low = middle
                else:
                    high = middle
            self.most_l_h[key] = high
        return self.most_l_h[key]


def _content(run: Run) -> tuple[object, ...]:
    return tuple(tuple(sorted(piece.items())) for piece in run)
