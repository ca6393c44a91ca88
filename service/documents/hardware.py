"""What a catalog may tell of threads, glands, rings, screws, spacers and seats, for the checks beside the rules."""

from typing import Annotated, Literal

from pydantic import Field

from service.documents.fields import Document, Id, LengthMm, Part0To1, SizeMm, Text, ToleranceMm, TorqueNm

StrengthClass = Literal["8.8", "10.9"]
NutFactor = Annotated[float, Field(gt=0, le=1)]


class StraightThread(Document):
    """A straight thread; `unified` has its stress area by ASME B1.1, `metric` by ISO 898-1."""

    diameter_mm: SizeMm
    pitch_mm: SizeMm
    form: Literal["metric", "unified"]


class Gland(Document):
    """The room of the ring of an O-ring boss: what the ring sits on, the bore around it, the depth of it.

    A seat with a cone is told by the rectangle of the same volume; without a `source` nothing is judged by it.
    """

    inside_mm: SizeMm
    outside_mm: SizeMm
    depth_mm: SizeMm
    diameter_tol_mm: ToleranceMm
    depth_tol_mm: ToleranceMm
    source: Text | None = None


class PipeTaper(Document):
    """A taper pipe thread: the pipe's outside diameter, the pitch, how far it goes in by hand."""

    outside_mm: SizeMm
    pitch_mm: SizeMm
    hand_tight_mm: SizeMm


class Ring(Document):
    """An O-ring."""

    inside_mm: SizeMm
    section_mm: SizeMm
    inside_tol_mm: ToleranceMm
    section_tol_mm: ToleranceMm


class TorqueRange(Document):
    min: TorqueNm
    max: TorqueNm


class NutFactorRange(Document):
    """K in torque = K * preload * diameter, dry to oiled."""

    min: NutFactor
    max: NutFactor


class PartRange(Document):
    min: Part0To1
    max: Part0To1


class Screw(Document):
    thread: StraightThread
    strength_class: StrengthClass
    length_mm: SizeMm
    torque_nm: TorqueRange
    nut_factor: NutFactorRange
    material: Id


class Spacer(Document):
    """A tube between manifold and rail, around a screw."""

    height_mm: SizeMm
    height_tol_mm: ToleranceMm
    outside_mm: SizeMm
    inside_mm: SizeMm
    material: Id


class RailSeats(Document):
    """How a rail takes its injectors: from the underside of its foot up to the roof of a cup, from roof to mouth."""

    roof_mm: SizeMm
    roof_tol_mm: ToleranceMm
    cup_depth_mm: SizeMm
    foot_mm: LengthMm
    material: Id
