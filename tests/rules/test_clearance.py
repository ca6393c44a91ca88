"""`clearance`: what stands at a spot keeps within its room, up to the first line, at both ends of a link."""

import pytest

from tests.rules.cases import Case, assert_ruled_out
from tests.support.builders import HOSE, LINKED, Json, catalog, fitting, part, room, twin
from tests.support.reading import ask, chains_at, said, stands

FLARE, FLARE_IN = ("flare-6", "male"), ("flare-6", "female")
QUICK, QUICK_IN = ("quick-3/8", "male"), ("quick-3/8", "female")
LINK = "ADAPT-B8-F6,LINE-F6,ADAPT-B8-F6"


@pytest.mark.parametrize(
    "case",
    [
        pytest.param(
            Case(
                HOSE | {"clearances": [room("centre", axial_mm=26.0)]},
                "ADAPT-B8-F6",
                "centre",
                "Stands 26 mm (1.02 in) proud of the centre spot, where only 25.999 mm (1.02 in) is free.",
                wishes={"clearances": [room("centre", axial_mm=25.999)]},
            ),
            id="axial",
        ),
        pytest.param(
            Case(
                HOSE | {"clearances": [room("centre", across_mm=25.0)]},
                "ADAPT-B8-F6",
                "centre",
                "Is 25 mm (0.98 in) across at the centre spot, where only 24.999 mm (0.98 in) is free.",
                wishes={"clearances": [room("centre", across_mm=24.999)]},
            ),
            id="across",
        ),
        pytest.param(
            Case(
                HOSE | {"clearances": [room("centre", across_mm=24.0)]},
                "FIT-S",
                "centre",
                "Is 24 mm (0.94 in) across at the centre spot, where only 23.9 mm (0.94 in) is free.",
                given={"items/-": fitting("FIT-S", ("boss-8", "male"), FLARE, ("boss-8", "female"))},
                wishes={"clearances": [room("centre", across_mm=23.9)]},
            ),
            id="across of a side plug",
        ),
        pytest.param(
            Case(
                HOSE,
                "PLUG-N",
                "right",
                "Stands 36 mm (1.42 in) proud of the right spot, where only 35 mm (1.38 in) is free.",
                given={"items/-": twin("PLUG-B8", "PLUG-N", standout_mm=36.0)},
                wishes={"addons": ["blower"]},
            ),
            id="add-on",
        ),
        pytest.param(
            Case(
                LINKED | {"clearances": [room("1.right", axial_mm=26.0)]},
                "ADAPT-B8-F6",
                "1.right",
                "Stands 26 mm (1.02 in) proud of the 1.right spot, where only 25 mm (0.98 in) is free.",
                wishes={"clearances": [room("1.right", axial_mm=25.0)]},
            ),
            id="near end of a link",
        ),
        pytest.param(
            Case(
                LINKED | {"clearances": [room("2.right", axial_mm=26.0)]},
                "ADAPT-B8-F6",
                "1.right",
                "Stands 26 mm (1.02 in) proud of the 2.right spot, where only 25 mm (0.98 in) is free.",
                wishes={"clearances": [room("2.right", axial_mm=25.0)]},
            ),
            id="far end of a link",
        ),
        pytest.param(
            Case(
                LINKED,
                "ADAPT-B8-F6",
                "1.right",
                "Is 25 mm (0.98 in) across at the 2.right spot, where only 24 mm (0.94 in) is free.",
                wishes={"clearances": [room("2.right", across_mm=24.0)]},
            ),
            id="far end of a link, across",
        ),
    ],
)
def test_ruled_out(case: Case) -> None:
    """A chain that stands out too far, or is too wide, is ruled out at either end."""
    assert_ruled_out("clearance", case)


@pytest.mark.parametrize(
    ("axial_mm", "expected"),
    [(26.0, True), (25.9996, True), (25.9994, False), (25.999, False), (26.001, True)],
)
def test_to_a_micrometre(axial_mm: float, expected: bool) -> None:
    """Standout and room are compared rounded to 0.001 mm."""
    found = ask(catalog(), HOSE | {"clearances": [room("centre", axial_mm=axial_mm)]})
    assert stands(found, "ADAPT-B8-F6", "centre") is expected


def test_room_between_two_micrometres() -> None:
    """A room that is rounded down for the comparison is told like any other."""
    case = Case(
        HOSE,
        "PLUG-B8",
        "left",
        "Stands 0.563 mm (0.022 in) proud of the left spot, where only 0.562 mm (0.022 in) is free.",
        given={"items/PLUG-B8/standout_mm": 0.563},
        wishes={"clearances": [room("left", axial_mm=0.5625)]},
    )
    assert_ruled_out("clearance", case)


@pytest.mark.parametrize(
    ("standouts_mm", "expected"),
    [
        pytest.param((0.1, 0.2), True, id="0.1 and 0.2"),
        pytest.param((0.1, 0.2004), True, id="rounds down"),
        pytest.param((0.1, 0.201), False, id="above"),
    ],
)
def test_sum(standouts_mm: tuple[float, float], expected: bool) -> None:
    """Standouts are added before they are rounded; room is 0.3 mm here."""
    first, second = standouts_mm
    document = catalog({"items/SPIGOT-B8-Q/standout_mm": first})
    document["items"].append(fitting("FIT-Q", QUICK_IN, FLARE, standout_mm=second))
    found = ask(document, HOSE | {"clearances": [room("centre", axial_mm=0.3)]})
    assert (chains_at(found, "centre") == {"SPIGOT-B8-Q,FIT-Q"}) is expected


