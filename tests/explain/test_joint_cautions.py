"""What to mind at joints: those that are made, those that must not be, the parts, and what was not looked at."""

import pytest

from service.rules import RULE_BY_ID
from tests.explain.joints import BOSS_8, FLARE_6, Json, told

PORTS_ALONE = (
    "Only the ports were compared. Whether the parts stand the fuel and the pressure, have room and flow enough, is "
    "for a bill to tell."
)
SECOND_WRENCH = (
    "Use a second wrench, so that neither hose nor rail is twisted. What the makers of the parts say comes before the "
    "figures told here."
)
UNDER_PRESSURE = "Never tighten or loosen a flared nut while the line holds pressure: it reads tight while it is not."
NOT_FORCED = (
    "Never force ends of different standards together, even where one thread starts in the other: such a joint leaks."
)
OILED = f"{BOSS_8}: Oil the seal before it goes in."
NO_SEALANT = f"{FLARE_6}: No sealant on a flare."

CAUTIONS: dict[str, tuple[str, str, list[Json], list[str]]] = {
    "a screwed joint": ("RAIL-S:l", "PLUG-B8", [], [OILED, SECOND_WRENCH, PORTS_ALONE]),
    "a joint that clicks": ("quick-3/8 male", "quick-3/8 female", [], [PORTS_ALONE]),
    "a flare": ("flare-6 male", "LINE-F6", [], [NO_SEALANT, UNDER_PRESSURE, SECOND_WRENCH, PORTS_ALONE]),
    "the joints of a bridge": (
        "RAIL-S:l",
        "flare-6 female",
        [],
        [OILED, NO_SEALANT, UNDER_PRESSURE, SECOND_WRENCH, NOT_FORCED, PORTS_ALONE],
    ),
    "nothing to make, both alike": ("taper-1/8 male", "taper-1/8 male", [], [PORTS_ALONE]),
    "nothing to make, but to force": ("taper-1/8 male", "flare-6 male", [], [NOT_FORCED, PORTS_ALONE]),
    "one text for two standards": (
        "RAIL-S:l",
        "flare-6 female",
        [{"joints/flare-turn/cautions": ["Oil the seal before it goes in."]}],
        [
            f"{BOSS_8} and {FLARE_6}: Oil the seal before it goes in.",
            *(UNDER_PRESSURE, SECOND_WRENCH, NOT_FORCED, PORTS_ALONE),
        ],
    ),
    "two pieces of one part": (
        "PLUG-T",
        "PLUG-T",
        [],
        [
            (
                "Two pieces of Plug for a 1/8 taper thread are meant: the ports of one piece are not joined to one "
                "another."
            ),
            PORTS_ALONE,
        ],
    ),
    "retired parts, each once": (
        "PLUG-T",
        "RAIL-S",
        [{"items/PLUG-T/status": "retired", "items/PLUG-T/superseded_by": "PLUG-B8", "items/RAIL-S/status": "retired"}],
        [
            "Plug for a 1/8 taper thread: No longer made; PLUG-B8 takes its place.",
            "Fuel rail, slate: No longer made.",
            *(SECOND_WRENCH, PORTS_ALONE),
        ],
    ),
}


@pytest.mark.parametrize(("one", "other", "changes", "expected"), CAUTIONS.values(), ids=CAUTIONS.keys())
def test_cautions(one: str, other: str, changes: list[Json], expected: list[str]) -> None:
    """What concerns the parts, the joints that are made, those that must not be, and what was not looked at."""
    answer = told(one, other, *changes)
    assert [caution["text"] for caution in answer["cautions"]] == expected
    for caution in answer["cautions"]:
        assert caution["rule"] in RULE_BY_ID
        assert caution["facts"]
