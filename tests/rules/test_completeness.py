"""Every rule has a module, a place in the order of telling, words, and a test module."""

from importlib import import_module
from pathlib import Path
from pkgutil import iter_modules

import pytest

from service import rules
from service.rules import CHAIN_RULES, PART_RULES, RULE_BY_ID, RULE_ORDER, RULES

IN_ORDER = (
    *("pattern", "layout", "mates", "closed", "simple", "via", "reach", "clearance", "fuel", "pressure"),
    *("flow", "supply", "supplied", "elsewhere", "mounting", "wish"),
)
NOT_A_RULE = {"rule"}


def test_order() -> None:
    """The rules are told in the order in which they are defined."""
    assert tuple(rule.id for rule in RULES) == IN_ORDER
    assert [RULE_ORDER[rule_id] for rule_id in IN_ORDER] == list(range(len(IN_ORDER)))
    assert tuple(RULE_BY_ID) == IN_ORDER


def test_every_module_is_a_rule() -> None:
    """Every module of the package is in RULES, and nothing else is."""
    modules = {module.name for module in iter_modules(rules.__path__)} - NOT_A_RULE
    assert modules == set(IN_ORDER)


@pytest.mark.parametrize("rule_id", IN_ORDER)
def test_rule(rule_id: str) -> None:
    """A rule's id is the name of its module, of its test module, and of the only entry in RULES."""
    module = import_module(f"service.rules.{rule_id}")
    assert module.RULE.id == rule_id
    assert RULE_BY_ID[rule_id] is module.RULE
    assert (module.__doc__ or "").startswith(f"`{rule_id}`: ")
    assert Path(__file__).with_name(f"test_{rule_id}.py").is_file()


def test_kinds_of_rules() -> None:
    """What looks at one part, and what looks at a chain, is told apart by type."""
    assert [rule.id for rule in PART_RULES] == ["pattern", "fuel", "pressure", "supply", "wish"]
    assert [rule.id for rule in CHAIN_RULES] == ["reach", "clearance"]
