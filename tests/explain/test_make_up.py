"""How a joint is made up, in words: what seals it, how tight it is made, what it takes."""

import pytest

from tests.explain.joints import Json, told

HOW: dict[str, tuple[Json, str]] = {
    "torque": (
        {"method": "torque", "min_nm": 28, "max_nm": 48},
        "Tighten it to between 28 N·m (20.7 lbf·ft) and 48 N·m (35.4 lbf·ft).",
    ),
    "one torque": ({"method": "torque", "min_nm": 28, "max_nm": 28}, "Tighten it to 28 N·m (20.7 lbf·ft)."),
    "past hand-tight": (
        {"method": "past-hand-tight", "min_deg": 75, "max_deg": 105},
        "Tighten it by hand, then 75 to 105 degrees further with a wrench (1.25 to 1.75 flats of its hexagon).",
    ),
    "one flat past hand-tight": (
        {"method": "past-hand-tight", "min_deg": 60, "max_deg": 60},
        "Tighten it by hand, then 60 degrees further with a wrench (1 flat of its hexagon).",
    ),
    "flange to face": (
        {"method": "flange-to-face"},
        "Screw it in until its flange meets the face, then tighten it to the part maker's figure.",
    ),
    "flange to face, then a torque": (
        {"method": "flange-to-face", "min_nm": 14, "max_nm": 23},
        (
            "Screw it in until its flange meets the face, then tighten it to between 14 N·m (10.3 lbf·ft) and 23 N·m "
            "(17 lbf·ft)."
        ),
    ),
    "flange to face, at least": (
        {"method": "flange-to-face", "min_nm": 14},
        "Screw it in until its flange meets the face, then tighten it to at least 14 N·m (10.3 lbf·ft).",
    ),
    "flange to face, at most": (
        {"method": "flange-to-face", "max_nm": 23},
        "Screw it in until its flange meets the face, then tighten it to at most 23 N·m (17 lbf·ft).",
    ),
    "turns": (
        {"method": "turns-engaged", "min_threads": 3, "max_threads": 6, "turns_past_hand": 2.5},
        (
            "Screw it in by hand as far as it goes, then 2.5 turns further with a wrench; in the end 3 to 6 threads "
            "should be engaged."
        ),
    ),
    "one turn": (
        {"method": "turns-engaged", "min_threads": 4.5, "max_threads": 4.5, "turns_past_hand": 1},
        (
            "Screw it in by hand as far as it goes, then 1 turn further with a wrench; in the end 4.5 threads should "
            "be engaged."
        ),
    ),
    "by hand alone": (
        {"method": "turns-engaged", "min_threads": 3, "max_threads": 6, "turns_past_hand": 0},
        "Screw it in by hand as far as it goes; in the end 3 to 6 threads should be engaged.",
    ),
    "push to click": (
        {"method": "push-to-click"},
        "Push it on until it clicks, then pull hard: only the pull proves the latch.",
    ),
}


@pytest.mark.parametrize(("method", "expected"), HOW.values(), ids=HOW.keys())
def test_how_tight(method: Json, expected: str) -> None:
    """Every method in plain words, torques in both systems, ranges of one value as that value."""
    joint = {"id": "made", "cautions": [], "source": "figures for tests"} | method
    [meeting] = told("flare-6 male", "flare-6 female", {"joints/-": joint, "port_standards/flare-6/joint": "made"})[
        "joints"
    ]
    assert meeting["joint"] == {
        "id": "made",
        "method": method["method"],
        "text": f"Metal seals on metal at its cones: keep them clean, without sealant. {expected}",
    }


@pytest.mark.parametrize(
    ("seal", "expected"),
    [
        (
            "o-ring",
            "An O-ring seals it: fit a new one, wetted lightly with a fluid that suits the fuel, without sealant.",
        ),
        ("cone", "Metal seals on metal at its cones: keep them clean, without sealant."),
        (
            "taper",
            (
                "The taper of its threads seals it: put a liquid sealant that stands the fuel on the male thread "
                "alone, the first thread left bare. Never use tape: its shreds reach the injectors."
            ),
        ),
        ("bead", "Rings within the connector seal on the spigot, without sealant, and its latch holds the bead."),
    ],
)
def test_what_seals(seal: str, expected: str) -> None:
    """O-ring, cone, taper, bead."""
    [meeting] = told("quick-3/8 male", "quick-3/8 female", {"port_standards/quick-3~18/seal": seal})["joints"]
    assert meeting["joint"]["text"].startswith(f"{expected} Push it on")


def test_what_it_takes() -> None:
    """What the joint uses up, and the seal to have spare, by their names."""
    [meeting] = told("boss-8 male", "boss-8 female", {"joints/boss-8-torque/consumables": ["SEALANT", "SCREW-6"]})[
        "joints"
    ]
    assert meeting["joint"]["text"].endswith(
        "It takes Thread sealant, 10 ml and Screw, M6 x 25. Have a spare at hand: Seal for a size-8 boss."
    )


TAPER = {"outside_mm": 10.287, "pitch_mm": 0.9407, "hand_tight_mm": 4.102}


@pytest.mark.parametrize(
    ("turns", "expected"),
    [
        (1, "then 1 turn further with a wrench, and on to line it up: at most 1.6 turns in all, never past 6 threads."),
        (0, "as it goes, and on to line it up: at most 1.6 turns in all, never past 6 threads."),
        (2.5, "as it goes, then at most 1.6 turns further with a wrench: never past 6 threads."),
    ],
)
def test_turns_of_a_taper_come_out_of_its_threads(turns: float, expected: str) -> None:
    """1/8 NPT: 4.36 threads by hand (ASME B1.20.1), so 1.6 turns to 6; too many turns are never told."""
    joint = {"method": "turns-engaged", "min_threads": 4, "max_threads": 6, "turns_past_hand": turns}
    [meeting] = told(
        "taper-1/8 male",
        "taper-1/8 female",
        {
            "joints/-": joint | {"id": "made", "cautions": [], "source": "figures for tests"},
            "port_standards/taper-1~18/joint": "made",
            "port_standards/taper-1~18/taper": TAPER,
        },
    )["joints"]
    assert meeting["joint"]["text"].endswith(expected)


@pytest.mark.parametrize("source", ["From memory, low confidence: 46 to 80 N·m", "from MEMORY", " ", ""])
@pytest.mark.parametrize("method", ["torque", "flange-to-face"])
def test_a_torque_that_nobody_can_look_up_is_not_told(source: str, method: str) -> None:
    """The part maker's figure stands in its place."""
    joint = {"id": "made", "method": method, "min_nm": 28, "max_nm": 48, "cautions": [], "source": source}
    [meeting] = told("boss-8 male", "boss-8 female", {"joints/-": joint, "port_standards/boss-8/joint": "made"})[
        "joints"
    ]
    assert "N·m" not in meeting["joint"]["text"]
    assert "tighten it to the part maker's figure." in meeting["joint"]["text"].lower()
