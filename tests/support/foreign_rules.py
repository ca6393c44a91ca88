"""Two rules that no module of the service knows, as somebody would add them; and how the slow checker learns them.

`bend`: a line needs room to bend, twice its width past what stands before it. `surge`: a part stands a quarter more
than base pressure and boost.
"""

import sys
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from service import rules
from service.domain.chains import Chain, Lengths, Measured
from service.domain.explanation import Left
from service.domain.findings import Facts
from service.domain.margins import Limit, Margin
from service.domain.parts import Item
from service.domain.request import PartSituation, Room, SpotSituation
from service.domain.revision import Revision
from service.rules import ChainRule, PartRule, Rule
from service.rules.rule import Got, always
from tests.support import brute_force, least_change, slow_chains
from tests.support.slow_questions import Json, Question

BENDS = 2.0
SURGE = 1.25

# --- a rule for chains ----------------------------------------------------------------------------------------


def _ends(chain: Measured, situation: SpotSituation) -> Iterator[tuple[str, Lengths, Room]]:
    """What a chain with a line needs at each of its ends, 0 without."""
    has_line = chain.most(lambda item: float(item.kind == "line"))
    bend_mm = BENDS * chain.most(lambda item: (item.across_mm or 0.0) if item.kind == "line" else 0.0)
    yield situation.spot, np.round(has_line * chain.axial_mm + bend_mm, 3), situation.room
    if situation.far_spot is not None:
        yield situation.far_spot, np.round(has_line * chain.far_axial_mm + bend_mm, 3), situation.far_room


def _limits(chain: Measured, situation: SpotSituation) -> Iterator[Limit]:
    for spot, needs_mm, room in _ends(chain, situation):
        if room.axial_mm is not None:
            yield Limit("bend", needs_mm, round(room.axial_mm, 3), (spot,))


def _facts(chain: Chain, situation: SpotSituation) -> Facts | None:
    """Facts of the tighter end."""
    if not any(item.kind == "line" for item in chain.items):
        return None
    found = [
        {
            "spot": limit.spots[0],
            "needs_mm": float(limit.measure),
            "free_mm": limit.most,
            "left_mm": round(limit.most - float(limit.measure), 3),
        }
        for limit in _limits(chain, situation)
    ]
    return min(found, key=lambda facts: facts["left_mm"], default=None)


def _reads(situation: SpotSituation) -> SpotSituation:
    return situation


def _holds(chain: Measured, situation: SpotSituation) -> Any:
    return np.logical_and.reduce([limit.measure <= limit.most for limit in _limits(chain, situation)] or [True])


PLAIN_BEND = ChainRule(
    "bend",
    lambda facts: f"At the {facts['spot']} spot the line has room to bend: it needs {facts['needs_mm']:g} mm.",
    lambda facts: f"The line needs {facts['needs_mm']:g} mm at the {facts['spot']} spot to bend.",
    _reads,
    _holds,
    _facts,
    ("clearances", "addons"),
)
"""With no more than what every rule has."""

BEND = replace(
    PLAIN_BEND,
    left=lambda facts: Left(facts["left_mm"], "mm"),
    limits=_limits,
    missing=always("No line has room to bend."),
)

# --- a rule for parts -----------------------------------------------------------------------------------------


def _stands(item: Item, pressure_kpa: float, _: Revision, __: Got) -> bool:
    return item.max_kpa is None or item.max_kpa >= SURGE * pressure_kpa


def _surge_facts(item: Item, situation: PartSituation, _: Revision) -> Facts | None:
    if item.max_kpa is None:
        return None
    return {"max_kpa": item.max_kpa, "left_kpa": round(item.max_kpa - SURGE * situation.pressure_kpa, 3)}


def _surge_margin(item: Item, pressure_kpa: float) -> Margin | None:
    if item.max_kpa is None:
        return None
    left_kpa = round(item.max_kpa - SURGE * pressure_kpa, 3)
    return Margin("surge", "surge", "kPa", left_kpa, item.max_kpa, (), item.sku)


