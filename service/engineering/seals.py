"""Seals: squeeze and fill of an O-ring in its gland."""

import math


def squeeze(section_mm: float, depth_mm: float) -> float:
    """Give the part of its section by which a ring is pressed together [-]; less than 0 where it does not touch.

    section_mm: thickness of the ring [mm], above 0
    depth_mm: depth of the gland [mm], above 0

    Raises ValueError where a value is not above 0.
    Source: definition in MIL-G-5514, paragraph 3.6.2.
    """
    _above_0(section_mm=section_mm, depth_mm=depth_mm)
    return (section_mm - depth_mm) / section_mm


def fill(section_mm: float, width_mm: float, depth_mm: float) -> float:
    """Give the part of a rectangular gland that a ring fills [-], both on the same mean diameter.

    section_mm: thickness of the ring [mm], above 0
    width_mm: of the gland [mm], above 0
    depth_mm: of the gland [mm], above 0

    Raises ValueError where a value is not above 0.
    Source: areas of circle and rectangle; usual most 0.85 (common practice).
    """
    _above_0(section_mm=section_mm, width_mm=width_mm, depth_mm=depth_mm)
    return math.pi / 4 * section_mm * section_mm / (width_mm * depth_mm)


def _above_0(**sizes_mm: float) -> None:
    for name, size in sizes_mm.items():
        if not 0 < size < math.inf:
            raise ValueError(f"{name} must be above 0, not {size}")
