"""Screws: the thread's areas, torque and preload, proof load, and how much thread soft metal needs."""

import math
from dataclasses import dataclass

PROOF_MPA = {"8.8": 580.0, "10.9": 830.0}
"""Proof strength by strength class, up to 16 mm [MPa]. Source: ISO 898-1 table 3 for 8.8 (from memory);
Shigley, Mechanical Engineering Design, table 8-11 for 10.9."""

REUSED_PART_OF_PROOF = 0.75
"""Preload of a joint that is taken apart again, as part of the proof load [-].

Source: Shigley, Mechanical Engineering Design, eq. 8-31 (from memory)."""

DIAMETERS_IN_ALUMINIUM = 2.0
"""Least thread engagement of a cap screw in aluminium, in screw diameters [-]. Source: TM 5-3895-360-13, app. G."""


@dataclass(frozen=True, slots=True)
class Thread:
    """A straight 60-degree thread of the ISO 68-1 profile, which unified threads share but for their roots.

    diameter_mm: nominal (major) diameter [mm], above the pitch
    pitch_mm: from crest to crest [mm], above 0
    unified: whether its stress area is told by ASME B1.1 [-], else by ISO 898-1

    Raises ValueError where a value is out of its range.
    Source: ISO 68-1 and ISO 724; ASME B1.1.
    """

    diameter_mm: float
    pitch_mm: float
    unified: bool = False

    def __post_init__(self) -> None:
        if not 0 < self.pitch_mm < self.diameter_mm < math.inf:
            raise ValueError(
                f"a thread's pitch must be above 0 and below its diameter, not {self.pitch_mm} and {self.diameter_mm}"
            )

    @property
    def pitch_diameter_mm(self) -> float:
        """Where thread and gap are equally wide, d2 [mm]."""
        return self.diameter_mm - 3 / 8 * math.sqrt(3) * self.pitch_mm

    @property
    def hole_mm(self) -> float:
        """Minor diameter of the internal thread, D1 [mm]."""
        return self.diameter_mm - 5 / 8 * math.sqrt(3) * self.pitch_mm

    @property
    def root_mm(self) -> float:
        """Minor diameter of the external thread with its rounded root, d3 [mm]."""
        return self.diameter_mm - 17 / 24 * math.sqrt(3) * self.pitch_mm

    @property
    def stress_area_mm2(self) -> float:
        """Area that carries tension [mm2]: of a circle between pitch and root diameter.

        Source: ISO 898-1; ASME B1.1 for unified threads.
        """
        if self.unified:
            return math.pi / 4 * (self.diameter_mm - 0.9743 * self.pitch_mm) ** 2
        return math.pi / 4 * ((self.pitch_diameter_mm + self.root_mm) / 2) ** 2


def proof_load_n(thread: Thread, proof_mpa: float) -> float:
    """Give the tension that a screw bears without staying longer [N].

    thread: its diameter and pitch [mm]
    proof_mpa: proof strength of the strength class [MPa], above 0

    Raises ValueError where the strength is not above 0.
    Source: ISO 898-1.
    """
    if not proof_mpa > 0:
        raise ValueError(f"proof_mpa must be above 0, not {proof_mpa}")
    return thread.stress_area_mm2 * proof_mpa


def torque_nm(preload_n: float, diameter_mm: float, nut_factor: float) -> float:
    """Give the torque for a preload [N*m]: T = K F d.

    preload_n: tension of the screw [N], 0 or more
    diameter_mm: nominal diameter [mm], above 0
    nut_factor: K, what friction makes of it [-], above 0; scatters by a quarter

    Raises ValueError where a value is out of its range.
    Source: Shigley, Mechanical Engineering Design, eq. 8-27 and table 8-15.
    """
    _check_torque("preload_n", preload_n, diameter_mm, nut_factor)
    return nut_factor * preload_n * diameter_mm * 1e-3


def preload_n(torque_nm: float, diameter_mm: float, nut_factor: float) -> float:
    """Give the preload that a torque makes [N]: F = T / (K d).

    torque_nm: tightening torque [N*m], 0 or more
    diameter_mm: nominal diameter [mm], above 0
    nut_factor: K [-], above 0

    Raises ValueError where a value is out of its range.
    Source: as of `torque_nm`.
    """
    _check_torque("torque_nm", torque_nm, diameter_mm, nut_factor)
    return torque_nm / (nut_factor * diameter_mm * 1e-3)


def stripping_load_n(thread: Thread, engaged_mm: float, shear_mpa: float) -> float:
    """Give the tension at which a screw tears the thread out of its hole [N], where the screw is the stronger.

    The internal thread shears along the screw's major diameter, over 7/8 of each pitch at the most.

    thread: its diameter and pitch [mm]
    engaged_mm: length of thread engaged [mm], 0 or more
    shear_mpa: shear strength of the tapped metal [MPa], above 0

    Basic sizes: tolerances take up to a quarter of it. Raises ValueError where a value is out of its range.
    Source: internal-thread shear area of FED-STD-H28/2B at basic sizes (from memory).
    """
    if not (engaged_mm >= 0 and shear_mpa > 0):
        raise ValueError(
            f"stripping needs engaged_mm of 0 or more and shear_mpa above 0, not {engaged_mm} and {shear_mpa}"
        )
    # n [P/2 + (Dmin - d2)/sqrt(3)] of each turn's circumference; at basic sizes that is 7/8.
    part = 0.5 + (thread.diameter_mm - thread.pitch_diameter_mm) / (math.sqrt(3) * thread.pitch_mm)
    return math.pi * thread.diameter_mm * part * engaged_mm * shear_mpa


def _check_torque(name: str, value: float, diameter_mm: float, nut_factor: float) -> None:
    if not (value >= 0 and diameter_mm > 0 and nut_factor > 0):
        raise ValueError(
            f"{name} must be 0 or more, diameter_mm and nut_factor above 0, not {value}, {diameter_mm} and {nut_factor}"
        )
