"""Taper pipe threads: their proportions, and how many threads are engaged."""

import math

GAUGING_TURNS = 1.0
"""How far a thread may be from basic size, either way [turns]. Source: ASME B1.20.1 (from memory)."""

_HUNDREDTH = 0.01


def effective_length_mm(outside_mm: float, pitch_mm: float) -> float:
    """Give the length of effective external thread, L2 [mm].

    outside_mm: outside diameter of the pipe [mm], above the pitch
    pitch_mm: from crest to crest [mm], above 0

    Raises ValueError where a value is out of its range.
    Source: ASME B1.20.1: L2 = (0.80 D + 6.8) p, lengths in inches.
    """
    _check(outside_mm, pitch_mm)
    return (0.80 * outside_mm / 25.4 + 6.8) * pitch_mm


def engaged_threads(hand_tight_mm: float, pitch_mm: float, turns: float) -> float:
    """Give how many threads are engaged after so many turns past hand-tight [threads].

    hand_tight_mm: length of hand-tight engagement, L1 [mm], 0 or more
    pitch_mm: from crest to crest [mm], above 0
    turns: with a wrench, past hand-tight [-], 0 or more

    Raises ValueError where a value is out of its range.
    Source: ASME B1.20.1, L1 over the pitch; a turn engages a thread.
    """
    if not (0 <= hand_tight_mm < math.inf and 0 < pitch_mm < math.inf and 0 <= turns < math.inf):
        raise ValueError(
            "engagement needs hand_tight_mm and turns of 0 or more and pitch_mm above 0, "
            f"not {hand_tight_mm}, {turns} and {pitch_mm}"
        )
    return hand_tight_mm / pitch_mm + turns


def within_threads(threads: float, least: float, most: float) -> bool:
    """Whether so many engaged threads are within a range, to a hundredth of a turn [-].

    threads: engaged [threads]
    least: asked for [threads]
    most: asked for [threads]

    Source: comparison; a wrench does not turn to a hundredth.
    """
    return least - _HUNDREDTH <= threads <= most + _HUNDREDTH


def _check(outside_mm: float, pitch_mm: float) -> None:
    if not 0 < pitch_mm < outside_mm < math.inf:
        raise ValueError(
            f"a taper thread's pitch_mm must be above 0 and below its outside_mm, not {pitch_mm} and {outside_mm}"
        )
