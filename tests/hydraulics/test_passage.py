"""Velocity, Reynolds number and drop of one passage: worked examples, minor losses, limits and trends."""

import math
import re
from collections.abc import Callable
from dataclasses import FrozenInstanceError, replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.hydraulics import Fluid, Passage, drop_pa, friction_factor, reynolds, velocity_m_s
from tests.hydraulics.published import Row, rows, with_source

FT, INCH, PSI, GALLON = 0.3048, 0.0254, 6894.757293168, 3.785411784e-3
GRAVITY = 9.80665
LB_FT3 = 0.45359237 / FT**3
L_H = 1e-3 / 3600

PETROL = Fluid(745, 0.41e-3)
HOSE = Passage(bore_m=9.525e-3, length_m=4, loss_k=0, roughness_m=1.5e-6)


def factor(passage: Passage, fluid: Fluid, flow_m3_s: float) -> float:
    return friction_factor(reynolds(passage, fluid, flow_m3_s), passage.roughness_m / passage.bore_m)


# Crane TP-410 example 7.1: water at 30 degC in plastic pipe, the bore of nominal 2 in schedule 40.
PLASTIC = Passage(0.0525, 20, 0, 0), Fluid(995.6, 0.8e-3), 0.2 / 60
# Example 7.13: fuel oil of 0.815 times the density of water at 60 degF, 2 in schedule 40.
FUEL_OIL = (
    Passage(2.067 * INCH, 100 * FT, 0, 0.0018 * INCH),
    Fluid(815 * 0.9991, 815 * 0.9991 * 2.7e-6),
    2 * GALLON,
)
# Example 7.9: 5 in schedule 40 with a gate valve, an angle valve and an elbow: 8, 150 and 20 full factors.
SAE_30 = (
    Passage(5.047 * INCH, 300 * FT, (8 + 150 + 20) * 0.0155, 0.0018 * INCH),
    Fluid(62.364 * 0.87 * LB_FT3, 0.130),
    400 * GALLON / 60,
)
# Example 7.15: 3 in schedule 40; exit 1, gate 8 f, four elbows 30 f, and a 2.5 in lift check valve
# (600 f and its reducers, on the larger bore); f = 0.0173 where the flow is fully turbulent.
BETA = 2.469 / 3.068
LIFT_CHECK = (600 * 0.0173 + BETA * (0.5 * (1 - BETA**2) + (1 - BETA**2) ** 2)) / BETA**4
PUMPED = (
    Passage(3.068 * INCH, 500 * FT, 1 + (8 + 4 * 30) * 0.0173 + LIFT_CHECK, 0.0022 * INCH),
    Fluid(62.298 * LB_FT3, 0.95e-3),
    100 * GALLON / 60,
)
# White's example 6.7: crude oil through cast iron.
CAST_IRON = Passage(0.2, 500, 0, 0.26e-3), Fluid(900, 900 * 1e-5), 0.2

WORKED_EXAMPLES: dict[str, Callable[[], float]] = {
    "HY-039": lambda: reynolds(*PLASTIC),
    "HY-040": lambda: factor(*PLASTIC),
    "HY-042": lambda: drop_pa(*FUEL_OIL),
    "HY-043": lambda: drop_pa(*FUEL_OIL) / PSI,
    "HY-044": lambda: factor(*FUEL_OIL),
    "HY-045": lambda: reynolds(*FUEL_OIL),
    "HY-046": lambda: velocity_m_s(FUEL_OIL[0], FUEL_OIL[2]),
    "HY-047": lambda: factor(*FUEL_OIL),
    "HY-048": lambda: drop_pa(*FUEL_OIL),
    "HY-049": lambda: drop_pa(*PUMPED) / PUMPED[1].density_kg_m3 / GRAVITY / FT + 400,
    "HY-051": lambda: drop_pa(*PUMPED) / PUMPED[1].density_kg_m3 / GRAVITY / FT + 400,
    "HY-060": lambda: velocity_m_s(SAE_30[0], SAE_30[2]) / FT,
    "HY-061": lambda: reynolds(*SAE_30),
    "HY-062": lambda: factor(*SAE_30),
    "HY-063": lambda: (drop_pa(*SAE_30) + SAE_30[1].density_kg_m3 * GRAVITY * 50 * FT) / PSI,
    "HY-064": lambda: reynolds(*CAST_IRON),
    "HY-066": lambda: factor(*CAST_IRON),
    "HY-068": lambda: drop_pa(*CAST_IRON) / CAST_IRON[1].density_kg_m3 / GRAVITY,
}


