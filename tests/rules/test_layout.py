"""`layout`: for as many banks as the engine has, and on spots that the rail has."""

import pytest

from tests.rules.cases import Case, assert_ruled_out
from tests.support.builders import FACTORY, GONE, HOSE, LINKED, RETURN, Json, catalog, twin
from tests.support.reading import ask, said


@pytest.mark.parametrize(
    "case",
    [
        pytest.param(
            Case(
                HOSE,
                "RAIL-N",
                None,
                "Own hose to the centre runs fuel through centre, which this rail does not have.",
                given={"items/-": twin("RAIL-S", "RAIL-N")},
                changes={"items/RAIL-N/ports/c": GONE},
            ),
            id="spot missing",
        ),
        pytest.param(
            Case(
                HOSE,
                "RAIL-S",
                None,
                "Own hose to the centre is for engines with two banks; this one has one.",
                changes={"layouts/hose-centre/banks": 2},
            ),
            id="two banks on one",
        ),
        pytest.param(
            Case(
                LINKED,
                "RAIL-S",
                None,
                "Factory line, banks linked is for engines with one bank; this one has two.",
                changes={"layouts/linked-banks/banks": 1},
            ),
            id="one bank on two",
        ),
        pytest.param(
            Case(
                FACTORY,
                "RAIL-S",
                None,
                "Factory line needs the car's factory line, which this car does not offer.",
                changes={"chassis/brook/hookups/0/id": "bulkhead"},
            ),
            id="hookup missing",
        ),
    ],
)
def test_ruled_out(case: Case) -> None:
    """A rail that lacks a spot, and every rail where banks or hookups differ, are ruled out."""
    assert_ruled_out("layout", case)


@pytest.mark.parametrize(
    ("request_", "duties", "text"),
    [
        pytest.param(
            HOSE,
            {"centre": "feed", "left": "closed", "right": "closed", "top": "closed"},
            "Has every spot that Own hose to the centre runs fuel through: centre.",
            id="one spot",
        ),
        pytest.param(
            RETURN | {"gauge": "top"},
            {"centre": "closed", "left": "feed", "right": "return", "top": "gauge"},
            "Has every spot that Through flow with return runs fuel through: left, right.",
            id="two spots and a gauge",
        ),
        pytest.param(
            LINKED,
            {f"{bank}.{place}": "closed" for bank in "12" for place in ("centre", "left", "right", "top")}
            | {"1.left": "feed", "1.right": "link", "2.right": "link"},
            "Has every spot that Factory line, banks linked runs fuel through: 1.left, 1.right, 2.right.",
            id="two banks",
        ),
    ],
)
def test_kept(request_: Json, duties: dict[str, str], text: str) -> None:
    """Each flowing spot has the duty of the placement, every other one is closed or carries the gauge."""
    found = ask(catalog(), request_)
    assert [bill["duties"] for bill in found["bills"]] == [duties]
    assert said(found, "RAIL-S", "layout") == {text}


def test_each_placement_counts() -> None:
    """A rail that lacks the spots of one placement still takes another."""
    changes: Json = {
        "items/RAIL-S/ports/r": GONE,
        "chassis/brook/hookups/0/spots/right": {"min_mm": 20.0, "max_mm": 40.0},
    }
    found = ask(catalog(changes), FACTORY)
    assert [bill["duties"] for bill in found["bills"]] == [{"centre": "closed", "left": "feed", "top": "closed"}]
