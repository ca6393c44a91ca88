"""`pattern`: rails and parts that list patterns list the chassis's."""

import pytest

from tests.rules.cases import Case, assert_ruled_out
from tests.support.builders import HOSE, Json, catalog, twin
from tests.support.reading import ask, rails, said

OWN = "Made for rail pattern straight-four, which this engine has."


def test_part_ruled_out() -> None:
    """A part for other patterns does not stand."""
    case = Case(
        HOSE,
        "PLUG-N",
        "left",
        "Made for rail pattern broad-six, long-six; this engine has straight-four.",
        given={"items/-": twin("PLUG-B8", "PLUG-N")},
        changes={"items/PLUG-N/patterns": ["long-six", "broad-six"]},
    )
    assert_ruled_out("pattern", case)


@pytest.mark.parametrize(
    ("patterns", "expected"),
    [
        pytest.param(["straight-four"], {"RAIL-S", "RAIL-N"}, id="its own"),
        pytest.param(["broad-six", "straight-four"], {"RAIL-S", "RAIL-N"}, id="among others"),
        pytest.param(["broad-six"], {"RAIL-S"}, id="another"),
    ],
)
def test_rails(patterns: list[str], expected: set[str]) -> None:
    """Only rails for the chassis's pattern are tried; those for others are not worth a word."""
    found = ask(catalog({"items/-": twin("RAIL-S", "RAIL-N", patterns=patterns)}), HOSE)
    assert rails(found) == expected
    assert "RAIL-N" not in {rejection["sku"] for rejection in found["ruled_out"]}


@pytest.mark.parametrize(
    ("changes", "texts"),
    [
        pytest.param({}, set(), id="lists none"),
        pytest.param({"items/PLUG-B8/patterns": ["straight-four"]}, {OWN}, id="its own"),
        pytest.param({"items/PLUG-B8/patterns": ["broad-six", "straight-four"]}, {OWN}, id="among others"),
    ],
)
def test_kept(changes: Json, texts: set[str]) -> None:
    """A part that lists no pattern goes with each; one that lists the chassis's says so."""
    assert said(ask(catalog(changes), HOSE), "PLUG-B8", "pattern") == texts
