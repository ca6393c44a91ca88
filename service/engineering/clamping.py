"""Screws that hold a rail down: preload at both ends of torque and friction, and what they hold it against."""

import math
from dataclasses import dataclass

from service.engineering.screws import PROOF_MPA, Thread, preload_n, proof_load_n, stripping_load_n


@dataclass(frozen=True, slots=True)
class Clamp:
    """What a screw does.

    least_n: preload at the least torque and most friction [N]
    most_n: preload at the most torque and least friction [N]
    proof_part: the most preload as part of the proof load [-]
    engaged_mm: length of thread engaged [mm]
    engaged_diameters: the same in diameters [-]
    stripping_n: what tears the thread out [N], None where the tapped metal's strength is not told
    """

    least_n: float
    most_n: float
    proof_part: float
    engaged_mm: float
    engaged_diameters: float
    stripping_n: float | None


def clamp(
    thread: Thread,
    strength_class: str,
    torque_nm: tuple[float, float],
    nut_factor: tuple[float, float],
    engaged_mm: float,
    shear_mpa: float | None = None,
) -> Clamp:
    """Give what a screw does over a range of torque and friction.

    thread: its diameter and pitch [mm]
    strength_class: of its steel [-], one of PROOF_MPA
    torque_nm: least and most [N*m], 0 or more
    nut_factor: least and most [-], above 0: most friction at the least torque holds least
    engaged_mm: length of thread engaged [mm], 0 or more
    shear_mpa: shear strength of the tapped metal [MPa], above 0; None: not told

    Raises ValueError where a value is out of its range.
    Source: as of `preload_n`, `proof_load_n` and `stripping_load_n`.
    """
    if strength_class not in PROOF_MPA:
        raise ValueError(f"strength_class must be one of {', '.join(PROOF_MPA)}, not {strength_class}")
    if not 0 <= engaged_mm < math.inf:
        raise ValueError(f"engaged_mm must be 0 or more, not {engaged_mm}")
    least = preload_n(torque_nm[0], thread.diameter_mm, nut_factor[1])
    most = preload_n(torque_nm[1], thread.diameter_mm, nut_factor[0])
    return Clamp(
        least_n=least,
        most_n=most,
        proof_part=most / proof_load_n(thread, PROOF_MPA[strength_class]),
        engaged_mm=engaged_mm,
        engaged_diameters=engaged_mm / thread.diameter_mm,
        stripping_n=None if shear_mpa is None else stripping_load_n(thread, engaged_mm, shear_mpa),
    )


def pressure_force_n(bore_mm: float, kpa: float, count: int) -> float:
    """Give the force with which fuel lifts a rail off its injectors [N].

    bore_mm: of each cup, which its ring seals [mm], above 0
    kpa: pressure in the rail [kPa gauge], 0 or more
    count: of injectors [-], 0 or more

    Raises ValueError where a value is out of its range.
    Source: pressure times area.
    """
    if not (0 < bore_mm < math.inf and 0 <= kpa < math.inf and count >= 0):
        raise ValueError(f"a force needs bore_mm above 0, kpa and count of 0 or more, not {bore_mm}, {kpa} and {count}")
    return count * math.pi / 4 * bore_mm * bore_mm * kpa * 1e-3
