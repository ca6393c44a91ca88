"""Judges parts, wherever they sit: each part once in a situation."""

from collections.abc import Iterable

from service.domain.findings import Facts, Finding
from service.domain.parts import Item
from service.domain.request import PartSituation
from service.domain.revision import Revision
from service.rules import PART_RULES, PartRule
from service.rules.rule import Got


class PartJudge:
    """Judges parts that have to be got in one situation, each part once."""

    def __init__(self, revision: Revision, situation: PartSituation) -> None:
        self.revision = revision
        self.situation = situation
        self._broken: dict[Item, PartRule | None] = {}

    def broken(self, item: Item) -> PartRule | None:
        """The first part rule that the item breaks."""
        try:
            return self._broken[item]
        except KeyError:
            self._broken[item] = found = next((rule for rule in PART_RULES if not self.holds(rule, item)), None)
            return found

    def broken_if_had(self, item: Item) -> PartRule | None:
        """The first part rule that the item breaks where it need not be got."""
        return next((rule for rule in PART_RULES if not self.holds(rule, item, "had")), None)

    def holds(self, rule: PartRule, item: Item, got: Got = "bought") -> bool:
        return rule.holds(item, rule.reads(self.situation), self.revision, got)

    def broken_by(self, rule: PartRule, item: Item, got: Got) -> Iterable[Facts]:
        """Facts of each thing of a rule that the item breaks, one by one."""
        if rule.stops is not None:
            return rule.stops(item, self.situation, self.revision, got)
        return (rule.facts(item, self.situation, self.revision) or {},)

    def finding(self, item: Item, rule: PartRule) -> Finding:
        return Finding(rule.id, {"part": item.name, **(rule.facts(item, self.situation, self.revision) or {})})
