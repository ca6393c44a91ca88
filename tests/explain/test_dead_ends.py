"""Ten typical dead ends on the catalog of `seed_data/`, in the words that a counter person reads aloud.

The texts are kept in `golden/dead_ends.txt`; PORTWRIGHT_REWRITE_GOLDEN=1 writes them anew, to be read before they are
kept.
"""

import json
import os
import re
from pathlib import Path
from typing import Any

import pytest

from service.documents.catalog import Catalog
from service.documents.folder import load_catalog
from service.documents.request import BillRequest
from service.rules import RULE_BY_ID
from service.usecases.find_bills import answer_in
from service.usecases.library import Edition

Json = dict[str, Any]
GOLDEN = Path(__file__).parent / "golden" / "dead_ends.txt"
REWRITE = os.environ.get("PORTWRIGHT_REWRITE_GOLDEN") == "1"
SEED_DATA = Path(__file__).parents[2] / "seed_data"

BLOWER = {"chassis": "fennic-20", "layout": "own-hose-6-centre", "addons": ["blower-tor"]}
DEAD_ENDS: dict[str, Json] = {
    "a blower's plate over a spot, and nothing from elsewhere": BLOWER | {"allow_unsold": False},
    "less room than any plug needs": {
        "chassis": "brae-20",
        "layout": "own-hose-6-centre",
        "clearances": [{"spot": "left", "axial_mm": 3.5}],
    },
    "a gauge where the fuel comes in": {"chassis": "fennic-20", "layout": "own-hose-6-centre", "gauge": "centre"},
    "a gauge under a strut brace": {
        "chassis": "fennic-20",
        "layout": "return-6",
        "gauge": "top",
        "addons": ["strut-brace"],
    },
    "a finish that is not in stock": {
        "chassis": "pellam-33",
        "layout": "own-hose-8-side",
        "finish": "graphite",
        "in_stock_only": True,
    },
    "more power than the plumbing carries": {"chassis": "pellam-33", "layout": "own-hose-6-centre", "power_kw": 900},
    "more boost than the regulator stands": {
        "chassis": "fennic-20",
        "layout": "return-6-regulator",
        "boost_kpa": 700,
    },
    "too little money": {"chassis": "sedge-12", "layout": "factory-line", "max_price": 10000},
    "every plug excluded": {
        "chassis": "tarn-20",
        "layout": "return-6",
        "exclude": ["plug-8-hollow-satin", "plug-8-hollow-graphite", "plug-8-low"],
    },
    "a car that does not offer the hookup": {"chassis": "brae-20", "layout": "bulkhead-centre", "gauge": "any"},
}


@pytest.fixture(scope="module")
def edition() -> Edition:
    catalog: Catalog = load_catalog(SEED_DATA)
    return Edition(1, catalog)


@pytest.fixture(scope="module")
def answers(edition: Edition) -> dict[str, Json]:
    return {name: dict(answer_in(edition, BillRequest.model_validate(asked))) for name, asked in DEAD_ENDS.items()}


def test_word_for_word(answers: dict[str, Json]) -> None:
    told = "\n".join(_told(name, answer) for name, answer in answers.items())
    if REWRITE:
        GOLDEN.write_text(told, encoding="utf-8")
    assert told == GOLDEN.read_text(encoding="utf-8")


def _told(name: str, answer: Json) -> str:
    stories = [f"  {story['text']}\n" for story in answer["stories"]]
    repairs = [f"  - {repair['text']}\n" for repair in answer["repairs"]]
    return f"{name}:\n{''.join(stories)}{''.join(repairs)}"


@pytest.mark.parametrize("name", DEAD_ENDS)
def test_reads_well_aloud(answers: dict[str, Json], edition: Edition, name: str) -> None:
    """No rule ids or field names, lengths, pressures and flows in both systems, whole sentences."""
    answer = answers[name]
    assert answer["total_valid"] == 0
    texts = [story["text"] for story in answer["stories"]] + [repair["text"] for repair in answer["repairs"]]
    assert texts
    fields = {field for field in BillRequest.model_fields if "_" in field} | {"axial_mm", "across_mm"}
    names = sorted((item.name for item in edition.catalog.items), key=len, reverse=True)
    for text in texts:
        for part in names:
            text = text.replace(part, "It")
        assert text.endswith(".")
        assert text[0].isupper() or text[0].isdigit()
        assert not [word for word in fields if word in text]
        assert "_" not in text
        assert not re.search(r"\d (mm|kPa|L/h|m/s|kW)(?! \()", text)


def test_the_tree_says_what_the_sentences_say(answers: dict[str, Json]) -> None:
    """Every cause of the tree is told, under a rule that there is, and the whole is plain JSON."""
    for answer in answers.values():
        json.dumps(answer, allow_nan=False)
        assert [story["wishes"] for story in answer["stories"]] == answer["conflicts"]
        for story in answer["stories"]:
            assert story["causes"]
            for cause in story["causes"]:
                assert cause["text"] in story["text"]
                for stopped in cause["causes"]:
                    assert stopped["text"] in story["text"]
                    assert stopped["rule"] in RULE_BY_ID
