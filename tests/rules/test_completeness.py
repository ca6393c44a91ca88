"""Every rule has a module, a place in the order of telling, words, and a test module."""

from importlib import import_module
from pathlib import Path
from pkgutil import iter_modules

import pytest

from service import rules
from service.rules import CHAIN_RULES, PART_RULES, RULE_BY_ID, RULE_ORDER, RULES
from tests.support.builders import Json

IN_ORDER = (
    *("pattern", "layout", "mates", "closed", "simple", "via", "reach", "clearance", "fuel", "pressure"),
    *("flow", "supply", "supplied", "elsewhere", "mounting", "wish"),
)
NOT_A_RULE = {"rule"}
RULES_NOTHING_OUT = {"mounting"}
SAID_OF_NO_PART = {"simple"}

ROOM = {"spot": "left", "axial_mm": 25.4, "axial_left_mm": -25.4}
PATH = {"duty": "feed", "flow_l_h": 45.0, "limit_kpa": 40.0, "peak_m_s": 1.5, "limit_m_s": 6.0}
CLIP = {"role": "clip", "giver": "Rail", "source": "supplied", "optional": False}
# By rule: facts of a case that keeps it and of one that breaks it, and the numbers or names that the words hold.
WORDS: dict[str, tuple[Json, Json, str]] = {
    "pattern": ({"pattern": "inline"}, {"pattern": "inline", "made_for": ["broad"]}, "inline"),
    "layout": ({"layout": "Through", "needs": ["left"]}, {"layout": "Through", "missing": ["left"]}, "left"),
    "mates": (
        {"name": "Flare", "end": "male", "meets": "the left spot"},
        {"target": "flare", "name": "Flare", "end": "male"},
        "male Flare",
    ),
    "closed": ({"kind": "plug", "duty": "closed", "spot": "left", "side_of": None}, {"side_port": "flare"}, "port"),
    "simple": ({"max_chain": 7}, {"max_chain": 7}, "7 parts"),
    "via": ({"via": ["line"], "kind": "line"}, {"via": ["line"], "kind": "fitting"}, "line"),
    "reach": (
        {"hookup": "bulkhead", "spot": "left", "standout_mm": 20.0, "min_mm": 10.0, "max_mm": 25.4},
        {"hookup": "bulkhead", "spot": "left", "standout_mm": 30.0, "min_mm": 10.0, "max_mm": 25.4},
        "25.4 mm (1 in)",
    ),
    "clearance": (ROOM | {"standout_mm": 10.0}, ROOM | {"standout_mm": 50.8}, "25.4 mm (1 in)"),
    "fuel": (
        {"material": "Nitrile", "fuel": "E85", "rating": "B"},
        {"material": "Nitrile", "fuel": "E85", "rating": "D"},
        "Nitrile",
    ),
    "pressure": (
        {"max_kpa": 400.0, "needed_kpa": 300.0},
        {"max_kpa": 200.0, "needed_kpa": 300.0},
        "300 kPa (43.5 psi)",
    ),
    "flow": (PATH | {"drop_kpa": 5.0}, PATH | {"drop_kpa": 50.0}, "40 kPa (5.8 psi)"),
    "supply": ({"stock": 3, "lead_days": 2}, {"active": True, "stock": 3, "needed": 4}, "3 in stock"),
    "supplied": ({"plug": "P", "spot": "left"}, {"plug": "P", "spot": "left"}, "the left spot"),
    "elsewhere": ({"spot": "left"}, {"spot": "left", "instead": "Plug"}, "the left spot"),
    "mounting": (CLIP, CLIP, "role clip"),
    "wish": (
        {"wish": "finish", "wanted": "slate", "finish": "slate"},
        {"wish": "finish", "wanted": "slate", "finish": "moss"},
        "slate",
    ),
}


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


@pytest.mark.parametrize(
    ("call", "without"),
    [
        pytest.param('assert_ruled_out("{}", ', RULES_NOTHING_OUT, id="broken"),
        pytest.param(', "{}") == ', SAID_OF_NO_PART, id="kept"),
    ],
)
def test_every_rule_has_its_case(call: str, without: set[str]) -> None:
    """Each test module has a part that its rule alone rules out, and one for which the rule speaks."""
    sources = {rule_id: Path(__file__).with_name(f"test_{rule_id}.py").read_text("utf-8") for rule_id in IN_ORDER}
    assert {rule_id for rule_id in IN_ORDER if call.format(rule_id) not in sources[rule_id]} == without


@pytest.mark.parametrize("rule_id", IN_ORDER)
def test_words(rule_id: str) -> None:
    """A rule has a sentence for kept and another one for broken, from facts alone."""
    kept, broken, held = WORDS[rule_id]
    told = RULE_BY_ID[rule_id].reason(kept), RULE_BY_ID[rule_id].rejection(broken)
    assert told[0] != told[1]
    for text in told:
        assert held in text
        assert text.endswith(".")


def test_kinds_of_rules() -> None:
    """What looks at one part, and what looks at a chain, is told apart by type."""
    assert [rule.id for rule in PART_RULES] == ["pattern", "fuel", "pressure", "supply", "wish"]
    assert [rule.id for rule in CHAIN_RULES] == ["reach", "clearance"]
