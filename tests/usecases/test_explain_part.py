"""Explaining a part: names looked up in the revision, every fault told at its place in the question."""

from typing import Any

import pytest

from service.documents.explain import ExplainRequest
from service.usecases.errors import RequestFaultsError
from service.usecases.explain_part import explain_in
from service.usecases.library import Edition

Json = dict[str, Any]
ASKED: Json = {"chassis": "brook", "layout": "hose-centre"}
SPOTS = "a spot of a rail for brook: centre, left, right, top"

FAULTS: dict[str, tuple[Json, list[tuple[str, str, str, tuple[str, ...]]]]] = {
    "SKU": ({"sku": "PLUG-B9"}, [("/sku", "PLUG-B9", "the id of an item of this revision", ("PLUG-B8", "PLUG-T"))]),
    "own rail without one": (
        {"sku": "own-rail"},
        [("/sku", "own-rail", "the id of an item of this revision", ("RAIL-S",))],
    ),
    "spot": ({"spot": "1.left"}, [("/spot", "1.left", SPOTS, ("left",))]),
    "all at once": (
        {"request": ASKED | {"chassis": "brok", "fuel": "e86"}, "sku": "X"},
        [
            ("/request/chassis", "brok", "the id of a chassis of this revision", ("brook",)),
            ("/request/fuel", "e86", "the id of a fuel of this revision", ("e85",)),
            ("/sku", "X", "the id of an item of this revision", ()),
        ],
    ),
    "own rail in a request with faults": (
        {"request": ASKED | {"own_rail": {"left": {"standard": "boss-9", "end": "female"}}}, "sku": "own-rail"},
        [("/request/own_rail/left/standard", "boss-9", "the id of a port standard of this revision", ("boss-8",))],
    ),
}


def question(change: Json) -> ExplainRequest:
    return ExplainRequest.model_validate({"request": ASKED, "sku": "PLUG-B8"} | change)


@pytest.mark.parametrize(("change", "expected"), FAULTS.values(), ids=FAULTS.keys())
def test_faults(edition: Edition, change: Json, expected: list[tuple[str, str, str, tuple[str, ...]]]) -> None:
    """Where, what stood there, what would be right, what is alike."""
    with pytest.raises(RequestFaultsError) as refused:
        explain_in(edition, question(change))
    assert [(fault.pointer, fault.found, fault.expected, fault.nearest) for fault in refused.value.faults] == expected


def test_an_own_rail_has_spots_of_its_own(edition: Edition) -> None:
    """A spot is known where it or a rail of the pattern has it."""
    own = ASKED | {"own_rail": {"centre": {"standard": "boss-8", "end": "female"}}}
    assert explain_in(edition, question({"request": own, "sku": "own-rail"}))["where"] == ["rail"]
    assert explain_in(edition, question({"request": own, "spot": "left"}))["verdicts"][0]["duty"] is None
