"""How a joint is made up, in words: what seals it, how tight it is made, what it takes besides.

Sources: the sources of the catalog's joints; ASME B1.20.1 for hand-tight engagement. Tape is kept out of fuel systems
by common practice: its shreds reach the injectors.
"""

import math
from collections.abc import Callable

from service.domain import units
from service.domain.revision import Joint, MakeUp, Method, Revision, Standard
from service.domain.sources import can_be_looked_up
from service.domain.tongue import in_figures, named, numbered, plural, said, sentence, word
from service.engineering import engaged_threads
from service.explain.phrases import listed

SEALED_BY = {
    "o-ring": "an O-ring",
    "cone": "metal cones",
    "taper": "the taper of its threads",
    "bead": "rings within its connector",
}
"""What seals a joint, as it stands after `sealed by`."""

DEG_PER_FLAT = 60.0
PART_MAKER = "the part maker's figure"

_SEALING = {
    "o-ring": sentence(
        "An O-ring seals it: fit a new one, wetted lightly with a fluid that suits the fuel, without sealant."
    ),
    "cone": sentence("Metal seals on metal at its cones: keep them clean, without sealant."),
    "taper": sentence(
        "The taper of its threads seals it: put a liquid sealant that stands the fuel on the male thread alone, the "
        "first thread left bare. Never use tape: its shreds reach the injectors."
    ),
    "bead": sentence("Rings within the connector seal on the spigot, without sealant, and its latch holds the bead."),
}


_ONE_SPARE = sentence("Have a spare at hand: {these}.")
_SPARES = sentence("Have a spare at hand: {these}, as the fuel asks.")


def made_up(standard: Standard, revision: Revision) -> str:
    """Say how a joint of this standard seals and is made up; torques in both systems of units."""
    joint = standard.joint
    told = [said(_SEALING[standard.seal]), tightened(standard)]
    if joint.consumables:
        these = listed([named(revision.items[sku].name) for sku in joint.consumables])
        told.append(said("It takes {these}.", these=these))
    if joint.spare_seals:
        these = listed([named(revision.items[sku].name) for sku in joint.spare_seals], "or")
        told.append(said(_ONE_SPARE if len(joint.spare_seals) == 1 else _SPARES, these=these))
    return " ".join(told)


def tightened(standard: Standard) -> str:
    """Say how tight, torques in both systems of units."""
    return _TIGHTENING[standard.joint.make_up.method](standard)


def turns_at_most(standard: Standard) -> float | None:
    """How many turns past hand-tight reach the most threads, to a tenth rounded down; None: not told."""
    taper, most = standard.taper, standard.joint.make_up.max_threads
    if taper is None or most is None:
        return None
    turns = most - engaged_threads(taper.hand_tight_mm, taper.pitch_mm, 0.0)
    return max(0.0, math.floor(turns * 10 + 1e-6) / 10)


def torque_told(joint: Joint) -> tuple[float | None, float | None]:
    """The torques of a joint; none where nobody can look them up."""
    make_up = joint.make_up
    return (make_up.min_nm, make_up.max_nm) if can_be_looked_up(joint.source) else (None, None)


def _torque(standard: Standard) -> str:
    return said("Tighten it to {torque}.", torque=_torque_words(standard))


def _torque_words(standard: Standard) -> str:
    return torque_range(*torque_told(standard.joint)) or word(PART_MAKER)


def _past_hand_tight(standard: Standard) -> str:
    make_up = standard.joint.make_up
    return said(
        "Tighten it by hand, then {degrees} further with a wrench ({flats} of its hexagon).",
        degrees=_counts(make_up.min_deg, make_up.max_deg, _DEGREES),
        flats=_counts(make_up.min_deg, make_up.max_deg, _FLATS, DEG_PER_FLAT),
    )


def _flange_to_face(standard: Standard) -> str:
    torque = _torque_words(standard)
    return said("Screw it in until its flange meets the face, then tighten it to {torque}.", torque=torque)


def _turns_engaged(standard: Standard) -> str:
    make_up, most = standard.joint.make_up, turns_at_most(standard)
    if most is None:
        threads = _counts(make_up.min_threads, make_up.max_threads, _THREADS)
        return said("{start}; in the end {threads} should be engaged.", start=_by_hand(make_up), threads=threads)
    threads = _counts(make_up.max_threads, make_up.max_threads, _THREADS)
    turns = _counts(most, most, _TURNS)
    if (make_up.turns_past_hand or 0.0) >= most:
        return said(
            "Screw it in by hand as far as it goes, then at most {turns} further with a wrench: never past {threads}.",
            turns=turns,
            threads=threads,
        )
    return said(
        "{start}, and on to line it up: at most {turns} in all, never past {threads}.",
        start=_by_hand(make_up),
        turns=turns,
        threads=threads,
    )


def _by_hand(make_up: MakeUp) -> str:
    turns = make_up.turns_past_hand
    if not turns:
        return said("Screw it in by hand as far as it goes")
    return said(
        "Screw it in by hand as far as it goes, then {turns} further with a wrench", turns=_counts(turns, turns, _TURNS)
    )


def _push_to_click(_: Standard) -> str:
    return said("Push it on until it clicks, then pull hard: only the pull proves the latch.")


_TIGHTENING: dict[Method, Callable[[Standard], str]] = {
    "torque": _torque,
    "past-hand-tight": _past_hand_tight,
    "flange-to-face": _flange_to_face,
    "turns-engaged": _turns_engaged,
    "push-to-click": _push_to_click,
}


def torque_range(least: float | None, most: float | None) -> str:
    """Word a range of torques, each in both systems; nothing where neither end is told."""
    if least is not None and most is not None:
        shown = list(dict.fromkeys((units.torque(least), units.torque(most))))
        return said("between {least} and {most}", least=shown[0], most=shown[1]) if len(shown) > 1 else shown[0]
    if least is not None:
        return said("at least {torque}", torque=units.torque(least))
    return "" if most is None else said("at most {torque}", torque=units.torque(most))


_DEGREES = plural("{count} degree", "{count} degrees")
_FLATS = plural("{count} flat", "{count} flats")
_THREADS = plural("{count} thread", "{count} threads")
_TURNS = plural("{count} turn", "{count} turns")
_MANY = 2


def _counts(least: float | None, most: float | None, words: tuple[str, str], each: float = 1.0) -> str:
    """Word a range that is counted, as in `1 to 1.5 flats`; `each` is how much one of them is."""
    shown = list(dict.fromkeys(f"{round(value / each, 2):g}" for value in (least, most) if value is not None))
    told = f" {word('to')} ".join(map(in_figures, shown))
    return numbered(1 if shown == ["1"] else _MANY, *words, count=told)
