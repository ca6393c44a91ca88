"""What a bill warns of: weak materials, parts from elsewhere, paths that are not wholly rated, joints."""

from typing import Any

import pytest

from service.explain.checks import WORDS
from tests.explain.answers import best_bill
from tests.support.catalogs import GONE, changed, small_catalog

HOSE = {"chassis": "brook", "layout": "hose-centre"}
FACTORY = {"chassis": "brook", "layout": "factory"}
HERON = {"chassis": "heron", "layout": "linked-banks"}
BLENDED = {"fuel": "e85"}

PLUG, ADAPTER = "Plug for a size-8 boss", "Adapter, size-8 boss to size-6 flare"
WEAK_SEAL = "Fluorocarbon rubber stands E85 only for a while (rated C): inspect and renew it early."
ELSEWHERE = "Buy a part of this specification elsewhere; its price is an estimate and not in the total."
OIL = ("mates", "Straight-thread O-ring boss, size 8: Oil the seal before it goes in.")
DRY = ("mates", "37-degree flare, size 6: No sealant on a flare.")
NO_CAUTION_FOR_JOINTS = {"/joints/0/cautions": [], "/joints/1/cautions": []}
HOSE_FEED = {"duty": "feed", "hookup": {"kind": "own-hose", "standard": "flare-6", "end": "female"}}
UNRATED_HOSE = "No flow is rated for the hose behind the hookup"
HOOKUP_FLOW = small_catalog()["chassis"][0]["hookups"][0]["flow"]

CAUTIONS: dict[str, tuple[dict[str, Any], dict[str, Any], list[tuple[str, str]]]] = {
    "joints only": (HOSE, {}, [OIL, DRY]),
    "joints that are not made stay out": (FACTORY, {}, [OIL]),
    "a joint with two cautions": (
        FACTORY,
        {"/joints/0/cautions/-": "Stop at the shoulder.", "/joints/3/cautions": ["Pull to prove it."]},
        [
            OIL,
            ("mates", "Straight-thread O-ring boss, size 8: Stop at the shoulder."),
            ("mates", "Quick connector, 3/8: Pull to prove it."),
        ],
    ),
    "none": (HOSE, NO_CAUTION_FOR_JOINTS, []),
    "rated C, each part once": (
        HOSE | BLENDED,
        NO_CAUTION_FOR_JOINTS | {"/materials/1/ratings/e85": "C"},
        [("fuel", f"{ADAPTER}: {WEAK_SEAL}"), ("fuel", f"{PLUG}: {WEAK_SEAL}")],
    ),
    "rated C for another fuel": (HOSE, NO_CAUTION_FOR_JOINTS | {"/materials/1/ratings/e85": "C"}, []),
    "rated B": (HOSE | BLENDED, NO_CAUTION_FOR_JOINTS, []),
    "the rail's own material": (
        HOSE | BLENDED,
        NO_CAUTION_FOR_JOINTS
        | {"/materials/-": small_catalog()["materials"][0] | {"id": "steel", "name": "Mild steel"}}
        | {"/materials/2/ratings": {"petrol": "A", "e85": "C"}, "/items/0/wetted": ["steel"]},
        [
            (
                "fuel",
                "Fuel rail, slate: Mild steel stands E85 only for a while (rated C): inspect and renew it early.",
            )
        ],
    ),
    "unsold part": (
        HERON,
        NO_CAUTION_FOR_JOINTS | {"/items/6/sold": False, "/chassis/1/hookups/0/flow": HOOKUP_FLOW},
        [("elsewhere", f"Link line, size-6 flare, 400 mm: {ELSEWHERE}")],
    ),
    "unsold plug that comes with the rail": (HOSE, NO_CAUTION_FOR_JOINTS | {"/items/2/sold": False}, []),
    "unrated adapter": (
        HOSE,
        NO_CAUTION_FOR_JOINTS | {"/items/3/flow": GONE},
        [("flow", "No flow is rated for ADAPT-B8-F6: the feed path loses more than is shown.")],
    ),
    "unrated hose": (
        HERON,
        NO_CAUTION_FOR_JOINTS,
        [("flow", "No flow is rated for the hose behind the hookup: the feed path loses more than is shown.")],
    ),
    "unrated part and hose of one path, unrated link": (
        HERON,
        NO_CAUTION_FOR_JOINTS | {"/items/4/flow": GONE, "/items/6/flow": GONE},
        [
            (
                "flow",
                "No flow is rated for SPIGOT-B8-Q, the hose behind the hookup: the feed path loses more than is shown.",
            ),
            ("flow", "No flow is rated for LINE-F6: the link path loses more than is shown."),
        ],
    ),
    "two paths that lack the same": (
        HERON,
        NO_CAUTION_FOR_JOINTS | {"/layouts/3/placements": [{"1.left": HOSE_FEED, "2.left": HOSE_FEED}]},
        [
            (
                "flow",
                f"{UNRATED_HOSE}: the feed paths at 1.left and 2.left lose more than is shown.",
            )
        ],
    ),
}


@pytest.mark.parametrize(("asked", "changes", "expected"), CAUTIONS.values(), ids=CAUTIONS.keys())
def test_cautions(asked: dict[str, Any], changes: dict[str, Any], expected: list[tuple[str, str]]) -> None:
    """Each thing to mind once: rule and words."""
    bill = best_bill(changed(small_catalog(), changes), asked)
    told = [(caution["rule"], caution["text"]) for caution in bill["cautions"] if caution["rule"] not in WORDS]
    assert told == expected


def test_facts_of_a_weak_material() -> None:
    """The caution's facts name part, fuel, material and rating."""
    (caution, *_) = best_bill(
        changed(small_catalog(), NO_CAUTION_FOR_JOINTS | {"/materials/1/ratings/e85": "C"}), HOSE | BLENDED
    )["cautions"]
    assert caution["facts"] == {
        "part": ADAPTER,
        "fuel": "E85",
        "material": "Fluorocarbon rubber",
        "rating": "C",
    }


def test_facts_of_an_unrated_path() -> None:
    """The caution's facts name what is not rated on which path, as the path itself does."""
    bill = best_bill(changed(small_catalog(), NO_CAUTION_FOR_JOINTS | {"/items/3/flow": GONE}), HOSE)
    (caution,) = bill["cautions"]
    assert caution["facts"] == {"duty": "feed", "unrated": ["ADAPT-B8-F6"], "hose_unrated": False}
    assert bill["flow"]["paths"][0]["unrated"] == ["ADAPT-B8-F6"]
