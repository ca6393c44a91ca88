"""What the joints of a bill need besides: sealant once, spare seals one a joint, none of it in the price."""

from typing import Any

import pytest

from tests.explain.answers import best_bill
from tests.support.catalogs import GONE, changed, small_catalog

FACTORY = {"chassis": "brook", "layout": "factory"}
THROUGH = {"chassis": "brook", "layout": "through-return"}
HERON = {"chassis": "heron", "layout": "linked-banks"}

SEALANT, SEAL = "Thread sealant, 10 ml: for", "Seal for a size-8 boss: a spare for"
TAPER, BOSS, FLARE = "Taper pipe thread, 1/8", "Straight-thread O-ring boss, size 8", "37-degree flare, size 6"

EXTRAS: dict[str, tuple[dict[str, Any], dict[str, Any], list[tuple[str, int, str]]]] = {
    "three boss joints, one taper joint": (
        FACTORY,
        {},
        [("SEALANT", 1, f"{SEALANT} 1 joint of {TAPER}."), ("SEAL-B8", 3, f"{SEAL} 3 joints of {BOSS}.")],
    ),
    "a side plug's joint counts": (
        THROUGH,
        {},
        [("SEALANT", 1, f"{SEALANT} 2 joints of {TAPER}."), ("SEAL-B8", 3, f"{SEAL} 3 joints of {BOSS}.")],
    ),
    "a link's joints count at both ends, once": (
        HERON,
        {},
        [("SEALANT", 1, f"{SEALANT} 2 joints of {TAPER}."), ("SEAL-B8", 6, f"{SEAL} 6 joints of {BOSS}.")],
    ),
    "the joint on the hookup counts": (
        FACTORY,
        {"/joints/3/spare_seal": "SEAL-B8", "/joints/0/spare_seal": GONE},
        [
            ("SEALANT", 1, f"{SEALANT} 1 joint of {TAPER}."),
            ("SEAL-B8", 1, f"{SEAL} 1 joint of Quick connector, 3/8."),
        ],
    ),
    "sealant for two kinds of joint comes once": (
        THROUGH,
        {"/joints/1/consumables": ["SEALANT"]},
        [
            ("SEALANT", 1, f"{SEALANT} 3 joints of {FLARE}, 2 joints of {TAPER}."),
            ("SEAL-B8", 3, f"{SEAL} 3 joints of {BOSS}."),
        ],
    ),
    "one seal for two kinds of joint adds up": (
        FACTORY,
        {"/joints/3/spare_seal": "SEAL-B8"},
        [
            ("SEALANT", 1, f"{SEALANT} 1 joint of {TAPER}."),
            ("SEAL-B8", 4, f"{SEAL} 3 joints of {BOSS}, 1 joint of Quick connector, 3/8."),
        ],
    ),
    "two consumables of one joint": (
        FACTORY,
        {"/joints/2/consumables": ["SEALANT", "SCREW-6"], "/joints/0/spare_seal": GONE},
        [("SEALANT", 1, f"{SEALANT} 1 joint of {TAPER}."), ("SCREW-6", 1, f"Screw, M6 x 25: for 1 joint of {TAPER}.")],
    ),
    "one item both used up and kept as a spare": (
        FACTORY,
        {"/joints/2/spare_seal": "SEALANT", "/joints/0/spare_seal": GONE},
        [
            ("SEALANT", 1, f"{SEALANT} 1 joint of {TAPER}."),
            ("SEALANT", 1, f"Thread sealant, 10 ml: a spare for 1 joint of {TAPER}."),
        ],
    ),
    "a joint that needs nothing": (FACTORY, {"/joints/0/spare_seal": GONE, "/joints/2/consumables": GONE}, []),
}


@pytest.mark.parametrize(("asked", "changes", "expected"), EXTRAS.values(), ids=EXTRAS.keys())
def test_extras(asked: dict[str, Any], changes: dict[str, Any], expected: list[tuple[str, int, str]]) -> None:
    """Consumables once with their joints counted, then spare seals, one a joint."""
    bill = best_bill(changed(small_catalog(), changes), asked)
    assert [(extra["sku"], extra["qty"], extra["text"]) for extra in bill["extras"]] == expected


@pytest.mark.parametrize("asked", [FACTORY, THROUGH, HERON], ids=["factory", "through", "two banks"])
def test_extras_cost_nothing_here(asked: dict[str, Any]) -> None:
    """Extras are no lines, and the bill costs and counts the same without them."""
    bill = best_bill(small_catalog(), asked)
    bare = best_bill(changed(small_catalog(), {"/joints/0/spare_seal": GONE, "/joints/2/consumables": GONE}), asked)
    assert (bill["price"], bill["pieces"], bill["lines"]) == (bare["price"], bare["pieces"], bare["lines"])
    assert {"SEALANT", "SEAL-B8"}.isdisjoint(line["sku"] for line in bill["lines"])
    assert bill["price"] == sum(line["price"] for line in bill["lines"])
