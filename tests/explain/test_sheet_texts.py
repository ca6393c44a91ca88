"""All texts of the assembly sheets of many bills: whole sentences, both systems of units, one list of tools."""

import re
from collections.abc import Iterator

import pytest

from service.documents.sheet import Sheet
from service.domain import units
from tests.explain.sheets import seed, sheets_in
from tests.support.builders import HOSE, LINKED, RETURN, catalog
from tests.support.engine import edition

_PAIRS = {"N·m": ("lbf·ft", units.NM_PER_LBF_FT), "mm": ("in", units.MM_PER_IN), "kPa": ("psi", units.KPA_PER_PSI)}
_QUANTITY = re.compile(r"(?<![\w.])([\d.]+) (N·m|mm|kPa)(?: \(([\d.]+) ([\w·]+)\))?")


def _seed_sheets() -> Iterator[Sheet]:
    """A bill of each chassis and layout of the seed catalog that has one, with a gauge and without."""
    ready = seed()
    for chassis in ready.catalog.chassis:
        for layout in ready.catalog.layouts:
            if layout.banks == chassis.banks:
                for gauge in ("none", "any"):
                    asked = {"chassis": chassis.id, "layout": layout.id, "gauge": gauge, "limit": 1}
                    yield from sheets_in(ready, asked)


@pytest.fixture(scope="module")
def sheets() -> list[Sheet]:
    small = edition(catalog())
    found = [sheet for asked in (HOSE, RETURN, LINKED, RETURN | {"gauge": "any"}) for sheet in sheets_in(small, asked)]
    found += _seed_sheets()
    assert len(found) > 60
    return found


def _texts(sheet: Sheet) -> Iterator[str]:
    yield from sheet["safety"]
    yield from (caution["text"] for caution in sheet["cautions"])
    yield sheet["text"]
    for step in sheet["steps"]:
        yield from (step["text"], step["look_for"], step["wrong"], step["then"])
        if step["tightening"] is not None:
            yield step["tightening"]["text"]
    for rail in sheet["rails"]:
        yield from (spot["text"] for spot in rail["spots"])


def _nameless(sheet: Sheet) -> Iterator[str]:
    names = {part["name"] for step in sheet["steps"] for part in step["parts"]}
    for text in _texts(sheet):
        for name in names:
            text = text.replace(name, "part")
        yield text


def test_texts_are_sentences(sheets: list[Sheet]) -> None:
    """Each starts with a capital, ends with a full stop, and leaves no value unsaid or doubled."""
    for text in {text for sheet in sheets for text in _texts(sheet)}:
        assert re.fullmatch(r"[A-Z\d].*\.", text), text
        assert not re.search(r"None|True|False|\bnan\b|\binf\b|[{}\[\]]|  |\.\.| ,|to by hand", text), text


def test_quantities_are_told_in_both_systems(sheets: list[Sheet]) -> None:
    """Names of parts aside, which are the catalog's."""
    told = {text for sheet in sheets for text in _nameless(sheet)}
    units_seen = set()
    for text in told:
        for metric, unit, customary, customary_unit in _QUANTITY.findall(text):
            expected_unit, factor = _PAIRS[unit]
            assert customary_unit == expected_unit, text
            assert float(customary) == pytest.approx(float(metric) / factor, rel=0.06), text
            units_seen.add(unit)
    assert units_seen == set(_PAIRS)


def test_figures_and_words_of_a_joint_agree(sheets: list[Sheet]) -> None:
    """What stands in the figures stands in the step's text."""
    methods = set()
    for step in (step for sheet in sheets for step in sheet["steps"] if step["onto"] is not None):
        tightening = step["tightening"]
        assert tightening is not None
        assert tightening["text"] in step["text"]
        methods.add(tightening["method"])
        if tightening["torque"] is not None:
            for value in (tightening["torque"]["min_nm"], tightening["torque"]["max_nm"]):
                assert value is None or units.torque(value) in tightening["text"]
        if tightening["past_hand_tight"] is not None:
            assert f"{tightening['past_hand_tight']['min_flats']:g}" in tightening["text"]
        if tightening["threads"] is not None:
            assert f"{tightening['threads']['max']:g} thread" in tightening["text"]
    assert methods == {"torque", "past-hand-tight", "flange-to-face", "turns-engaged", "push-to-click"}


def test_steps_are_numbered_and_in_the_stages_that_are_listed(sheets: list[Sheet]) -> None:
    """From 1, without a gap; the stages in the order in which they are listed."""
    for sheet in sheets:
        assert [step["number"] for step in sheet["steps"]] == list(range(1, len(sheet["steps"]) + 1))
        stages = list(dict.fromkeys(step["stage"] for step in sheet["steps"]))
        assert stages == [stage["stage"] for stage in sheet["stages"]]


def test_tools_are_those_that_the_steps_ask_for(sheets: list[Sheet]) -> None:
    """A torque wrench over all torques, a release tool for connectors, a test gauge where the bill has none."""
    for sheet in sheets:
        told = "\n".join(sheet["tools"])
        joints = [step["tightening"] for step in sheet["steps"] if step["tightening"] is not None]
        torques = [joint["torque"] for joint in joints if joint["torque"] is not None]
        assert ("Torque wrench" in told) == bool(torques)
        for value in (value for torque in torques for value in (torque["min_nm"], torque["max_nm"])):
            highest = max(torque["max_nm"] or 0 for torque in torques)
            assert value is None or value <= highest
            assert units.torque(highest) in told
        assert ("Release tool" in told) == any(joint["method"] == "push-to-click" for joint in joints)
        has_gauge = any(spot["duty"] == "gauge" for rail in sheet["rails"] for spot in rail["spots"])
        assert ("Test gauge" in told) == (not has_gauge)