PLAIN_SURGE = PartRule(
    "surge",
    lambda facts: f"Stands a surge: it is rated {facts['max_kpa']:g} kPa.",
    lambda facts: f"Does not stand a surge: it is rated {facts['max_kpa']:g} kPa.",
    lambda situation: situation.pressure_kpa,
    _stands,
    _surge_facts,
    ("boost_kpa", "addons"),
    together=True,
)
SURGE_RULE = replace(PLAIN_SURGE, left=lambda facts: Left(facts["left_kpa"], "kPa"), margin=_surge_margin)

# --- into the lists -------------------------------------------------------------------------------------------


def put_in(monkeypatch: pytest.MonkeyPatch, rule: Rule, after: str = "clearance") -> None:
    """Put a rule into the list, behind another one, for as long as the test runs."""
    at = rules.RULE_ORDER[after] + 1
    every = (*rules.RULES[:at], rule, *rules.RULES[at:])
    lists: dict[str, Any] = {
        "RULES": every,
        "RULE_BY_ID": {one.id: one for one in every},
        "RULE_ORDER": {one.id: order for order, one in enumerate(every)},
        "PART_RULES": tuple(one for one in every if isinstance(one, PartRule)),
        "CHAIN_RULES": tuple(one for one in every if isinstance(one, ChainRule)),
        "SPOT_RULES": tuple(one for one in every if isinstance(one, PartRule | ChainRule)),
    }
    known = {name: getattr(rules, name) for name in lists}
    for module in [one for name, one in sys.modules.items() if name.startswith("service")]:
        for name, value in lists.items():
            if vars(module).get(name) is known[name]:
                monkeypatch.setattr(module, name, value)


# --- the slow checker -----------------------------------------------------------------------------------------


def teach_bend(monkeypatch: pytest.MonkeyPatch) -> None:
    """Teach the slow checkers the rule for chains, and the lengths at which it begins to hold."""
    clears, break_points = slow_chains.clears, least_change._break_points

    def bends(question: Question, spot: str, outwards: tuple[slow_chains.Part, ...]) -> bool:
        widths = [part.item.get("across_mm") or 0 for part in outwards if part.item["kind"] == "line"]
        near_mm = slow_chains.standout_mm(slow_chains.before_line(outwards))
        enough = not widths or near_mm + BENDS * max(widths) <= round(question.limit(spot, "axial_mm"), 3) + 1e-9
        return enough and clears(question, spot, outwards)

    def points(catalog: Json, measure: str, without: Json) -> set[float]:
        found = break_points(catalog, measure, without)
        widths = [item.get("across_mm") or 0 for item in catalog["items"] if item["kind"] == "line"]
        more = {point + BENDS * width for point in found for width in widths} if measure == "axial_mm" else set()
        return found | more

    monkeypatch.setattr(slow_chains, "clears", bends)
    monkeypatch.setattr(least_change, "_break_points", points)


def teach_surge(monkeypatch: pytest.MonkeyPatch) -> None:
    """Teach the slow checkers the rule for parts, and the boosts at which it ceases to hold."""
    stands, break_points = slow_chains.item_stands, least_change._break_points

    def surges(question: Question, item: Json, *, supplied: bool = False) -> bool:
        most = item.get("max_kpa")
        enough = most is None or most >= SURGE * question.pressure_kpa
        return enough and stands(question, item, supplied=supplied)

    def points(catalog: Json, measure: str, without: Json) -> set[float]:
        rated = [item["max_kpa"] for item in catalog["items"] if item.get("max_kpa") is not None]
        pressure_kpa = Question(catalog, without).pressure_kpa
        more = {most / SURGE - pressure_kpa for most in rated} if measure == "boost_kpa" else set()
        return break_points(catalog, measure, without) | more

    for module in (slow_chains, brute_force):
        monkeypatch.setattr(module, "item_stands", surges)
    monkeypatch.setattr(least_change, "_break_points", points)
