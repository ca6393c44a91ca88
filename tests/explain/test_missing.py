"""What was missing, in words that are the same for like questions and differ where something else was missing."""

from typing import Any

import pytest

from service.explain.missing import ENOUGH, UNTOLD, missing
from service.rules import RULES, wish
from tests.explain.answers import answered
from tests.support.catalogs import changed, small_catalog

ASKED = {"chassis": "brook", "layout": "hose-centre"}


def test_every_rule_has_words() -> None:
    """Of the rule `wish`, every wish that rules a part out; and no two say the same."""
    words = [rule.missing({}) for rule in RULES if rule is not wish.RULE]
    words += [wish.RULE.missing({"wish": name}) for name in wish.MISSING]
    assert len(set(words)) == len(words)
    assert all(word.endswith(".") for word in words)


CASES: dict[str, tuple[dict[str, Any], str | None, str | None, str]] = {
    "room": ({"clearances": [{"spot": "left", "axial_mm": 0.1}]}, "clearance", "left", "There is too little room."),
    "fuel": ({"power_kw": 4000}, "flow", "centre", "None lets enough fuel through."),
    "money": ({"max_price": 1}, "wish", None, "They cost more than was to be spent."),
    "finish": ({"finish": "gold"}, "wish", None, "None has the finish that is wished for."),
    "rail excluded": ({"exclude": ["RAIL-S"]}, "wish", None, "What would do was not to be used."),
    "gauge": ({"gauge": "centre"}, "wish", None, "None takes the gauge that is wished for."),
}


@pytest.mark.parametrize("name", list(CASES))
def test_what_was_missing_is_told(name: str) -> None:
    """The rule and the spot of the first conflict, with the sentence of the spot and that of the rule."""
    wish, rule, spot, words = CASES[name]
    answer = answered(small_catalog(), ASKED | wish)
    told = missing(answer["stories"], answer["total_valid"])
    cause = answer["stories"][0]["causes"][0]
    assert (told["rule"], told["spot"], told["duty"]) == (rule, spot, cause["duty"])
    assert told["text"] == f"{cause['text']} {words}"


@pytest.mark.parametrize(
    ("layout", "words"), [("linked-banks", "another number of banks"), ("factory", "the line that")]
)
def test_a_layout_that_does_not_go_with_the_car(layout: str, words: str) -> None:
    """Says why: its banks, or a line that the car does not offer."""
    hookups = {"/chassis/0/hookups/0/id": "bulkhead"} if layout == "factory" else {}
    answer = answered(changed(small_catalog(), hookups), ASKED | {"layout": layout})
    told = missing(answer["stories"], answer["total_valid"])
    assert (told["rule"], told["spot"]) == ("layout", None)
    assert words in told["text"]


def test_like_questions_say_the_same() -> None:
    """Whatever part comes nearest, and by how much it misses."""
    texts = set()
    for axial_mm in (0.1, 0.5, 1.0):
        answer = answered(small_catalog(), ASKED | {"clearances": [{"spot": "left", "axial_mm": axial_mm}]})
        texts.add(missing(answer["stories"], answer["total_valid"])["text"])
    assert len(texts) == 1


def test_bills_that_are_not_wanted() -> None:
    """Nothing is missing that the rules know of."""
    answer = answered(small_catalog(), ASKED)
    assert missing(answer["stories"], answer["total_valid"])["text"] == ENOUGH


def test_no_cause() -> None:
    """Where no conflict is told, none is made up."""
    assert missing([], 0) == {"rule": None, "spot": None, "duty": None, "text": UNTOLD}
