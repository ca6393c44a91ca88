"""A rule that no module of the service knows is right wherever rules speak: it has only to stand in the list."""

from random import Random

import pytest

from service.explain.missing import missing
from service.rules import Rule
from tests.support import brute_wishes
from tests.support.brute_force import all_bills
from tests.support.builders import HOSE, LINKED, Json, catalog, room, twin
from tests.support.comparison import differences, why_differences
from tests.support.engine import answer, answer_from, edition
from tests.support.explaining import at, change, explain, stopped_by
from tests.support.foreign_rules import (
    BEND,
    PLAIN_BEND,
    PLAIN_SURGE,
    SURGE_RULE,
    put_in,
    teach_bend,
    teach_surge,
)
from tests.support.order_checks import checked, swaps
from tests.support.random_questions import catalog_with_bills
from tests.support.random_requests import TOO_MUCH, known_spots, random_request
from tests.support.reading import ask, cautions, ruled_out, said, stands

LONG = twin("ADAPT-B8-F6", "ADAPT-LONG", standout_mm=33.0, price=100)
TIGHT = "clearances/1.right/axial_mm"
NEEDS = "The line needs 64 mm at the 1.right spot to bend."


def within(axial_mm: float, **more: object) -> Json:
    """A linked layout with so much room at one end of the link; its adapter and line need 26 + 2 * 19 mm there."""
    return LINKED | {"clearances": [room("1.right", axial_mm)]} | more


