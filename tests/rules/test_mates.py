"""`mates`: the same standard and opposite ends, all along the chain."""

import pytest

from service.documents.request import BillRequest
from service.domain.parts import Opening
from service.rules import mates
from service.usecases.resolve_request import resolve_request
from tests.rules.cases import Case, assert_ruled_out
from tests.support.builders import BOSS, HOSE, LINKED, catalog, fitting, twin
from tests.support.engine import edition
from tests.support.reading import ask, chains_at, said

NO_WAY_TO_THE_HOSE = (
    "No catalog part leads on from its other port to the female 37-degree flare, size 6 end of this path."
)
TWO_ADAPTERS = {"items/-": twin("ADAPT-B8-F6", "ADAPT-N")}


@pytest.mark.parametrize(
    ("one", "other", "expected"),
    [
        pytest.param(("boss-8", "male"), ("boss-8", "female"), True, id="male in female"),
        pytest.param(("boss-8", "female"), ("boss-8", "male"), True, id="female on male"),
        pytest.param(("boss-8", "male"), ("boss-8", "male"), False, id="two males"),
        pytest.param(("boss-8", "female"), ("boss-8", "female"), False, id="two females"),
        pytest.param(("boss-8", "male"), ("flare-6", "female"), False, id="other standard"),
    ],
)
def test_meets(one: tuple[str, str], other: tuple[str, str], expected: bool) -> None:
    """Two ports mate when they have the same standard and opposite ends."""
    assert mates.meets(Opening(*one), Opening(*other)) is expected


@pytest.mark.parametrize(
    "case",
    [
        pytest.param(
            Case(
                HOSE,
                "ADAPT-N",
                "centre",
                NO_WAY_TO_THE_HOSE,
                given=TWO_ADAPTERS,
                changes={"items/ADAPT-N/ports/b/end": "female"},
            ),
            id="same end as the hose",
        ),
        pytest.param(
            Case(
                HOSE,
                "ADAPT-N",
                "centre",
                NO_WAY_TO_THE_HOSE,
                given=TWO_ADAPTERS,
                changes={"items/ADAPT-N/ports/b/standard": "quick-3/8"},
            ),
            id="other standard than the hose",
        ),
        pytest.param(
            Case(
                HOSE | {"gauge": "left"},
                "FIT-T",
                "left",
                "No catalog part leads on from its other port to a gauge.",
                given={"items/-": fitting("FIT-T", BOSS, ("taper-1/8", "female"))},
                changes={"items/FIT-T/ports/p1/end": "male"},
            ),
            id="no gauge behind it",
        ),
    ],
)
def test_ruled_out(case: Case) -> None:
    """A part that meets the spot, but from which nothing leads on, is ruled out."""
    assert_ruled_out("mates", case)


@pytest.mark.parametrize(
    ("port", "value"),
    [pytest.param("end", "female", id="end"), pytest.param("standard", "flare-6", id="standard")],
)
def test_part_that_does_not_meet_the_spot(port: str, value: str) -> None:
    """A part whose port does not mate with the spot heads no chain, and nobody asks about it."""
    found = ask(catalog({**TWO_ADAPTERS, f"items/ADAPT-N/ports/a/{port}": value}), HOSE)
    assert chains_at(found, "centre") == {"ADAPT-B8-F6"}


def test_kept() -> None:
    """Each part tells what it meets: the spot, or the part before it, and with which of its ends."""
    found = ask(catalog(), LINKED)
    assert said(found, "ADAPT-B8-F6", "mates") == {
        "Its male Straight-thread O-ring boss, size 8 end meets the 1.right spot.",
        "Its male 37-degree flare, size 6 end meets Link line, size-6 flare, 400 mm.",
    }
    assert said(found, "LINE-F6", "mates") == {
        "Its female 37-degree flare, size 6 end meets Adapter, size-8 boss to size-6 flare."
    }


def test_nothing_meets_a_spot() -> None:
    """Where nothing in the catalog meets a spot, that is what stops the layout."""
    ready = edition(catalog({"items/RAIL-S/ports/t/end": "male"}))
    request = resolve_request(BillRequest.model_validate(HOSE), ready.revision)
    finding = ready.engine.obstacle(request)
    assert (finding.rule, finding.facts["spot"]) == ("mates", "top")
    assert mates.RULE.rejection(finding.facts) == "Nothing in the catalog meets its top spot."


def test_either_port() -> None:
    """A part that fits either way round makes one chain, not two."""
    found = ask(catalog(), LINKED)
    assert (found["total_valid"], chains_at(found, "1.right")) == (1, {"ADAPT-B8-F6,LINE-F6,ADAPT-B8-F6"})
