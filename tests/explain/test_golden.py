"""Whole answers, word for word, as kept in the folder `golden`.

After a deliberate change of words or figures, run these tests with PORTWRIGHT_REWRITE_GOLDEN=1: the files are written
anew. Read the difference before it is kept. Figures are kept to nine digits, which every platform works out alike.
"""

import json
import os
from pathlib import Path
from typing import Any

import pytest
from pydantic import TypeAdapter

from service.documents.answer import Answer
from tests.explain.answers import answered
from tests.support.catalogs import changed, small_catalog

GOLDEN = Path(__file__).parent / "golden"
REWRITE = os.environ.get("PORTWRIGHT_REWRITE_GOLDEN") == "1"

ONE_BANK = {"chassis": "brook", "layout": "through-return", "gauge": "top"}
TWO_BANKS = {"chassis": "heron", "layout": "linked-banks", "fuel": "e85"}
NOTHING_FITS = {
    "chassis": "brook",
    "layout": "through-return",
    "addons": ["blower"],
    "clearances": [{"spot": "left", "across_mm": 24.5}],
    "exclude": ["PLUG-B8"],
}
# The line of the link is bought elsewhere, the adapters may be replaced, and one material has its weakness.
VARIED = {
    "/items/6/sold": False,
    "/items/3/family": "adapter",
    "/items/-": small_catalog()["items"][3] | {"sku": "ADAPT-B8-F6-M", "family": "adapter", "price": 1600},
    "/materials/1/ratings/e85": "C",
}
SITUATIONS: dict[str, tuple[dict[str, Any], dict[str, Any], int]] = {
    "one_bank_with_gauge_and_side_plug": ({}, ONE_BANK, 1),
    "two_banks_linked": (VARIED, TWO_BANKS, 1),
    "nothing_fits": ({}, NOTHING_FITS, 0),
}


def _to_nine_digits(value: object) -> object:
    if isinstance(value, dict):
        return {name: _to_nine_digits(held) for name, held in value.items()}
    if isinstance(value, list):
        return [_to_nine_digits(held) for held in value]
    return float(f"{value:.9g}") if isinstance(value, float) else value


@pytest.mark.parametrize("name", SITUATIONS)
def test_word_for_word(name: str) -> None:
    """The answer is the one that was read and kept."""
    changes, asked, total_valid = SITUATIONS[name]
    answer = answered(changed(small_catalog(), changes), asked)
    assert answer["total_valid"] == total_valid
    text = json.dumps(_to_nine_digits(answer), indent=2, ensure_ascii=False) + "\n"
    path = GOLDEN / f"{name}.json"
    if REWRITE:
        path.write_text(text, encoding="utf-8")
    assert text == path.read_text(encoding="utf-8")


def test_every_file_is_compared() -> None:
    """The folder holds no answer that no test reads."""
    assert {path.stem for path in GOLDEN.glob("*.json")} == set(SITUATIONS)


@pytest.mark.parametrize("name", SITUATIONS)
def test_same_request_same_text(name: str) -> None:
    """Asked again, and with the items in another order, the answer is the same letter for letter."""
    changes, asked, _ = SITUATIONS[name]
    catalog = changed(small_catalog(), changes)
    first = json.dumps(answered(catalog, asked))
    assert json.dumps(answered(catalog, asked)) == first
    catalog["items"].reverse()
    assert json.dumps(answered(catalog, asked)) == first


@pytest.mark.parametrize("name", SITUATIONS)
def test_is_an_answer_document(name: str) -> None:
    """The answer has the fields and types that its schema says, through JSON and back."""
    changes, asked, _ = SITUATIONS[name]
    answer = answered(changed(small_catalog(), changes), asked)
    adapter = TypeAdapter(Answer)
    assert adapter.validate_python(answer, strict=True) == answer
    assert adapter.validate_json(json.dumps(answer), strict=True) == answer


def test_golden_answers_cover_what_they_are_for() -> None:
    """The kept answers have a gauge, a side plug, a link, a part from elsewhere, choices and a weak material."""
    one, two, none = (json.loads((GOLDEN / f"{name}.json").read_text(encoding="utf-8")) for name in SITUATIONS)
    assert one["bills"][0]["duties"]["top"] == "gauge"
    assert one["bills"][0]["chains"]["right"] == ["ADAPT-B8-F6", "REG-F6", "PLUG-T"]
    assert two["bills"][0]["chains"]["1.right"] == ["ADAPT-B8-F6", "LINE-F6", "ADAPT-B8-F6"]
    assert {line["source"] for line in two["bills"][0]["lines"]} == {"buy", "elsewhere", "supplied"}
    assert any(line["choices"] for line in two["bills"][0]["lines"])
    assert "fuel" in {caution["rule"] for caution in two["bills"][0]["cautions"]}
    assert none["bills"] == []
    assert none["ruled_out"]
