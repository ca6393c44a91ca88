"""How a joint is made up, in words: what seals it, how tight it is made, what it takes besides."""

from collections.abc import Callable

from service.domain import units
from service.domain.revision import MakeUp, Method, Revision, Standard
from service.explain.phrases import listed

SEALED_BY = {
    "o-ring": "an O-ring",
    "cone": "metal cones",
    "taper": "the taper of its threads",
    "bead": "rings within its connector",
}
"""What seals a joint, as it stands after `sealed by`."""

DEG_PER_FLAT = 60.0

_SEALING = {
    "o-ring": "An O-ring seals it: fit a new one, wetted lightly with a fluid that suits the fuel.",
    "cone": "Metal seals on metal at its cones: keep them clean, without sealant.",
    "taper": "The taper of its threads seals it: put a sealant that stands the fuel on the male thread alone.",
    "bead": "Rings within the connector seal on the spigot, and its latch holds the bead.",
}


def made_up(standard: Standard, revision: Revision) -> str:
    """Say how a joint of this standard seals and is made up; torques in both systems of units."""
    joint = standard.joint
    told = [_SEALING[standard.seal], tightened(joint.make_up)]
    if joint.consumables:
        told.append(f"It takes {listed([revision.items[sku].name for sku in joint.consumables])}.")
    if joint.spare_seal is not None:
        told.append(f"Have a spare at hand: {revision.items[joint.spare_seal].name}.")
    return " ".join(told)


def tightened(make_up: MakeUp) -> str:
    """Say how tight, torques in both systems of units."""
    return _TIGHTENING[make_up.method](make_up)


def _torque(make_up: MakeUp) -> str:
    return f"Tighten it to {torque_range(make_up.min_nm, make_up.max_nm)}."


def _past_hand_tight(make_up: MakeUp) -> str:
    degrees = _counts(make_up.min_deg, make_up.max_deg, "degree")
    flats = _counts(make_up.min_deg, make_up.max_deg, "flat", DEG_PER_FLAT)
    return f"Tighten it by hand, then {degrees} further with a wrench ({flats} of its hexagon)."


def _flange_to_face(make_up: MakeUp) -> str:
    torque = torque_range(make_up.min_nm, make_up.max_nm)
    return f"Screw it in until its flange meets the face{f', then tighten it to {torque}' if torque else ''}."


def _turns_engaged(make_up: MakeUp) -> str:
    turns = make_up.turns_past_hand
    further = f", then {_counts(turns, turns, 'turn')} further with a wrench" if turns else ""
    threads = _counts(make_up.min_threads, make_up.max_threads, "thread")
    return f"Screw it in by hand as far as it goes{further}; in the end {threads} should be engaged."


def _push_to_click(_: MakeUp) -> str:
    return "Push it on until it clicks, then pull hard: only the pull proves the latch."


_TIGHTENING: dict[Method, Callable[[MakeUp], str]] = {
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
        return f"between {' and '.join(shown)}" if len(shown) > 1 else shown[0]
    if least is not None:
        return f"at least {units.torque(least)}"
    return "" if most is None else f"at most {units.torque(most)}"


def _counts(least: float | None, most: float | None, word: str, each: float = 1.0) -> str:
    """Word a range that is counted, as in `1 to 1.5 flats`; `each` is how much one of them is."""
    shown = list(dict.fromkeys(f"{round(value / each, 2):g}" for value in (least, most) if value is not None))
    return f"{' to '.join(shown)} {word}{'' if shown == ['1'] else 's'}"
