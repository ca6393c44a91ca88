"""What is known of seals, screws and seats besides their ports; lengths mm, temperatures degC, None: not told."""

from dataclasses import dataclass

from service.engineering.screws import Thread


@dataclass(frozen=True, slots=True)
class Range:
    """From the least to the most of a quantity, in its unit."""

    min: float
    max: float


@dataclass(frozen=True, slots=True)
class Gland:
    """The room of a ring under the flange of a boss's fitting: `inside` is what the ring sits on."""

    inside_mm: float
    outside_mm: float
    depth_mm: float
    diameter_tol_mm: float
    depth_tol_mm: float
    source: str | None = None


@dataclass(frozen=True, slots=True)
class PipeTaper:
    """A taper pipe thread: the pipe's outside diameter, and how far it goes in by hand."""

    outside_mm: float
    pitch_mm: float
    hand_tight_mm: float


@dataclass(frozen=True, slots=True)
class Ring:
    inside_mm: float
    section_mm: float
    inside_tol_mm: float
    section_tol_mm: float


@dataclass(frozen=True, slots=True)
class Screw:
    """`strength_class` is one of `engineering.PROOF_MPA`."""

    thread: Thread
    strength_class: str
    length_mm: float
    torque_nm: Range
    nut_factor: Range
    material: str


@dataclass(frozen=True, slots=True)
class Spacer:
    height_mm: float
    height_tol_mm: float
    outside_mm: float
    inside_mm: float
    material: str


@dataclass(frozen=True, slots=True)
class RailSeats:
    """How a rail takes its injectors: heights from the underside of its foot; `cup_depth_mm` from roof to mouth."""

    roof_mm: float
    roof_tol_mm: float
    cup_depth_mm: float
    foot_mm: float
    material: str
