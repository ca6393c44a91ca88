"""`layout`: the layout is for the engine's banks, and the rail has every spot that a placement uses."""

from collections.abc import Mapping

from service.domain.findings import Facts
from service.domain.tongue import named, place, places, said, sentence, word
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
    return said(
        "Has every spot that {layout} runs fuel through: {spots}.",
        layout=named(facts["layout"]),
        spots=", ".join(places(facts["needs"])),
    )


def _rejection(facts: Facts) -> str:
    if "banks" in facts:
        return said(_FOR_ONE if facts["banks"] == 1 else _FOR_TWO, layout=named(facts["layout"]))
    if "hookup" in facts:
        hookup = word(HOOKUP_WORDS.get(facts["hookup"]) or facts["hookup"])
        return said(
            "{layout} needs the car's {line}, which this car does not offer.",
            layout=named(facts["layout"]),
            line=hookup,
        )
    if facts.get("spot") is not None and "missing" not in facts:
        return said("No rail that may be used here has a {spot} spot.", spot=place(facts["spot"]))
    return said(
        "{layout} runs fuel through {spots}, which this rail does not have.",
        layout=named(facts["layout"]),
        spots=", ".join(places(facts["missing"])),
    )


_FOR_ONE = sentence("{layout} is for engines with one bank; this one has two.")
_FOR_TWO = sentence("{layout} is for engines with two banks; this one has one.")
_MISSING = {
    "banks": sentence("The layout is for engines with another number of banks."),
    "hookup": sentence("The car does not offer the line that the layout runs to."),
    "spot": sentence("None has the spot that was asked for."),
}
"""By the fact that was found."""


def _missing(facts: Facts) -> str:
    told = (words for fact, words in _MISSING.items() if fact in facts)
    return said(next(told, sentence("None has the spots that the layout runs fuel through.")))


RULE = Rule("layout", _reason, _rejection, missing=_missing)
