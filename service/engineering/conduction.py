"""Heat through what a rail stands on: steady conduction."""

import math


def conductance_w_k(area_mm2: float, length_mm: float, conductivity_w_m_k: float) -> float:
    """Give the heat that a bar lets through for each kelvin between its ends [W/K]: k A / L.

    area_mm2: cross-section [mm2], 0 or more
    length_mm: from end to end [mm], above 0
    conductivity_w_m_k: thermal conductivity [W/(m*K)], above 0

    Raises ValueError where a value is out of its range.
    Source: Fourier's law, e.g. Incropera, Fundamentals of Heat and Mass Transfer, section 3.1.
    """
    if not (0 <= area_mm2 < math.inf and 0 < length_mm < math.inf and 0 < conductivity_w_m_k < math.inf):
        raise ValueError(
            "conductance needs area_mm2 of 0 or more, length_mm and conductivity_w_m_k above 0, "
            f"not {area_mm2}, {length_mm} and {conductivity_w_m_k}"
        )
    return conductivity_w_m_k * area_mm2 * 1e-6 / (length_mm * 1e-3)


def ring_area_mm2(outside_mm: float, inside_mm: float) -> float:
    """Give the cross-section of a tube [mm2].

    outside_mm: outside diameter [mm], above 0
    inside_mm: inside diameter [mm], 0 or more, at most the outside

    Raises ValueError where a value is out of its range.
    Source: area of a ring.
    """
    if not 0 <= inside_mm <= outside_mm < math.inf:
        raise ValueError(f"inside_mm must be 0 or more and at most outside_mm, not {inside_mm} and {outside_mm}")
    return math.pi / 4 * (outside_mm * outside_mm - inside_mm * inside_mm)
