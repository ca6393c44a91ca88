"""Whole order checks, word for word, as kept in the folder `golden_orders`; of the bill price and chains.

After a deliberate change of words, run these tests with PORTWRIGHT_REWRITE_GOLDEN=1 and read the difference.
"""

import json
from pathlib import Path
from typing import Any

import pytest
from pydantic import TypeAdapter

from service.documents.order_answer import OrderResult
from tests.explain.test_golden import REWRITE
from tests.support.builders import HOSE, LINKED, Json, catalog, twin
from tests.support.engine import edition
from tests.support.order_checks import RIGHT, checked, checked_in, lines

GOLDEN = Path(__file__).parent / "golden_orders"

BROOK: Json = {"chassis": "brook"}
VARIANTS: list[Json] = [
    {"items/PLUG-B8/family": "plug", "items/PLUG-B8/finish": "slate"},
    {"items/-": twin("PLUG-B8", "PLUG-N", family="plug", finish="black", price=950)},
    {"items/-": twin("PLUG-B8", "PLUG-1", status="retired", superseded_by="PLUG-B8")},
]
SITUATIONS: dict[str, tuple[str, Json, Json, list[Json]]] = {
    "complete_of_any_layout": ("complete", RIGHT | {"SEAL-B8": 3, "SCREW-6": 2}, BROOK, []),
    "short_on_two_banks": (
        "short",
        {"RAIL-S": 1, "SPIGOT-B8-Q": 1, "PLUG-B8": 2},
        LINKED | {"gauge": "1.top"},
        [{"items/LINE-F6/sold": False}],
    ),
    "surplus_for_three_sets": (
        "surplus",
        {"RAIL-S": 3, "ADAPT-B8-F6": 3, "PLUG-1": 5, "PLUG-T": 3, "GAUGE-T": 1},
        HOSE | {"sets": 3, "gauge": "none", "have": [{"sku": "PLUG-B8", "qty": 2}]},
        VARIANTS,
    ),
    "wrong_with_swaps": (
        "wrong",
        {"RAIL-S": 1, "SPIGOT-B8-Q": 1, "PLUG-N": 1, "PLUG-T": 1, "SEAL-B8": 6, "SCREW-6-LONG": 2, "PLUG-B9": 1},
        HOSE,
        VARIANTS,
    ),
    "impossible_in_any_layout": ("impossible", RIGHT, BROOK | {"power_kw": 2000}, []),
}


@pytest.mark.parametrize("name", SITUATIONS)
def test_word_for_word(name: str) -> None:
    """The check is the one that was read and kept."""
    verdict, units, asked, changes = SITUATIONS[name]
    document = checked(units, asked, *changes)
    assert document["verdict"] == verdict
    text = json.dumps(_with_less_of_the_bill(document), indent=2, ensure_ascii=False) + "\n"
    path = GOLDEN / f"{name}.json"
    if REWRITE:
        path.parent.mkdir(exist_ok=True)
        path.write_text(text, encoding="utf-8")
    assert text == path.read_text(encoding="utf-8")


def _with_less_of_the_bill(document: Json) -> Json:
    """Without what the golden bills show already; facts to six digits, which every platform works out alike."""
    bill = document["bill"]
    less = None if bill is None else {name: bill[name] for name in ("price", "chains")}
    rounded: Json = _to_six_digits(document | {"bill": less})
    return rounded


def _to_six_digits(value: Any) -> Any:
    if isinstance(value, dict):
        return {name: _to_six_digits(held) for name, held in value.items()}
    if isinstance(value, list):
        return [_to_six_digits(held) for held in value]
    return float(f"{value:.6g}") if isinstance(value, float) else value


def test_every_file_is_compared() -> None:
    """The folder holds no check that no test reads."""
    assert {path.stem for path in GOLDEN.iterdir()} == set(SITUATIONS)


@pytest.mark.parametrize("name", SITUATIONS)
def test_same_order_same_text(name: str) -> None:
    """Asked again, and with the items in another order, the check is the same letter for letter."""
    _, units, asked, changes = SITUATIONS[name]
    first = json.dumps(checked(units, asked, *changes))
    assert json.dumps(checked(units, asked, *changes)) == first
    turned = catalog(*changes)
    turned["items"].reverse()
    assert json.dumps(checked_in(edition(turned), asked | {"lines": lines(units)})) == first


@pytest.mark.parametrize("name", SITUATIONS)
def test_is_a_result_document(name: str) -> None:
    """The check has the fields and types that its schema says, through JSON and back."""
    _, units, asked, changes = SITUATIONS[name]
    document = checked(units, asked, *changes)
    adapter = TypeAdapter(OrderResult)
    assert adapter.validate_python(document, strict=True) == document
    assert adapter.validate_json(json.dumps(document), strict=True) == document


def test_no_text_names_a_rule_or_a_field() -> None:
    """Sentences are for people: rules stand in their own field."""
    for _, units, asked, changes in SITUATIONS.values():
        document = checked(units, asked, *changes)
        told = [change["why"] for name in ("add", "remove", "swap") for change in document[name]]
        told += [one["text"] for name in ("extras", "notes", "reasons") for one in document[name]]
        assert told
        for text in told:
            assert text[0].isupper() or text[0] in "“1P", text
            assert text.endswith("."), text
            assert "_" not in text, text
