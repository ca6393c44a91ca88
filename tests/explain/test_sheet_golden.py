"""Whole assembly sheets, word for word, as kept in the folder `golden_sheets`.

PORTWRIGHT_REWRITE_GOLDEN=1 writes them anew. Read the difference, as a mechanic would, before it is kept.
"""

import json
import os
from pathlib import Path
from typing import Any

import pytest
from pydantic import TypeAdapter

from service.documents.sheet import Sheet
from service.explain.safety import SAFETY
from tests.explain.sheets import SITUATIONS, THROUGH_FLOW, sheet_of_best, sheet_of_seed
from tests.support.builders import catalog
from tests.support.engineering_data import told_catalog

GOLDEN = Path(__file__).parent / "golden_sheets"
REWRITE = os.environ.get("PORTWRIGHT_REWRITE_GOLDEN") == "1"


def _to_nine_digits(value: Any) -> Any:
    if isinstance(value, dict):
        return {name: _to_nine_digits(held) for name, held in value.items()}
    if isinstance(value, list):
        return [_to_nine_digits(held) for held in value]
    return float(f"{value:.9g}") if isinstance(value, float) else value


@pytest.mark.parametrize("name", SITUATIONS)
def test_word_for_word(name: str) -> None:
    """The sheet is the one that was read and kept."""
    text = json.dumps(_to_nine_digits(sheet_of_seed(SITUATIONS[name])), indent=2, ensure_ascii=False) + "\n"
    path = GOLDEN / f"{name}.json"
    if REWRITE:
        path.write_text(text, encoding="utf-8")
    assert text == path.read_text(encoding="utf-8")


def test_every_file_is_compared() -> None:
    """The folder holds no sheet that no test reads."""
    assert {path.stem for path in GOLDEN.glob("*.json")} == set(SITUATIONS)


@pytest.mark.parametrize("name", SITUATIONS)
def test_is_a_sheet_document(name: str) -> None:
    """It has the fields and types that its schema says, through JSON and back."""
    sheet = sheet_of_seed(SITUATIONS[name])
    adapter = TypeAdapter(Sheet)
    assert adapter.validate_python(sheet, strict=True) == sheet
    assert adapter.validate_json(json.dumps(sheet), strict=True) == sheet


def test_the_values_are_those_of_the_joints() -> None:
    """By hand, of the through-flow sheet: 60 to 90 degrees, 5 to 6 threads, no torque, each where it belongs."""
    steps = sheet_of_seed(THROUGH_FLOW)["steps"]
    made = {(step["spots"][0], step["standard"]): step["tightening"] for step in steps if step["onto"] is not None}
    turn = {"min_deg": 60.0, "max_deg": 90.0, "min_flats": 1.0, "max_flats": 1.5}
    threads = {"min": 5.0, "max": 6.0, "turns_past_hand": 1.0, "most_turns": 1.6}
    nothing = {"torque": None, "past_hand_tight": None, "threads": None}
    expected = {
        ("left", "orb-8"): nothing,
        ("centre", "orb-8"): nothing,
        ("right", "orb-8"): nothing,
        ("top", "taper-1-8"): nothing | {"threads": threads},
        ("left", "flare-6"): nothing | {"past_hand_tight": turn},
        ("right", "flare-6"): nothing | {"past_hand_tight": turn},
        ("centre", "taper-1-8"): nothing | {"threads": threads},
    }
    found = {
        key: {name: value for name, value in (tightening or {}).items() if name in nothing}
        for key, tightening in made.items()
    }
    assert found == expected


def test_a_gauge_is_turned_by_its_flats() -> None:
    """Where there is a gauge, and only there."""
    for asked in SITUATIONS.values():
        steps = sheet_of_seed(asked)["steps"]
        by_flats = [step["stage"] for step in steps if "never by its case" in step["text"]]
        assert by_flats == (["bench"] if "gauge" in asked else [])


def test_cautions_are_the_bill_s_and_the_usual_ones() -> None:
    """None of them is lost on the way to the sheet."""
    sheet = sheet_of_seed(THROUGH_FLOW)
    assert sheet["safety"][: len(SAFETY)] == list(SAFETY)
    told = "\n".join(caution["text"] for caution in sheet["cautions"])
    for words in (
        "Sealant on the cones",
        "a dry O-ring rolls",
        "Never tape",
        "Never turn it back",
        "reads tight while",
    ):
        assert words in told


@pytest.mark.parametrize("told", [False, True])
def test_screws_of_a_told_torque(told: bool) -> None:
    """8 to 9 N·m in figures and words where the catalog tells it; else the vehicle maker's manual is named."""
    sheet = sheet_of_best(told_catalog() if told else catalog(), {"chassis": "brook", "layout": "factory"})
    [step] = [step for step in sheet["steps"] if step["stage"] == "screws"]
    torque = {"min_nm": 8.0, "max_nm": 9.0, "min_lbf_ft": 5.9, "max_lbf_ft": 6.638}
    assert step["tightening"] is not None
    assert step["tightening"]["torque"] == (torque if told else None)
    assert ("between 8 N·m (5.9 lbf·ft) and 9 N·m (6.64 lbf·ft)" in step["text"]) == told
    assert ("take it from the vehicle maker's manual" in step["text"]) != told


def test_a_rail_by_somebody_else_is_mounted_as_its_maker_says() -> None:
    """No spacers, no screws: nothing is known of them."""
    rail = {place: {"standard": "orb-8", "end": "female"} for place in ("left", "right", "centre")}
    sheet = sheet_of_seed({"chassis": "fennic-16", "layout": "return-6", "own_rail": rail})
    assert not {"spacers", "screws"} & {step["stage"] for step in sheet["steps"]}
    [_, step] = [step for step in sheet["steps"] if step["stage"] == "rail"]
    assert "Mount it as its maker says" in step["text"]
