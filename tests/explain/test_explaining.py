"""Explanations in words: typical questions on the catalog of `seed_data/`, as a counter person reads the answers aloud.

The texts are kept in `golden/explanations.txt`; PORTWRIGHT_REWRITE_GOLDEN=1 writes them anew, to be read before they
are kept.
"""

import json
import os
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from pydantic import TypeAdapter

from service.documents.explain import ExplainRequest, Explanation
from service.documents.folder import load_catalog
from service.explain.safety import SAFETY
from service.rules import RULE_BY_ID
from service.usecases.explain_part import explain_in
from service.usecases.library import Edition
from tests.explain.answers import texts
from tests.explain.test_texts import BARE_NUMBER, PER_METRIC, QUANTITY, nameless_catalog
from tests.support.engine import edition

Json = dict[str, Any]
GOLDEN = Path(__file__).parent / "golden" / "explanations.txt"
REWRITE = os.environ.get("PORTWRIGHT_REWRITE_GOLDEN") == "1"
SEED_DATA = Path(__file__).parents[2] / "seed_data"

CENTRE = {"chassis": "fennic-20", "layout": "own-hose-6-centre"}
QUESTIONS: dict[str, Json] = {
    "a part that goes in": {"request": CENTRE, "sku": "adapter-8-flare-6-nitrile", "spot": "centre"},
    "a plug under a blower's plate": {
        "request": CENTRE | {"addons": ["blower-tor"]},
        "sku": "plug-8-hollow-satin",
        "spot": "right",
    },
    "a little less room than it needs": {
        "request": CENTRE | {"clearances": [{"spot": "centre", "axial_mm": 27.6}]},
        "sku": "adapter-8-flare-6-nitrile",
        "spot": "centre",
    },
    "a part from elsewhere, where one that is sold does": {"request": CENTRE, "sku": "plug-8-low", "spot": "left"},
    "another plug than the rail's own": {"request": CENTRE, "sku": "plug-taper-brass", "spot": "top"},
    "a gauge that nobody asked for": {"request": CENTRE, "sku": "gauge-1000-satin"},
    "a gauge under a strut brace": {
        "request": {"chassis": "fennic-20", "layout": "return-6", "gauge": "top", "addons": ["strut-brace"]},
        "sku": "gauge-1000-satin",
        "spot": "top",
    },
    "more power than the adapter carries": {
        "request": {"chassis": "pellam-33", "layout": "own-hose-6-centre", "power_kw": 900},
        "sku": "adapter-8-flare-6-nitrile",
        "spot": "centre",
    },
    "seals that do not stand the fuel": {
        "request": CENTRE | {"fuel": "e85"},
        "sku": "adapter-8-flare-6-nitrile",
        "spot": "centre",
    },
    "a rail for another engine, in another finish": {
        "request": CENTRE | {"finish": "graphite"},
        "sku": "rail-mere-5-bronze",
    },
    "a rail that is dearer than the budget": {"request": CENTRE | {"max_price": 20_000}, "sku": "rail-tor-4-satin"},
    "a hose at hand that nothing needs": {
        "request": CENTRE | {"have": [{"sku": "line-link-6-rubber", "qty": 2}]},
        "sku": "line-link-6-rubber",
    },
    "more plugs at hand than spots": {
        "request": CENTRE | {"have": [{"sku": "plug-8-hollow-satin", "qty": 5}]},
        "sku": "plug-8-hollow-satin",
    },
    "sealant": {"request": CENTRE | {"gauge": "top"}, "sku": "sealant-thread"},
    "a layout for other banks": {
        "request": {"chassis": "fennic-20", "layout": "pair-own-hose-6-link"},
        "sku": "plug-8-hollow-satin",
    },
}


@pytest.fixture(scope="module")
def explained() -> dict[str, Json]:
    ready = Edition(1, load_catalog(SEED_DATA))
    return {
        name: dict(explain_in(ready, ExplainRequest.model_validate(question))) for name, question in QUESTIONS.items()
    }


def test_word_for_word(explained: dict[str, Json]) -> None:
    """The words are those that were read and kept."""
    told = "\n".join(_told(name, answer) for name, answer in explained.items())
    if REWRITE:
        GOLDEN.write_text(told, encoding="utf-8")
    assert told == GOLDEN.read_text(encoding="utf-8")


def _told(name: str, answer: Json) -> str:
    lines = [f"{name}:", f"  {answer['text']}"]
    for verdict in answer["verdicts"]:
        lines.append(f"  - {verdict['text']}")
        lines += [f"    + {rule['text']} {rule['margin']['text']}" for rule in verdict["rules"] if _is_left(rule)]
    return "\n".join(lines) + "\n"