@pytest.mark.published
@pytest.mark.parametrize("row", rows("worked_examples.csv"), ids=with_source)
def test_worked_example(row: Row) -> None:
    """A handbook's worked example comes out within the row's tolerance."""
    assert WORKED_EXAMPLES[row.id]() == row.expected()


def line_of(row: Row) -> tuple[Passage, Fluid, float]:
    passage = Passage(row.number("bore") / 1e3, 4.0, 0.0, row.number("roughness") / 1e6)
    return (
        passage,
        Fluid(row.number("rho"), row.number("mu") / 1e3),
        row.number("L/h") * L_H,
    )


@pytest.mark.published
@pytest.mark.parametrize("row", rows("lines.csv"), ids=with_source)
def test_fuel_line(row: Row) -> None:
    """Velocity, Reynolds number, factor and drop of usual fuel lines, figured by a reference library."""
    passage, fluid, flow = line_of(row)
    found = {
        "mean velocity": velocity_m_s(passage, flow),
        "Reynolds number": reynolds(passage, fluid, flow),
        "Darcy friction factor": factor(passage, fluid, flow),
        "line pressure drop": drop_pa(passage, fluid, flow),
    }
    assert found[row.quantity] == row.expected()


@pytest.mark.published
@pytest.mark.parametrize(
    "row", [row for row in rows("minor_losses.csv") if "typical" in row.tolerance], ids=with_source
)
def test_minor_loss(row: Row) -> None:
    """A fitting without length loses K velocity heads: 509.5 Pa each at 1.1695 m/s of petrol."""
    fitting = Passage(9.525e-3, 0, float(row.value), 0)
    assert drop_pa(fitting, PETROL, 300 * L_H) == pytest.approx(float(row.value) * 509.5, rel=1e-3)


@pytest.mark.published
@pytest.mark.parametrize(
    "row", [row for row in rows("minor_losses.csv") if "expansion" in row.quantity], ids=with_source
)
def test_sudden_expansion(row: Row) -> None:
    """The published K of a step up in bore loses what Borda and Carnot say: rho (v1 - v2)^2 / 2."""
    narrow_m, wide_m = (float(bore) / 1e3 for bore in re.findall(r"([\d.]+) mm", row.conditions))
    step = Passage(narrow_m, 0, float(row.value), 0)
    slowed = velocity_m_s(step, 1e-4) - velocity_m_s(replace(step, bore_m=wide_m), 1e-4)
    assert drop_pa(step, PETROL, 1e-4) == pytest.approx(745 / 2 * slowed**2, rel=1e-5)


@pytest.mark.published
@pytest.mark.parametrize("row", [row for row in rows("minor_losses.csv") if row.unit == "Pa"], ids=with_source)
def test_fittings_together(row: Row) -> None:
    """Coefficients on one bore add up: elbows, tees, entrance and exit lose the published drop."""
    fittings = Passage(row.number("bore") / 1e3, 0, 4 * 1.5 + 2 * 0.9 + 0.57 + 1, 0)
    assert drop_pa(fittings, PETROL, row.number("petrol") * L_H) == row.expected()


def test_least_flow_loses_next_to_nothing() -> None:
    """A flow at the end of the number range has a finite drop."""
    assert 0 <= drop_pa(HOSE, PETROL, 5e-324) < 1e-300


