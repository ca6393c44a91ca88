"""`pattern`: a part that lists rail patterns lists the chassis's."""

from service.domain.findings import Facts
from service.domain.parts import Item
from service.domain.request import PartSituation
from service.domain.revision import Revision
from service.domain.tongue import said
from service.rules.rule import Got, PartRule, always, judges_no_rail


def reads(situation: PartSituation) -> str:
    return situation.pattern


def holds(item: Item, pattern: str, _revision: Revision, _got: Got) -> bool:
    return not item.patterns or pattern in item.patterns


def facts(item: Item, situation: PartSituation, _revision: Revision) -> Facts | None:
    return {"pattern": situation.pattern, "made_for": sorted(item.patterns)} if item.patterns else None


def no_rail_facts(pattern: str) -> Facts:
    """Facts for a chassis that no rail is made for."""
    return {"pattern": pattern, "made_for": []}


def own_rail_facts(pattern: str) -> Facts:
    """Facts for a rail of the catalog where the customer has one by somebody else."""
    return {"pattern": pattern, "own_rail": True}


def _reason(facts: Facts) -> str:
    return said("Made for rail pattern {pattern}, which this engine has.", pattern=facts["pattern"])


def _rejection(facts: Facts) -> str:
    if "own_rail" in facts:
        return said("Your own rail takes the place of every rail of the catalog.")
    pattern = facts["pattern"]
    if not facts["made_for"]:
        return said(
            "No rail in the catalog is made for rail pattern {pattern}, which this engine has.", pattern=pattern
        )
    return said(
        "Made for rail pattern {patterns}; this engine has {pattern}.",
        patterns=", ".join(facts["made_for"]),
        pattern=pattern,
    )


RULE = PartRule(
    "pattern",
    _reason,
    _rejection,
    reads,
    holds,
    facts,
    missing=always("None is made for such a rail pattern."),
    not_judged=judges_no_rail,
)
