"""The rules of what makes a valid bill, one module a rule. RULES is the only list there is, in the order of telling."""

from service.rules import (
    clearance,
    closed,
    elsewhere,
    flow,
    fuel,
    layout,
    mates,
    mounting,
    pattern,
    pressure,
    reach,
    simple,
    supplied,
    supply,
    via,
    wish,
)
from service.rules.rule import ChainRule, PartRule, Rule

RULES: tuple[Rule, ...] = (
    pattern.RULE,
    layout.RULE,
    mates.RULE,
    closed.RULE,
    simple.RULE,
    via.RULE,
    reach.RULE,
    clearance.RULE,
    fuel.RULE,
    pressure.RULE,
    flow.RULE,
    supply.RULE,
    supplied.RULE,
    elsewhere.RULE,
    mounting.RULE,
    wish.RULE,
)
RULE_BY_ID = {rule.id: rule for rule in RULES}
RULE_ORDER = {rule.id: order for order, rule in enumerate(RULES)}
PART_RULES: tuple[PartRule, ...] = tuple(rule for rule in RULES if isinstance(rule, PartRule))
CHAIN_RULES: tuple[ChainRule, ...] = tuple(rule for rule in RULES if isinstance(rule, ChainRule))
SPOT_RULES: tuple[PartRule | ChainRule, ...] = tuple(rule for rule in RULES if isinstance(rule, PartRule | ChainRule))
"""The rules that look at one spot alone."""

__all__ = [
    "CHAIN_RULES",
    "PART_RULES",
    "RULES",
    "RULE_BY_ID",
    "RULE_ORDER",
    "SPOT_RULES",
    "ChainRule",
    "PartRule",
    "Rule",
]
