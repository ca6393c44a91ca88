"""All texts of many answers: every quantity in both systems, whole sentences, the safety texts with every answer."""

import re
from itertools import chain
from typing import Any

import pytest

from service.domain import units
from service.explain.checks import WORDS
from service.explain.safety import SAFETY
from service.rules import RULE_BY_ID
from tests.explain.answers import Json, answered, texts
from tests.support.catalogs import changed, small_catalog

BROOK = {"chassis": "brook", "layout": "through-return"}
FACTORY = {"chassis": "brook", "layout": "factory"}
HERON = {"chassis": "heron", "layout": "linked-banks"}

ASKED: dict[str, tuple[Json, Json]] = {
    "through": (BROOK, {}),
    "two banks, gauge": (HERON | {"gauge": "any"}, {}),
    "factory, add-on": (FACTORY | {"addons": ["blower"]}, {}),
    "no room along": (BROOK | {"clearances": [{"spot": "left", "axial_mm": 7.4}]}, {}),
    "no room across": (BROOK | {"clearances": [{"spot": "left", "across_mm": 3.1}]}, {}),
    "too much pressure": (BROOK | {"boost_kpa": 712.5}, {}),
    "too much power": (BROOK | {"power_kw": 2000}, {}),
    "too fast": (BROOK | {"power_kw": 900, "feed_hose_m": 0}, {"/policies/max_velocity_m_s": 0.3}),
    "out of reach": (FACTORY, {"/chassis/0/hookups/0/spots/left/min_mm": 35.5}),
    "hose too long": (BROOK | {"feed_hose_m": 100, "power_kw": 600}, {}),
    "too dear": (FACTORY | {"max_price": 1}, {}),
    "another car": (HERON | {"chassis": "brook"}, {}),
    "weak material": (BROOK | {"fuel": "e85"}, {"/materials/1/ratings/e85": "C"}),
    "unfit material": (BROOK | {"fuel": "e85"}, {"/materials/1/ratings/e85": "D"}),
    "elsewhere": (HERON, {"/items/6/sold": False}),
    "out of stock": (HERON | {"in_stock_only": True}, {"/items/4/stock": 0}),
    "retired": (BROOK, {"/items/1/status": "retired"}),
}

PER_METRIC = {
    ("mm", "in"): 1 / units.MM_PER_IN,
    ("kPa", "psi"): 1 / units.KPA_PER_PSI,
    ("L/h", "US gal/h"): 1 / units.L_PER_US_GAL,
    ("m/s", "ft/s"): 1 / units.M_PER_FT,
    ("m", "ft"): 1 / units.M_PER_FT,
    ("kW", "hp"): 1 / units.KW_PER_HP,
}
QUANTITY = re.compile(r"(?<![\w.])([\d.]+) ?(mm|cm|m|kPa|bar|Pa|L/h|m/s|kW|N·m)(?![\w/·])(?: \(([\d.]+) ([\w /·]+)\))?")
BARE_NUMBER = re.compile(r"(?<![\w.])\d[\d.]*(?![\w.])")


def nameless_catalog(changes: Json) -> Json:
    """The small catalog with names that hold no number, so that every number in a text is the service's own."""
    catalog = changed(small_catalog(), changes)
    for section in ("port_standards", "fuels", "materials", "items", "chassis", "addons", "layouts"):
        for element in catalog[section]:
            element["name"] = re.sub(r"[\d/]+", "N", element["name"])
    return catalog


def told(name: str) -> list[str]:
    """The texts of an answer."""
    asked, changes = ASKED[name]
    found = list(texts(answered(nameless_catalog(changes), asked)))
    assert found
    return found


