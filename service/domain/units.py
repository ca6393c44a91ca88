"""Quantities as text for readers: the metric value first, the customary one in brackets."""

import math
from functools import lru_cache

from service.domain.tongue import in_figures, spoken

# Exact, or rounded to nine digits where the factor does not end. Source: NIST Special Publication 811 (2008),
# appendix B: inch, pound-force per square inch, US gallon, foot, horsepower (550 ft*lbf/s), pound-force foot,
# pound-force.
MM_PER_IN = 25.4
KPA_PER_PSI = 6.89475729
L_PER_US_GAL = 3.785411784
M_PER_FT = 0.3048
KW_PER_HP = 0.745699872
NM_PER_LBF_FT = 1.35581795
N_PER_LBF = 4.44822162
FIGURE_DIGITS = 6
"""The digits of a figure in a document."""


def length(mm: float) -> str:
    """Word a length given in [mm], as in `7.4 mm (0.29 in)`."""
    return _both(mm, 3, "mm", mm / MM_PER_IN, "in")


def inches(mm: float) -> str:
    """Word a length given in [mm] in inches alone, as in `0.67 in`."""
    return length(mm).partition("(")[2].rstrip(")")


def distance(m: float) -> str:
    """Word the length of a hose given in [m], as in `1.5 m (4.92 ft)`."""
    return _both(m, 2, "m", m / M_PER_FT, "ft")


def pressure(kpa: float) -> str:
    """Word a pressure or a pressure drop given in [kPa], as in `300 kPa (43.5 psi)`."""
    return _both(kpa, 2, "kPa", kpa / KPA_PER_PSI, "psi")


def flow(l_h: float) -> str:
    """Word a volume flow given in [L/h], as in `120 L/h (31.7 US gal/h)`."""
    return _both(l_h, 1, "L/h", l_h / L_PER_US_GAL, "US gal/h")


def velocity(m_s: float) -> str:
    """Word a velocity given in [m/s], as in `2.34 m/s (7.68 ft/s)`."""
    return _both(m_s, 2, "m/s", m_s / M_PER_FT, "ft/s")


def power(kw: float) -> str:
    """Word a power given in [kW], as in `300 kW (402 hp)`; the horsepower is the mechanical one."""
    return _both(kw, 1, "kW", kw / KW_PER_HP, "hp")


def measure(amount: float, unit: str) -> str:
    """Word a quantity in its unit, one that nobody knows as it stands."""
    worded = {"mm": length, "kPa": pressure, "L/h": flow, "m/s": velocity}.get(unit)
    return f"{figure(amount)} {unit}" if worded is None else worded(amount)


def torque(nm: float) -> str:
    """Word a torque given in [N*m], as in `27 N·m (19.9 lbf·ft)`."""
    return _both(nm, 1, "N·m", nm / NM_PER_LBF_FT, "lbf·ft")


def force(n: float) -> str:
    """Word a force given in [N], as in `5.33 kN (1200 lbf)`."""
    return _both(n * 1e-3, 2, "kN", n / N_PER_LBF, "lbf")


def temperature(celsius: float) -> str:
    """Word a temperature given in [degC], as in `80 °C (176 °F)`."""
    return in_figures(f"{_rounded(celsius, 1)} °C ({_rounded(celsius * 1.8 + 32, 0)} °F)")


def percent(part: float) -> str:
    """Word a part of 1, as in `21.3 %`."""
    return in_figures(f"{_rounded(part * 100, 1)} %")


def figure(value: float) -> str:
    """Word a plain number to three digits or so, as in `4.36`."""
    return in_figures(_rounded(value, max(2, 1 - _magnitude(value))))


def _both(metric: float, decimals: int, unit: str, customary: float, customary_unit: str) -> str:
    text = _in_english(metric, decimals, unit, customary, customary_unit)
    return text if spoken() is None else in_figures(text)


@lru_cache(8192)  # one answer words the same quantities over and over
def _in_english(metric: float, decimals: int, unit: str, customary: float, customary_unit: str) -> str:
    metric = float(f"{metric:.{FIGURE_DIGITS}g}")  # what is said is what the figure beside it comes to
    shown = _rounded(metric, max(decimals, 1 - _magnitude(metric)))
    three_digits = min(2, 2 - _magnitude(customary))
    converted = _rounded(customary, max(three_digits, 1 - _magnitude(customary), 0))
    return f"{shown} {unit} ({converted} {customary_unit})"


def _magnitude(value: float) -> int:
    """Give the power of ten of the first digit: 0 for 1..9, -1 for 0.1..0.9."""
    return math.floor(math.log10(abs(value))) if value else 0


def _rounded(value: float, decimals: int) -> str:
    text = f"{value:.{decimals}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
