"""`fuel`: wetted materials rated A or B stand a fuel, C with a caution, D not."""

import pytest

from tests.rules.cases import Case, assert_ruled_out
from tests.support.builders import HOSE, RETURN, Json, catalog, twin
from tests.support.reading import ask, cautions, chains_at, said

BRASS = {
    "id": "brass",
    "name": "Brass",
    "ratings": {"petrol": "B", "e85": "D"},
    "min_c": -50.0,
    "max_c": 150.0,
    "source": "figures for tests",
}
GIVEN = {"materials/-": BRASS, "materials/brass/ratings/petrol": "B"}
UNFIT = {"materials/brass/ratings/petrol": "D"}
TEXT = "Brass does not stand Petrol (rated D)."


@pytest.mark.parametrize(
    "case",
    [
        pytest.param(
            Case(
                HOSE,
                "RAIL-N",
                None,
                TEXT,
                given={**GIVEN, "items/-": twin("RAIL-S", "RAIL-N", wetted=["brass"])},
                changes=UNFIT,
            ),
            id="rail",
        ),
        pytest.param(
            Case(
                HOSE,
                "PLUG-N",
                "left",
                TEXT,
                given={**GIVEN, "items/-": twin("PLUG-B8", "PLUG-N", wetted=["brass"])},
                changes=UNFIT,
            ),
            id="part",
        ),
        pytest.param(
            Case(
                HOSE,
                "PLUG-N",
                "left",
                TEXT,
                given={**GIVEN, "items/-": twin("PLUG-B8", "PLUG-N", wetted=["aluminium", "brass", "fluorocarbon"])},
                changes=UNFIT,
            ),
            id="one of its materials",
        ),
        pytest.param(
            Case(
                HOSE,
                "PLUG-N",
                "left",
                "Brass does not stand E85 (rated D).",
                given={**GIVEN, "items/-": twin("PLUG-B8", "PLUG-N", wetted=["brass"])},
                wishes={"fuel": "e85"},
            ),
            id="other fuel",
        ),
    ],
)
def test_ruled_out(case: Case) -> None:
    """A part with a material that does not stand the fuel is ruled out."""
    assert_ruled_out("fuel", case)


@pytest.mark.parametrize(
    ("rating", "chains"),
    [
        ("C", {"ADAPT-B8-F6,REG-F6,PLUG-T", "ADAPT-B8-F6,REG-F6,PLUG-U"}),
        ("D", {"ADAPT-B8-F6,REG-F6,PLUG-T"}),
    ],
)
def test_side_plug(rating: str, chains: set[str]) -> None:
    """A side plug is judged as any part of its chain."""
    changes: Json = {
        **GIVEN,
        "items/-": twin("PLUG-T", "PLUG-U", wetted=["brass"]),
        "materials/brass/ratings/petrol": rating,
    }
    assert chains_at(ask(catalog(changes), RETURN), "right") == chains


@pytest.mark.parametrize(
    ("rating", "reason", "caution"),
    [
        pytest.param(
            "A",
            "Its wetted materials stand Petrol; the weakest, {}, is rated A.",
            None,
            id="A",
        ),
        pytest.param("B", "Its wetted materials stand Petrol; the weakest, Brass, is rated B.", None, id="B"),
        pytest.param(
            "C",
            "Brass stands Petrol only for a while (rated C): inspect and renew it early.",
            "Plug for a size-8 boss: Brass stands Petrol only for a while (rated C): inspect and renew it early.",
            id="C",
        ),
    ],
)
def test_kept(rating: str, reason: str, caution: str | None) -> None:
    """A and B stand, C stands with a caution for its part; the weakest material is told."""
    changes: Json = {
        **GIVEN,
        "items/PLUG-B8/wetted": ["aluminium", "brass"],
        "materials/brass/ratings/petrol": rating,
    }
    found = ask(catalog(changes), HOSE)
    assert said(found, "PLUG-B8", "fuel") == {reason.format("Hard-anodised aluminium")}
    assert cautions(found, "fuel") == ([caution] if caution else [])


def test_nothing_wetted() -> None:
    """A part that wets no material stands every fuel and says nothing of it."""
    assert said(ask(catalog({"items/PLUG-B8/wetted": []}), HOSE), "PLUG-B8", "fuel") == set()
