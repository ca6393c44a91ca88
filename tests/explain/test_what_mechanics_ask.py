"""What a mechanic asks of a sheet: how hoses leave and bend, what holds the add-on, where the reference is."""

from typing import Any

import pytest

from service.documents.sheet import Sheet, SheetStep
from tests.explain.sheets import BY_LINE, THROUGH_FLOW, TWO_BANKS, seed, sheet_of_best, sheet_of_seed, sheets_in
from tests.support.catalogs import GONE, changed
from tests.support.engineering_data import told_catalog

Json = dict[str, Any]
REGULATED = {"chassis": "fennic-16", "layout": "return-6-regulator", "addons": ["turbo-tor"]}
HOSE = {"chassis": "brook", "layout": "hose-centre"}


def step_of(sheet: Sheet, title: str) -> SheetStep:
    [found] = [step for step in sheet["steps"] if step["title"].startswith(title)]
    return found


def test_air_is_driven_out_and_joints_are_looked_at_before_the_pressure_is_on() -> None:
    """By the ignition alone, with dry paper, without flame; then the check at pressure, then idle."""
    for asked in (THROUGH_FLOW, BY_LINE, TWO_BANKS):
        sheet = sheet_of_seed(asked)
        first = step_of(sheet, "First pressure")
        for words in ("no flame", "starter untouched", "dry paper to every joint", "Extinguisher at hand"):
            assert words in first["text"]
        assert "pressure to zero" in first["then"]
        order = [
            first["number"],
            *(step_of(sheet, title)["number"] for title in ("Leak check, engine", "Leak check at")),
        ]
        assert order == sorted(order)


def test_an_add_on_comes_off_before_the_rail_and_goes_back_after_the_lines() -> None:
    """With its fasteners, their torque in both systems and their key, where they are told; the room that is left."""
    sheet = sheet_of_seed(BY_LINE)
    assert "first take off what keeps the rail from coming up" in step_of(sheet, "Take the old rail off")["text"]
    back = step_of(sheet, "Back on: Belt-driven blower")
    assert [(part["sku"], part["qty"]) for part in back["parts"]] == [("screw-m8-30", 6)]
    assert "between 18.7 N·m (13.8 lbf·ft) and 22.8 N·m (16.8 lbf·ft)" in back["text"]
    assert back["tightening"] is not None
    assert back["tightening"]["torque"] is not None
    assert "at the right spot 2 mm (0.079 in) stays free" in back["look_for"]
    assert step_of(sheet, "Lay the hoses")["number"] < back["number"] < step_of(sheet, "Make ready")["number"]
    assert "Key or socket for Belt-driven blower for the Tor: hex key 6 mm" in sheet["tools"]


def test_what_is_not_told_of_an_add_on_is_said() -> None:
    """A turbo kit without fasteners; nothing comes off or goes back where nothing stands over the rail."""
    back = step_of(sheet_of_seed(REGULATED), "Back on: Turbo kit")
    assert "not told here: ask its maker" in back["text"]
    assert (back["parts"], back["tightening"]) == ([], None)
    plain = sheet_of_seed(THROUGH_FLOW)
    assert not [step for step in plain["steps"] if step["stage"] == "back-on"]
    assert "from coming up" not in step_of(plain, "Take the old rail off")["text"]


BENDS: dict[str, tuple[Json, list[str]]] = {
    "a line's": (BY_LINE, ["Least radius inside a bend: Centre-feed line to 80 mm (3.15 in).", "square to the rail"]),
    "one's own hose's is its maker's": (
        THROUGH_FLOW,
        [
            "At the left and right spots the hose leaves straight on, along the rail.",
            "For the bends of your own hose take the maker's figure.",
        ],
    ),
    "an end that is turned": (TWO_BANKS, ["At the right spot of bank 2 the hose leaves at 90 degrees to its port."]),
}


@pytest.mark.parametrize(("asked", "words"), BENDS.values(), ids=BENDS.keys())
def test_hoses_are_laid_as_they_leave_and_as_they_bend(asked: Json, words: list[str]) -> None:
    text = step_of(sheet_of_seed(asked), "Lay the hoses")["text"]
    assert all(each in text for each in words)


def test_one_s_own_hose_is_told_by_the_layout() -> None:
    """Its nut among the wrenches and its bend in the step; not told: to be measured, and nothing said of its way."""
    document = told_catalog()
    sheet = sheet_of_best(document, HOSE)
    assert "your own hose to 80 mm (3.15 in)" in step_of(sheet, "Lay the hoses")["text"]
    assert any("17.5 mm (11/16 in)" in tool for tool in sheet["tools"])
    hookup = "/layouts/1/placements/0/centre/hookup"
    items = {f"/items/{place}/outlet_deg": GONE for place, x in enumerate(document["items"]) if "outlet_deg" in x}
    silent = changed(document, {f"{hookup}/hex_mm": GONE, f"{hookup}/min_bend_mm": GONE, **items})
    sheet = sheet_of_best(silent, HOSE)
    assert any("the nut of your own hose" in tool for tool in sheet["tools"])
    text = step_of(sheet, "Lay the hoses")["text"]
    assert "For the bends of your own hose take the maker's figure." in text
    assert "leaves" not in text


def test_the_reference_is_found_on_regulator_and_manifold() -> None:
    """In the catalog's words; where it tells neither, whose manual does."""
    text = step_of(sheet_of_seed(REGULATED), "Reference of the regulator")["text"]
    assert "(on its cap, beside the setting screw) to the nipple at the back of the plenum, behind cylinder 4" in text
    text = step_of(sheet_of_seed(REGULATED | {"chassis": "brae-20"}), "Reference of the regulator")["text"]
    assert "behind the throttle (the vehicle's manual tells which)" in text


def test_no_torque_of_a_boss_is_printed_without_a_source() -> None:
    """All of the seed's bosses are seated by their flange, to the part maker's figure."""
    bosses = [
        step
        for asked in (THROUGH_FLOW, BY_LINE, TWO_BANKS)
        for step in sheet_of_seed(asked)["steps"]
        if step["onto"] is not None and (step["standard"] or "").startswith("orb-")
    ]
    assert bosses
    for step in bosses:
        assert step["tightening"] is not None
        assert step["tightening"]["torque"] is None
        assert "until its flange meets the face, then tighten it to the part maker's figure" in step["text"]


def test_the_bulkhead_s_quick_connect_leads_to_a_hose_end_of_one_s_own() -> None:
    """Some bill does it by an end that clicks on to the bulkhead and a hose with flares; each is a step of its own."""
    found = sheets_in(seed(), {"chassis": "fennic-16", "layout": "bulkhead-side", "limit": 50})
    made = [" / ".join(step["title"] for step in sheet["steps"] if step["onto"] is not None) for sheet in found]
    assert any("Hose size" in titles and "Quick-connect end" in titles for titles in made)