def _is_left(rule: Json) -> bool:
    return rule["margin"] is not None and rule["margin"]["left"] >= 0


def test_is_an_explanation_document(explained: dict[str, Json]) -> None:
    """The answers have the fields and types that their schema says, through JSON and back, and the safety texts."""
    adapter = TypeAdapter(Explanation)
    for answer in explained.values():
        assert adapter.validate_python(answer, strict=True) == answer
        assert adapter.validate_json(json.dumps(answer), strict=True) == answer
        assert answer["safety"] == list(SAFETY)
        assert answer["in_bills"] == bool(answer["where"])
        assert answer["text"].startswith("Yes, " if answer["in_bills"] else "No, ")


BROOK = {"chassis": "brook", "layout": "through-return"}
ROOMLESS = {"clearances": [{"spot": "left", "axial_mm": 7.4, "across_mm": 3.1}]}
ASKED: dict[str, tuple[Json, Json]] = {
    "stands": (BROOK, {}),
    "no room": (BROOK | ROOMLESS, {}),
    "too much pressure": (BROOK | {"boost_kpa": 712.5}, {}),
    "too much power": (BROOK | {"power_kw": 2000}, {}),
    "out of reach": (BROOK | {"layout": "factory"}, {"/chassis/0/hookups/0/spots/left/min_mm": 35.5}),
    "hose too long": (BROOK | {"feed_hose_m": 100, "power_kw": 600}, {}),
    "too dear": (BROOK | {"max_price": 1}, {}),
    "unfit": (BROOK | {"fuel": "e85", "finish": "red", "addons": ["blower"]}, {"/materials/1/ratings/e85": "D"}),
    "out of stock": (BROOK | {"in_stock_only": True, "exclude": ["PLUG-T"]}, {"/items/3/stock": 1}),
    "at hand": (BROOK | {"have": [{"sku": "LINE-F6", "qty": 3}, {"sku": "REG-F6", "qty": 2}]}, {}),
    "two banks": ({"chassis": "heron", "layout": "linked-banks", "gauge": "1.top"}, {}),
    "another car": (BROOK | {"chassis": "heron"}, {}),
}


@pytest.fixture(scope="module")
def sentences() -> dict[str, list[str]]:
    """Every text of the explanations of every part, of a catalog whose names have no numbers."""
    found = {}
    for name, (asked, changes) in ASKED.items():
        catalog = nameless_catalog(changes)
        ready = edition(catalog)
        told = [
            explain_in(ready, ExplainRequest.model_validate({"request": asked, "sku": item["sku"]}))
            for item in catalog["items"]
        ]
        found[name] = [text for answer in told for text in _texts(dict(answer))]
    return found


def _texts(answer: Json) -> Iterator[str]:
    yield from texts({name: value for name, value in answer.items() if name != "safety"})


@pytest.mark.parametrize("name", ASKED)
def test_texts_are_sentences(sentences: dict[str, list[str]], name: str) -> None:
    """With a capital or a number first, a full stop last, no rule id or field name, and no value unsaid."""
    words = "|".join([*(rule for rule in RULE_BY_ID if rule not in _PLAIN), "max_price", "boost_kpa", r"\w+_\w+"])
    for text in sentences[name]:
        assert re.fullmatch(r"[A-Z\d“].*\.", text), text
        assert not re.search(r"None|True|False|nan|\binf\b|[{}\[\]]|  |\.\.| ,|'", text), text
        assert not re.search(rf"\b({words})\b", text), text


_PLAIN = {"layout", "mates", "closed", "simple", "reach", "fuel", "pressure", "flow", "pattern", "mounting", "wish"}
"""Rules whose ids are plain words that a sentence may use."""


@pytest.mark.parametrize("name", ASKED)
def test_quantities_are_told_in_both_systems(sentences: dict[str, list[str]], name: str) -> None:
    """Every number has its unit and its customary value, or counts something that is named."""
    counted = (
        r"\d+ (in stock|needed|parts|valid bills|too few|to spare|of it already)|OVC \d[\d,]*\.\d\d|more than \d+,"
        r"|\d+\.(left|right|centre|top)"
    )
    for text in sentences[name]:
        for metric, unit, customary, customary_unit in QUANTITY.findall(text):
            assert (unit, customary_unit) in PER_METRIC, text
            assert float(customary) == pytest.approx(float(metric) * PER_METRIC[unit, customary_unit], rel=0.06), text
        assert not BARE_NUMBER.search(re.sub(counted, "", QUANTITY.sub("", text))), text