@pytest.fixture(params=[BEND, PLAIN_BEND], ids=["bend", "plain bend"])
def bend(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> Rule:
    """The rule for chains, in the list: with all that it may tell, and with what it must."""
    rule: Rule = request.param
    put_in(monkeypatch, rule)
    return rule


def test_without_the_rule_there_are_bills() -> None:
    assert ask(catalog(), within(63.9))["total_valid"] == 1


def test_bills_and_what_is_ruled_out(bend: Rule) -> None:
    """To the very limit; with the words of the rule, both for kept and for broken."""
    assert ask(catalog(), within(64.0))["total_valid"] == 1
    tight = ask(catalog(), within(63.9))
    assert tight["total_valid"] == 0
    assert ruled_out(tight, "ADAPT-B8-F6", "1.right") == [("bend", NEEDS)]
    both = ask(catalog({"items/-": LONG}), within(70.0))
    assert stands(both, "ADAPT-B8-F6", "1.right")
    assert ruled_out(both, "ADAPT-LONG", "1.right") == [("bend", NEEDS.replace("64", "71"))]
    assert "At the 1.right spot the line has room to bend: it needs 64 mm." in said(both, "ADAPT-B8-F6", "bend")


def test_conflicts_and_the_repair_with_its_number(bend: Rule) -> None:
    """The least room that does, to a tenth; with another wish that has nothing to do with it."""
    tight = ask(catalog(), within(63.9, power_kw=171.0))
    assert tight["conflicts"] == [[TIGHT]]
    assert [(repair["change"], repair["total_valid"]) for repair in tight["repairs"]] == [({TIGHT: 64.0}, 1)]
    (cause,) = tight["stories"][0]["causes"]
    assert [(stopped["rule"], stopped["sku"]) for stopped in cause["causes"]] == [("bend", "ADAPT-B8-F6")]
    told = missing(tight["stories"], 0)
    assert told["rule"] == "bend"
    assert told["text"].endswith("No line has room to bend." if bend is BEND else bend.missing({}))


@pytest.mark.parametrize("sku", ["ADAPT-B8-F6", "LINE-F6"])
def test_explanation_with_its_change(bend: Rule, sku: str) -> None:
    """Stopped by this rule alone, by so much where it measures; the least room lets the part in."""
    verdict = at(explain(catalog(), within(60.0), sku, "1.right"), "1.right")
    measured = (-4.0, "mm") if bend is BEND else (None, None)
    assert stopped_by(verdict) == [("bend", *measured)]
    assert change(verdict) == {TIGHT: 64.0}
    assert "it does not stand" in verdict["text"]
    assert NEEDS[:-1] in verdict["text"]
    kept = at(explain(catalog(), within(80.0), sku, "1.right"), "1.right")
    left = {rule["rule"]: rule["margin"] for rule in kept["rules"]}["bend"]
    assert (left is not None and left["left"] == 16.0) is (bend is BEND)


def test_margins_and_the_order_by_them(monkeypatch: pytest.MonkeyPatch) -> None:
    """The rule's limit is the tightest of the bill, in words of its own; of two adapters the shorter leaves more."""
    put_in(monkeypatch, BEND)
    asked = within(80.0, order_by="margin")
    found = ask(catalog({"items/-": LONG}), asked)
    first, *_, last = found["bills"]
    assert {name: first["margin"]["tightest"][name] for name in ("what", "spot", "left", "unit", "relative")} == {
        "what": "bend",
        "spot": "1.right",
        "left": 16.0,
        "unit": "mm",
        "relative": 0.2,
    }
    assert first["margin"]["tightest"]["text"] == (
        "The tightest limit is the bend allowed at the 1.right spot: 16 mm (0.63 in) is left of 80 mm (3.15 in)."
    )
    assert first["chains"]["1.right"][0] == "ADAPT-B8-F6"
    assert last["chains"]["1.right"][0] == "ADAPT-LONG"
    assert last["margin"]["tightest"]["relative"] == 0.1125


def test_what_is_said_is_of_the_request(monkeypatch: pytest.MonkeyPatch) -> None:
    """Of one catalog, asked again with other wishes: the figures of those."""
    put_in(monkeypatch, BEND)
    ready = edition(catalog())
    for axial_mm in (64.0, 80.0, 64.0):
        [bill] = answer_from(ready, within(axial_mm))["bills"]
        reasons = [reason for line in bill["lines"] for reason in line["reasons"] if reason["rule"] == "bend"]
        assert {reason["facts"]["left_mm"] for reason in reasons} == {axial_mm - 64.0}


def test_a_rail_by_somebody_else_is_not_judged(monkeypatch: pytest.MonkeyPatch) -> None:
    """What nobody knows is said, of a rule that looks at rails."""
    put_in(monkeypatch, PLAIN_SURGE)
    spots = {place: {"standard": "boss-8", "end": "female"} for place in ("left", "centre")}
    [told] = cautions(ask(catalog(), HOSE | {"own_rail": spots}), "surge")
    assert told == "By one more rule for parts your own rail was not judged: ask its maker."


def test_order_checks(bend: Rule) -> None:
    """An adapter that leaves the line no room is swapped for one that does, for this reason."""
    lines = {"RAIL-S": 2, "SPIGOT-B8-Q": 1, "PLUG-B8": 3, "LINE-F6": 1, "ADAPT-LONG": 2}
    wide = checked(lines, within(80.0), {"items/-": LONG})
    assert wide["verdict"] == "complete"
    tight = within(70.0, clearances=[room("1.right", 70.0), room("2.right", 70.0)])
    found = checked(lines, tight, {"items/-": LONG})
    assert swaps(found) == [("ADAPT-LONG", "ADAPT-B8-F6", 1, "1.right")] * 2
    assert NEEDS.replace("64", "71") in found["swap"][0]["why"]
    assert checked(lines, within(60.0))["verdict"] == "impossible"


def rooms(rng: Random, document: Json, chassis: Json) -> list[Json]:
    """Room along the axis at two spots, about as much as a line needs."""
    spots = known_spots(document, chassis)
    return [room(spot, rng.choice([25, 45, 59.96, 80])) for spot in rng.sample(spots, min(2, len(spots)))]


BENT = (9002, 9010, 9012, 9106, 9121, 9190, 9209, 9350, 9419, 9512, 9594, 9616, 9712, 9793)
SURGED = (9005, 9013, 9025, 9039, 9051, 9060, 9114, 9126, 9163, 9171, 9193, 9261, 9305, 9337, 9421)
"""Seeds of questions to which the rules make a difference, found by trying."""


@pytest.mark.parametrize(
    "rule", [BEND, PLAIN_BEND, SURGE_RULE, PLAIN_SURGE], ids=["bend", "plain bend", "surge", "plain"]
)
def test_random_questions(rule: Rule, monkeypatch: pytest.MonkeyPatch) -> None:
    """The slow checkers, once they are taught it, find the same bills, conflicts and repairs with their numbers."""
    numbers = 0
    is_bend = rule.id == "bend"
    wishes = {"clearances": rooms} if is_bend else {name: TOO_MUCH[name] for name in ("boost_kpa", "addons", "finish")}
    for seed in BENT if is_bend else SURGED:
        rng = Random(seed)
        document = catalog_with_bills(rng)
        asked = random_request(rng, document, 60 if is_bend else 20, wishes)
        asked |= {"limit": 100, "group_variants": False}
        before = len(all_bills(document, asked))
        with monkeypatch.context() as patch:
            put_in(patch, rule)
            (teach_bend if is_bend else teach_surge)(patch)
            bills = all_bills(document, asked)
            assert len(bills) != before
            found = answer(document, asked)
            assert differences(document, asked, bills, found) == []
            if not bills:
                assert not why_differences(brute_wishes.why(document, asked), found)
                numbers += any(isinstance(value, float) for x in found["repairs"] for value in x["change"].values())
    assert numbers > 1
