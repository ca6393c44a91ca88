"""`layout`: the layout is for the engine's banks, and the rail has every spot that a placement uses."""

from collections.abc import Mapping

from service.domain.findings import Facts
from service.domain.vehicles import HOOKUP_WORDS, Chassis, DutyEntry, Layout
from service.rules.rule import Rule


def banks_fit(layout: Layout, chassis: Chassis) -> bool:
    return layout.banks == chassis.banks


def spots_exist(placement: Mapping[str, DutyEntry], spots: Mapping[str, object]) -> bool:
    return placement.keys() <= spots.keys()


def banks_facts(layout: Layout, chassis: Chassis) -> Facts:
    return {"layout": layout.name, "banks": layout.banks, "engine_banks": chassis.banks}


def spots_facts(layout: Layout, placement: Mapping[str, DutyEntry], spots: Mapping[str, object]) -> Facts:
    missing = sorted(placement.keys() - spots.keys())
    return {"layout": layout.name, "needs": sorted(placement), "missing": missing, "has": sorted(spots)}


def hookup_facts(layout: Layout, chassis: Chassis, kind: str) -> Facts:
    return {"layout": layout.name, "hookup": kind, "engine_hookups": sorted(chassis.hookups)}


def no_spot_facts(layout: Layout, spot: str) -> Facts:
    return {"layout": layout.name, "spot": spot}


def _reason(facts: Facts) -> str:
    needs = facts["needs"]
    return f"Has every spot that {facts['layout']} runs fuel through: {', '.join(needs)}."


def _rejection(facts: Facts) -> str:
    if "banks" in facts:
        banks = "one bank" if facts["banks"] == 1 else "two banks"
        engine = "one" if facts["engine_banks"] == 1 else "two"
        return f"{facts['layout']} is for engines with {banks}; this one has {engine}."
    if "hookup" in facts:
        hookup = HOOKUP_WORDS.get(facts["hookup"], facts["hookup"])
        return f"{facts['layout']} needs the car's {hookup}, which this car does not offer."
    if facts.get("spot") is not None and "missing" not in facts:
        return f"No rail that may be used here has a {facts['spot']} spot."
    missing = facts["missing"]
    return f"{facts['layout']} runs fuel through {', '.join(missing)}, which this rail does not have."


_MISSING = {
    "banks": "The layout is for engines with another number of banks.",
    "hookup": "The car does not offer the line that the layout runs to.",
    "spot": "None has the spot that was asked for.",
}
"""By the fact that was found."""


def _missing(facts: Facts) -> str:
    told = (words for fact, words in _MISSING.items() if fact in facts)
    return next(told, "None has the spots that the layout runs fuel through.")


RULE = Rule("layout", _reason, _rejection, missing=_missing)
