"""A joint of an assembly sheet in words: what goes where, how tight, how to tell that it is right.

Sources: aviation and military texts on flares and fittings (no compound on cones, second wrench), the torque standards
of the catalog's joints; common practice for the rest.
"""

from service.domain import units
from service.domain.parts import Item
from service.domain.revision import Standard
from service.domain.sheet import MadeJoint, Step
from service.explain.make_up import tightened
from service.explain.phrases import capital
from service.explain.sheet_words import Words, hookup, spot_words

_PREPARED = {
    "o-ring": "New ring on and wetted; no sealant, no tape.",
    "cone": "Cones clean and dry; no sealant, no tape.",
    "taper": (
        "Liquid sealant for fuel on the male thread, the first thread bare; never tape, its shreds reach the injectors."
    ),
    "bead": "Spigot clean and wetted; no sealant.",
}
_STARTED = {
    "o-ring": "Start it by hand.",
    "cone": "Start the nut by hand.",
}
_CHECKS = {
    "o-ring": (
        "The flange lies on the face all round.",
        "A ring creeps out, or the flange stands off the face.",
        "Take it out, look for a burr, fit a new ring: more torque does not mend it.",
    ),
    "cone": (
        "The nut ran on by hand, and no hose is twisted.",
        "The nut binds before the cones meet, or the joint weeps.",
        "Pressure to zero, take it apart, change a scratched cone: do not just turn further.",
    ),
    "taper": (
        "It grew steadily tighter, and no sealant got inside.",
        "It bottoms, stays loose at the most turns, or was turned back.",
        "Take it out, clean both threads, seal it anew; change a part that runs deep.",
    ),
    "bead": (
        "It clicked, the latch is home, and a hard pull does not move it.",
        "It did not click, slides back, or the latch stands proud.",
        "Take it off, change what is worn, push it on again.",
    ),
}
_BY_ITS_BODY = "Hold the rail by its body, in soft jaws."
_STEADY = "Keep the rail from twisting on its mounts."
_HELD = "Hold the other part with a second wrench."
_POINTS = {
    "gauge": "Turn it by its wrench flats, never by its case, and stop with the dial to where it is read.",
    "regulator": (
        "Once it is tight, outlet and nipple have to point to where their hoses run free of heat: never leave it loose "
        "to line it up."
    ),
}
"""What points somewhere, and how it is brought there."""


def joint_words(step: Step, joint: MadeJoint, standard: Standard) -> Words:
    """The words of one joint."""
    kind = _kind(standard)
    look_for, wrong, then = _CHECKS[kind]
    held = "" if kind == "bead" else _held(step, joint)
    told = [_late(step), made_up(standard), _points(joint.part), held]
    return Words(_title(joint), " ".join(filter(None, told)), look_for, wrong, then)


def _points(part: Item | None) -> str:
    if part is None:
        return ""
    turned = f"Its outlet stands at {part.outlet_deg:g} degrees to its port." if part.outlet_deg else ""
    return " ".join(filter(None, (turned, _POINTS.get(part.kind, ""))))


def made_up(standard: Standard) -> str:
    """How a joint of this standard is made up, wherever it is."""
    kind = _kind(standard)
    return " ".join(filter(None, (_PREPARED[kind], _STARTED.get(kind), tightened(standard))))


def _kind(standard: Standard) -> str:
    return "bead" if standard.joint.make_up.method == "push-to-click" else standard.seal


def _title(joint: MadeJoint) -> str:
    title = f"{capital(spot_words(joint.spot))}: {_what(joint)}"
    if joint.at_rail:
        return title
    onto = joint.onto.name.partition(",")[0]
    return f"{title}, {'into' if joint.opening.end == 'female' else 'on to'} {onto}"


def _held(step: Step, joint: MadeJoint) -> str:
    if not joint.at_rail:
        return _HELD
    return _BY_ITS_BODY if step.stage == "bench" else _STEADY


def _late(step: Step) -> str:
    """Why a part waits for the rail."""
    if step.left_mm is None:
        return ""
    left = units.length(step.left_mm) if step.left_mm else "nothing"
    return f"Only now: {left} is left around it, too little for a rail that is set down by hand to pass."


def _what(joint: MadeJoint) -> str:
    return hookup(joint.hookup_kind) if joint.part is None else joint.part.name
