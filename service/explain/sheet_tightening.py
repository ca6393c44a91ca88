"""How tight, in figures of both systems and in words."""

from service.documents.sheet import PastHandTight, Threads, Tightening, Torque
from service.domain.hardware import Range
from service.domain.revision import MakeUp, Standard
from service.domain.units import NM_PER_LBF_FT
from service.explain.make_up import DEG_PER_FLAT, tightened, torque_range, torque_told, turns_at_most

_NO_TORQUE = "No torque is told here: take it from the vehicle maker's manual."


def of_standard(standard: Standard) -> Tightening:
    """How tight a joint of this standard is made."""
    make_up = standard.joint.make_up
    return {
        "method": make_up.method,
        "torque": _torque(*torque_told(standard.joint)),
        "past_hand_tight": _past_hand_tight(make_up),
        "threads": _threads(make_up, standard),
        "text": tightened(standard),
    }


def of_screw(torque_nm: Range | None) -> Tightening:
    """How tight a screw is made."""
    return {
        "method": None,
        "torque": None if torque_nm is None else _torque(torque_nm.min, torque_nm.max),
        "past_hand_tight": None,
        "threads": None,
        "text": screw_text(torque_nm),
    }


def screw_text(torque_nm: Range | None) -> str:
    """The torque of a screw as a sentence."""
    if torque_nm is None:
        return _NO_TORQUE
    return f"Torque: {torque_range(torque_nm.min, torque_nm.max)}; the vehicle maker's figure comes first."


def _torque(least: float | None, most: float | None) -> Torque | None:
    if least is None and most is None:
        return None
    return {
        "min_nm": least,
        "max_nm": most,
        "min_lbf_ft": _each(least, NM_PER_LBF_FT),
        "max_lbf_ft": _each(most, NM_PER_LBF_FT),
    }


def _past_hand_tight(make_up: MakeUp) -> PastHandTight | None:
    if make_up.min_deg is None and make_up.max_deg is None:
        return None
    return {
        "min_deg": make_up.min_deg,
        "max_deg": make_up.max_deg,
        "min_flats": _each(make_up.min_deg, DEG_PER_FLAT),
        "max_flats": _each(make_up.max_deg, DEG_PER_FLAT),
    }


def _threads(make_up: MakeUp, standard: Standard) -> Threads | None:
    if make_up.min_threads is None and make_up.max_threads is None:
        return None
    return {
        "min": make_up.min_threads,
        "max": make_up.max_threads,
        "turns_past_hand": make_up.turns_past_hand,
        "most_turns": turns_at_most(standard),
    }


def _each(value: float | None, unit: float) -> float | None:
    return None if value is None else round(value / unit, 3)
