"""A joint of an assembly sheet in words: what goes where, how tight, how to tell that it is right.

Sources: aviation and military texts on flares and fittings (no compound on cones, second wrench), the torque standards
of the catalog's joints; common practice for the rest.
"""

from service.domain.revision import Standard
from service.domain.sheet import MadeJoint
from service.explain.make_up import tightened
from service.explain.phrases import capital
from service.explain.sheet_words import Words, hookup, spot_words

_PREPARED = {
    "o-ring": "with its new, wetted ring",
    "cone": "with clean, dry cones, no sealant",
    "taper": "with sealant on the male thread alone, its first two threads bare",
    "bead": "with a clean, wetted spigot",
}
_CHECKS = {
    "o-ring": (
        "The flange lies on the face all round, and no ring shows.",
        "A ring creeps out of its gap, or the flange is not on the face.",
        "Take it out. Look for a burr or a cut, fit a new wetted ring, start again: more torque does not mend it.",
    ),
    "cone": (
        "The nut ran on by hand until the cones met, and hose or pipe has not twisted.",
        "The nut binds before the cones meet, or the joint weeps later.",
        "Pressure to zero. Take it apart, look at both cones, change what is scratched; do not just turn further.",
    ),
    "taper": (
        "It grew steadily tighter; the threads that are told are in, and no sealant got inside.",
        "It bottoms, stays loose after the turns that are told, or had to be turned back.",
        "Take it out, clean both threads, put new sealant on and start again; if it still runs deep, change the part.",
    ),
    "bead": (
        "It clicked, the latch is home, and a hard pull does not move it.",
        "It did not click, slides back, or the latch stands proud.",
        "Take it off, look at latch, rings and spigot, change what is worn, push again.",
    ),
}
_STEADY = "Keep the rail from twisting on its mounts."
_HELD = "Hold the other part with a second wrench."
_GAUGE = "Turn it by its wrench flats, never by its case."


def joint_words(joint: MadeJoint, standard: Standard) -> Words:
    """The words of one joint."""
    pushed = standard.joint.make_up.method == "push-to-click"
    kind = "bead" if pushed else standard.seal
    look_for, wrong, then = _CHECKS[kind]
    what = _what(joint)
    is_gauge = joint.part is not None and joint.part.kind == "gauge"
    way = "into" if joint.opening.end == "female" else "on to"
    place = f"the {spot_words(joint.spot)}" if joint.at_rail else joint.onto.name
    start = f"{'Push it' if pushed else 'Start it'} {way} {place}{'' if pushed else ' by hand'}, {_PREPARED[kind]}."
    held = [] if pushed else [_STEADY if joint.at_rail else _HELD]
    return Words(
        f"{capital(spot_words(joint.spot))}: {capital(what)}",
        " ".join([start, *([_GAUGE] if is_gauge else []), tightened(standard), *held]),
        f"{look_for} The dial can be read." if is_gauge else look_for,
        wrong,
        then,
    )


def _what(joint: MadeJoint) -> str:
    return hookup(joint.hookup_kind) if joint.part is None else joint.part.name