@pytest.mark.parametrize("name", ASKED)
def test_quantities_in_both_systems(name: str) -> None:
    """Each length, pressure, flow and velocity has its customary value behind it, and the two agree."""
    for text in told(name):
        for metric, unit, customary, customary_unit in QUANTITY.findall(text):
            assert (unit, customary_unit) in PER_METRIC, text
            ratio = float(customary) / float(metric)
            assert ratio == pytest.approx(PER_METRIC[unit, customary_unit], rel=0.06), text


def test_every_kind_of_quantity_is_told() -> None:
    """The answers above do speak of lengths, pressures, flows and velocities."""
    spoken = {(unit, other) for text in chain(*map(told, ASKED)) for _, unit, _, other in QUANTITY.findall(text)}
    assert spoken == set(PER_METRIC)


@pytest.mark.parametrize("text", ["Stands 26 mm proud.", "Loses 3.2 kPa (0.46 bar).", "Is 1.2 m long.", "At 90 L/h."])
def test_a_quantity_in_one_system_would_be_seen(text: str) -> None:
    """What the test above looks for, it finds."""
    found: list[tuple[str, ...]] = QUANTITY.findall(text)
    assert [(unit, other) for _, unit, _, other in found if (unit, other) in PER_METRIC] == []
    assert len(found) == 1


@pytest.mark.parametrize("name", ASKED)
def test_numbers_have_their_unit(name: str) -> None:
    """A number in a text is a quantity with its unit, or a count of something named."""
    for text in told(name):
        rest = QUANTITY.sub("", text)
        counted = re.sub(
            r"\d+ (in stock|needed|joints?|parts|other parts|valid bills|days? to get|minor units|was asked for)"
            r"|at most \d+ (?=was)|OVC [\d.]+|[-\d.]+ °C \([-\d.]+ °F\)|[\d.]+ %",
            "",
            rest,
        )
        assert not BARE_NUMBER.search(counted), text


@pytest.mark.parametrize("name", ASKED)
def test_texts_are_sentences(name: str) -> None:
    """A text starts with a capital or a number, ends with a full stop, and leaves no value unsaid or doubled."""
    for text in told(name):
        assert re.fullmatch(r"[A-Z\d].*\.", text), text
        assert not re.search(r"None|True|False|nan|\binf\b|[{}\[\]]|  |\.\.| ,|'", text), text


@pytest.mark.parametrize("name", ASKED)
def test_safety_is_always_said(name: str) -> None:
    """Every answer carries all safety texts, whether it has bills or none."""
    asked, changes = ASKED[name]
    assert answered(nameless_catalog(changes), asked)["safety"] == list(SAFETY)


OF_POWER = {"power", "regulator"}
"""Rules that only caution: of the power that is assumed, and of what a regulator can be set to."""


def reasons_of(answer: Any) -> list[dict[str, Any]]:
    """Every reason, caution and rejection of an answer."""
    bills = answer["bills"]
    lines = [line for bill in bills for line in bill["lines"]]
    found = [reason for line in lines for reason in line["reasons"]]
    return [*found, *(caution for bill in bills for caution in bill["cautions"]), *answer["ruled_out"]]


@pytest.mark.parametrize("name", ASKED)
def test_reasons_name_their_rule(name: str) -> None:
    """Every line has reasons, and each reason, caution and rejection names a rule and its facts."""
    asked, changes = ASKED[name]
    answer = answered(nameless_catalog(changes), asked)
    assert all(line["reasons"] for bill in answer["bills"] for line in bill["lines"])
    for reason in reasons_of(answer):
        assert reason["rule"] in {*RULE_BY_ID, *WORDS, *OF_POWER}
        assert reason["facts"], reason


def test_the_answers_speak_of_all_rules_but_simple() -> None:
    """The texts above come from every rule; only long chains, which the small catalog has not, speak of `simple`."""
    spoken = {
        reason["rule"]
        for asked, changes in ASKED.values()
        for reason in reasons_of(answered(changed(small_catalog(), changes), asked))
    }
    assert spoken - WORDS.keys() - OF_POWER == set(RULE_BY_ID) - {"simple"}