@pytest.mark.parametrize(
    ("chassis_mm", "addon_mm", "request_mm", "free"),
    [
        pytest.param(10.0, 20.0, 30.0, "10 mm (0.39 in)", id="chassis"),
        pytest.param(30.0, 10.0, 20.0, "10 mm (0.39 in)", id="add-on"),
        pytest.param(30.0, 20.0, 10.0, "10 mm (0.39 in)", id="request"),
        pytest.param(None, 20.0, 30.0, "20 mm (0.79 in)", id="not limited by the chassis"),
        pytest.param(8.0, 8.0, 8.0, "8 mm (0.31 in)", id="at the limit"),
    ],
)
def test_smallest_room(chassis_mm: float | None, addon_mm: float, request_mm: float, free: str) -> None:
    """The smallest room among chassis, add-ons and request counts."""
    document = catalog({"addons/blower/clearances": [room("right", axial_mm=addon_mm)]})
    if chassis_mm is not None:
        document["chassis"][0]["clearances"].append(room("right", axial_mm=chassis_mm))
    asked = HOSE | {"addons": ["blower"], "clearances": [room("right", axial_mm=request_mm)]}
    texts = said(ask(document, asked), "PLUG-B8", "clearance")
    assert f"At the right spot it stands 8 mm (0.31 in) where {free} is free." in texts


def test_axial_and_across_may_come_from_two() -> None:
    """Each of the two limits is the smallest for itself."""
    asked = HOSE | {"clearances": [room("centre", axial_mm=30.0), room("centre", across_mm=27.0)]}
    assert said(ask(catalog(), asked), "ADAPT-B8-F6", "clearance") == {
        (
            "At the centre spot it stands 26 mm (1.02 in) where 30 mm (1.18 in) is free "
            "and is 25 mm (0.98 in) across where 27 mm (1.06 in) is free."
        )
    }


@pytest.mark.parametrize(
    ("given", "spot", "axial_mm", "chains"),
    [
        pytest.param("1.right", "1.right", 26.0, {LINK, "ADAPT-B8-F6,LINE-F6,ADAPT-N"}, id="near end only"),
        pytest.param("2.right", "1.right", 26.0, {LINK, "ADAPT-N,LINE-F6,ADAPT-B8-F6"}, id="far end only"),
    ],
)
def test_each_end_of_a_link(given: str, spot: str, axial_mm: float, chains: set[str]) -> None:
    """Each end of a link is held to its own room, counted from that end."""
    document = catalog({"items/-": twin("ADAPT-B8-F6", "ADAPT-N", standout_mm=30.0)})
    found = ask(document, LINKED | {"clearances": [room(given, axial_mm=axial_mm)]})
    assert chains_at(found, spot) == chains


def test_up_to_the_first_line() -> None:
    """A line, and what is behind it, is not in the room of the spot; nor do side plugs stand out."""
    document = catalog(
        {"items/-": part("LINE-Q", "line", FLARE_IN, QUICK, standout_mm=90.0, across_mm=90.0)},
    )
    document["items"] += [
        fitting("FIT-FAR", QUICK_IN, ("flare-8", "male"), standout_mm=90.0, across_mm=90.0),
        fitting("FIT-S", ("boss-8", "male"), ("flare-8", "male"), ("boss-8", "female"), standout_mm=26.0),
    ]
    document["port_standards"].append(document["port_standards"][1] | {"id": "flare-8"})
    document["layouts"][1]["placements"][0]["centre"]["hookup"]["standard"] = "flare-8"
    found = ask(document, HOSE | {"clearances": [room("centre", axial_mm=26.0, across_mm=25.0)]})
    assert "ADAPT-B8-F6,LINE-Q,FIT-FAR" in chains_at(found, "centre")
    assert "FIT-S,PLUG-B8" in chains_at(found, "centre")
    assert "SPIGOT-B8-Q,FIT-FAR" not in chains_at(found, "centre")


@pytest.mark.parametrize(
    ("clearances", "texts"),
    [
        pytest.param([], set(), id="no room given"),
        pytest.param(
            [room("1.right", axial_mm=30.0)],
            {"At the 1.right spot it stands 26 mm (1.02 in) where 30 mm (1.18 in) is free."},
            id="near",
        ),
        pytest.param(
            [room("2.right", across_mm=30.0)],
            {"At the 2.right spot it is 25 mm (0.98 in) across where 30 mm (1.18 in) is free."},
            id="far",
        ),
    ],
)
def test_kept(clearances: list[Json], texts: set[str]) -> None:
    """The chain's first part tells what stands where how much is free."""
    assert said(ask(catalog(), LINKED | {"clearances": clearances}), "ADAPT-B8-F6", "clearance") == texts


@pytest.mark.parametrize("spot", ["1.right", "2.right"])
def test_side_plugs_of_a_links_line(spot: str) -> None:
    """A plug in the side of the line is in the room of neither end."""
    line = {"id": "s", "standard": "taper-1/8", "end": "female"}
    document = catalog({"items/LINE-F6/ports/-": line, "items/PLUG-T/across_mm": 90.0})
    found = ask(document, LINKED | {"clearances": [room(spot, axial_mm=26.0, across_mm=25.0)]})
    assert chains_at(found, "1.right") == {"ADAPT-B8-F6,LINE-F6,PLUG-T,ADAPT-B8-F6"}
