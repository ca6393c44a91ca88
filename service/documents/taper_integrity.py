"""What must hold of taper joints: the turns of the wrench lead to the threads that are asked for."""

from collections.abc import Iterator

from service.documents.arriving import Part
from service.documents.faults import Fault
from service.documents.rendering import rendered
from service.engineering.tapers import within_threads

_JOINT = ("turns_past_hand", "min_threads", "max_threads")
_TAPER = ("hand_tight_mm", "pitch_mm")
_MOST = 10_000.0
"""Beyond that a figure is a fault of its own."""


def taper_faults(catalog: Part) -> Iterator[Fault]:
    """Yield a fault for each joint whose two figures disagree on a taper that is made up by it.

    Hand-tight engagement and turns past it add up to the threads engaged (ASME B1.20.1).
    """
    joints = {joint.text("id"): joint for joint in catalog.parts("joints")}
    told: set[str] = set()
    for standard in catalog.parts("port_standards"):
        joint, taper = joints.get(standard.text("joint")), standard.part("taper")
        for fault in _apart(joint, taper) if joint and taper else ():
            if fault.pointer not in told:
                told.add(fault.pointer)
                yield fault


def _apart(joint: Part, taper: Part) -> Iterator[Fault]:
    figures = [*_figures(joint, _JOINT), *_figures(taper, _TAPER)]
    if len(figures) < len(_JOINT) + len(_TAPER):
        return
    turns, least, most, by_hand_mm, pitch_mm = figures
    by_hand = by_hand_mm / pitch_mm if pitch_mm else 0.0
    if by_hand and not within_threads(by_hand + turns, least, most):
        asked = f"{by_hand:.2f} threads are engaged by hand, {rendered(least)} to {rendered(most)} are asked for"
        yield joint.fault(f"{max(0.0, least - by_hand):.2f} to {max(0.0, most - by_hand):.2f}: {asked}", _JOINT[0])


def _figures(part: Part, names: tuple[str, ...]) -> Iterator[float]:
    for name in names:
        value = part.number(name)
        if value is not None and 0 <= value <= _MOST:
            yield value
