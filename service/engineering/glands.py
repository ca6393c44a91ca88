"""A ring on what it sits on, in its gland: stretch, squeeze and fill over all tolerances."""

import math
from dataclasses import dataclass

from service.engineering.seals import fill, squeeze
from service.engineering.spread import Size, Spread, spread


@dataclass(frozen=True, slots=True)
class RingSizes:
    """An O-ring.

    inside: its inside diameter [mm], above 0
    section: its thickness [mm], above 0
    """

    inside: Size
    section: Size


@dataclass(frozen=True, slots=True)
class GlandSizes:
    """A gland of rectangular section, or the one that has the same volume.

    inside: diameter that the ring sits on [mm], above 0
    outside: diameter of the bore around it [mm], above the inside
    depth: in which the ring is pressed together [mm], above 0
    """

    inside: Size
    outside: Size
    depth: Size


@dataclass(frozen=True, slots=True)
class RingFit:
    """How a ring sits.

    stretch: how far its length is stretched [-]
    squeeze: how far its section is pressed together [-]
    fill: how far it fills its gland [-]
    """

    stretch: Spread
    squeeze: Spread
    fill: Spread


def ring_fit(ring: RingSizes, gland: GlandSizes) -> RingFit:
    """Give stretch, squeeze and fill of a ring in a gland [-], over all tolerances.

    ring: its sizes [mm]
    gland: its sizes [mm]

    A ring keeps its volume: where it is stretched its section thins with the root of its length. A ring larger than
    what it sits on is not stretched and does not thicken.
    Raises ValueError where a least size is not above 0, or the gland's bore not larger than what the ring sits on.
    Source: squeeze as of MIL-G-5514, paragraph 3.6.2; volumes of torus and ring; constant volume of rubber.
    """
    for name, size in (("inside", ring.inside), ("section", ring.section), ("depth", gland.depth)):
        if not size.nominal - size.tol > 0:
            raise ValueError(f"{name} must be above 0 at the least, not {size.nominal} -{size.tol} mm")
    if not 0 < gland.inside.nominal + gland.inside.tol < gland.outside.nominal - gland.outside.tol:
        raise ValueError(
            "a gland's outside must be larger than its inside at the least, "
            f"not {gland.outside.nominal} and {gland.inside.nominal} mm"
        )
    sizes = [ring.inside, ring.section, gland.inside, gland.depth]
    return RingFit(
        stretch=spread(_stretch, [ring.inside, gland.inside]),
        squeeze=spread(_squeeze, sizes),
        fill=spread(_fill, [*sizes, gland.outside]),
    )


def _stretch(ring_mm: float, gland_mm: float) -> float:
    return max(0.0, gland_mm / ring_mm - 1)


def _section(ring_mm: float, section_mm: float, gland_mm: float) -> float:
    """The section of the stretched ring, its length taken along its middle."""
    stretched = max(ring_mm, gland_mm)
    if stretched == ring_mm:
        return section_mm
    return section_mm * math.sqrt((ring_mm + section_mm) / (stretched + section_mm))


def _squeeze(ring_mm: float, section_mm: float, gland_mm: float, depth_mm: float) -> float:
    return squeeze(_section(ring_mm, section_mm, gland_mm), depth_mm)


def _fill(ring_mm: float, section_mm: float, gland_mm: float, depth_mm: float, outside_mm: float) -> float:
    width_mm, middle_mm = (outside_mm - gland_mm) / 2, (outside_mm + gland_mm) / 2
    return fill(section_mm, width_mm, depth_mm) * (ring_mm + section_mm) / middle_mm
