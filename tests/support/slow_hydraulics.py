"""Pressure drop and flow sharing the slow, obvious way: fixed-point friction factor, plain bisection.

A *run* is a list of flow records `{bore_mm, length_mm, loss_k, roughness_mm}` that the fuel passes in turn.
Fuels are records of the catalog document (`density_kg_m3`, `viscosity_mpa_s`).
"""

from collections.abc import Sequence
from math import log10, pi
from typing import Any

LAMINAR_BELOW_RE = 2040

Record = dict[str, Any]
Run = Sequence[Record]


def velocity_m_s(piece: Record, flow_l_h: float) -> float:
    bore_m = piece["bore_mm"] / 1000
    return (flow_l_h / 1000 / 3600) / (pi / 4 * bore_m**2)


def reynolds(piece: Record, fuel: Record, flow_l_h: float) -> float:
    bore_m = piece["bore_mm"] / 1000
    return fuel["density_kg_m3"] * velocity_m_s(piece, flow_l_h) * bore_m / (fuel["viscosity_mpa_s"] / 1000)


def friction_factor(re: float, relative_roughness: float) -> float:
    """Darcy friction factor: 64/Re below Re 2040, Colebrook-White solved by fixed-point iteration above."""
    if re < LAMINAR_BELOW_RE:
        return 64 / re
    x = 6.0  # x = 1 / sqrt(f)
    for _ in range(200):
        following = -2 * log10(relative_roughness / 3.7 + 2.51 * x / re)
        if abs(following - x) < 1e-14 * x:
            break
        x = following
    return 1 / following**2


def piece_drop_kpa(piece: Record, fuel: Record, flow_l_h: float) -> float:
    """(f L/D + K) rho v^2 / 2."""
    if flow_l_h == 0:
        return 0.0
    f = friction_factor(reynolds(piece, fuel, flow_l_h), piece["roughness_mm"] / piece["bore_mm"])
    dynamic_pa = fuel["density_kg_m3"] * velocity_m_s(piece, flow_l_h) ** 2 / 2
    return (f * piece["length_mm"] / piece["bore_mm"] + piece["loss_k"]) * dynamic_pa / 1000


def drop_kpa(run: Run, fuel: Record, flow_l_h: float) -> float:
    return sum(piece_drop_kpa(piece, fuel, flow_l_h) for piece in run)


def peak_m_s(run: Run, flow_l_h: float) -> float:
    return max((velocity_m_s(piece, flow_l_h) for piece in run), default=0.0)


def shares_l_h(runs: Sequence[Run], fuel: Record, total_l_h: float) -> list[float]:
    """How feeds into one rail share the flow: so that their drops agree.

    Runs without any drop take everything, in equal shares. Otherwise bisect on the first run's share, until
    no number lies between the two bounds, for the place where its drop stops being less than that of the
    others. Where a run turns turbulent its drop jumps, and the drops may agree within the jump alone: the two
    bounds then differ, and the one with the smaller worst drop is taken.
    """
    if len(runs) == 1:
        return [total_l_h]
    without_drop = [drop_kpa(run, fuel, total_l_h) == 0 for run in runs]
    if any(without_drop):
        return [total_l_h / sum(without_drop) if free else 0.0 for free in without_drop]

    def split(first_l_h: float) -> list[float]:
        return [first_l_h, *shares_l_h(runs[1:], fuel, total_l_h - first_l_h)]

    def drops(shares: list[float]) -> list[float]:
        return [drop_kpa(run, fuel, share) for run, share in zip(runs, shares, strict=True)]

    low, high = 0.0, total_l_h
    while low < (middle := (low + high) / 2) < high:
        first, *others = drops(split(middle))
        if first < max(others):
            low = middle
        else:
            high = middle
    return min((split(low), split(high)), key=lambda shares: max(drops(shares)))


def feed_demand_l_h(fuel: Record, power_kw: float, boosted: bool) -> float:
    """Volume flow that the engine burns: power times brake-specific consumption over density."""
    bsfc_g_kwh = fuel["bsfc_g_kwh"]["boosted" if boosted else "na"]
    return power_kw * bsfc_g_kwh / fuel["density_kg_m3"]