def test_no_flow_loses_nothing() -> None:
    """Without flow there is no drop, whatever the passage."""
    assert drop_pa(HOSE, PETROL, 0.0) == 0.0


def test_laminar_drop_is_hagen_poiseuille() -> None:
    """Slow flow loses 128 mu L Q / (pi D^4), whatever the density and the roughness."""
    flow = 10 * L_H
    assert reynolds(HOSE, PETROL, flow) < 2040
    expected = 128 * 0.41e-3 * 4 * flow / (math.pi * 9.525e-3**4)
    assert drop_pa(replace(HOSE, roughness_m=1e-4), PETROL, flow) == pytest.approx(expected, rel=1e-12)


def test_drop_jumps_up_where_flow_turns_turbulent() -> None:
    """On both sides of the edge the drop is that of its own regime, and the turbulent one is the greater."""
    edge = 2040 * math.pi / 4 * 9.525e-3 * 0.41e-3 / 745
    before, after = drop_pa(HOSE, PETROL, edge * (1 - 1e-9)), drop_pa(HOSE, PETROL, edge * (1 + 1e-9))
    assert 1.5 < after / before < 1.6


LENGTHS = st.floats(0, 10)
BORES = st.floats(2e-3, 30e-3)
FLOWS = st.floats(0, 2000 * L_H)


@settings(max_examples=60, deadline=None)
@given(bores=st.tuples(BORES, BORES), lengths=st.tuples(LENGTHS, LENGTHS), flows=st.tuples(FLOWS, FLOWS))
def test_drop_follows_flow_length_and_bore(
    bores: tuple[float, float], lengths: tuple[float, float], flows: tuple[float, float]
) -> None:
    """More flow, more length, more loss or less bore never lowers the drop."""
    easy = Passage(max(bores), min(lengths), 0.5, 1.5e-6)
    base = drop_pa(easy, PETROL, min(flows)) * (1 - 1e-12)
    assert base <= drop_pa(easy, PETROL, max(flows))
    assert base <= drop_pa(replace(easy, length_m=max(lengths)), PETROL, min(flows))
    assert base <= drop_pa(replace(easy, loss_k=0.6), PETROL, min(flows))
    assert base <= drop_pa(replace(easy, bore_m=min(bores)), PETROL, min(flows))


@pytest.mark.parametrize(
    ("field", "value"),
    [
        *(("bore_m", bad) for bad in (0.0, -1.0, math.nan, math.inf)),
        *(("length_m", bad) for bad in (-1.0, math.nan, math.inf)),
        *(("loss_k", bad) for bad in (-0.1, math.nan)),
        *(("roughness_m", bad) for bad in (-1e-6, 9.525e-3, math.nan)),
    ],
)
def test_impossible_passage(field: str, value: float) -> None:
    """A passage that cannot be is refused, and the field is named."""
    with pytest.raises(ValueError, match=field):
        replace(HOSE, **{field: value})


@pytest.mark.parametrize("field", ["density_kg_m3", "viscosity_pa_s"])
@pytest.mark.parametrize("value", [0.0, -1.0, math.nan])
def test_impossible_fluid(field: str, value: float) -> None:
    """A liquid without density or viscosity is refused, and the field is named."""
    with pytest.raises(ValueError, match=field):
        replace(PETROL, **{field: value})


@pytest.mark.parametrize("flow", [-1e-6, math.nan])
def test_impossible_flow(flow: float) -> None:
    """A drop against the flow is refused."""
    with pytest.raises(ValueError, match="flow_m3_s must be 0 or more"):
        drop_pa(HOSE, PETROL, flow)


def test_values_are_frozen_and_hashable() -> None:
    """Equal passages and liquids are one key, and neither changes."""
    assert len({HOSE, replace(HOSE), replace(HOSE, loss_k=1)}) == 2
    assert hash(PETROL) == hash(Fluid(745, 0.41e-3))
    with pytest.raises(FrozenInstanceError):
        HOSE.bore_m = 1.0
