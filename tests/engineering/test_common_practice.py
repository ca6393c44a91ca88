"""Rules of thumb of the trade against the code that words and computes them; source of each: common practice."""

from pathlib import Path

import pint
import pytest

from service.documents.catalog import Catalog
from service.documents.compile import compile_revision
from service.documents.folder import load_catalog
from service.domain import units
from service.domain.revision import Revision
from service.explain.make_up import made_up
from service.hydraulics import drop_pa, fuel_demand_l_h, velocity_m_s
from tests.hydraulics.published import Row, rows, with_source

SEED = Path(__file__).parents[2] / "seed_data"
TORQUES = {row.id: row for row in rows("torque_units.csv", Path(__file__).parent / "reference")}
M3_S = 1e-3 / 3600


@pytest.fixture(scope="module")
def seed() -> Revision:
    catalog: Catalog = load_catalog(SEED)
    return compile_revision(catalog, 1)


@pytest.mark.published
@pytest.mark.parametrize(
    ("standard", "words"),
    [
        pytest.param("flare-6", "60 to 90 degrees further with a wrench (1 to 1.5 fl", id="size 6 [common practice]"),
        pytest.param(
            "flare-8", "75 to 105 degrees further with a wrench (1.25 to 1.75 flats", id="size 8 [common practice]"
        ),
        pytest.param("taper-1-8", "at most 1.6 turns in all, never past 6 threads", id="taper 1/8 [ASME B1.20.1]"),
    ],
)
def test_how_far_a_joint_is_turned(seed: Revision, standard: str, words: str) -> None:
    """A flat of a hexagon is 60 degrees."""
    assert words in made_up(seed.standards[standard], seed)


@pytest.mark.published
@pytest.mark.parametrize("row", [TORQUES["TI-097"]], ids=with_source)
def test_a_usual_torque_in_both_systems(row: Row) -> None:
    """9.8 N·m are 7.2 lbf·ft, as the words have it and as Pint has it."""
    told = units.torque(9.8)
    assert told == "9.8 N·m (7.23 lbf·ft)"
    assert pint.UnitRegistry().Quantity(9.8, "N*m").to("force_pound*foot").magnitude == row.expected()
    assert row.expected() == 9.8 / units.NM_PER_LBF_FT


@pytest.mark.published
@pytest.mark.parametrize(
    ("row", "per_nm"),
    [
        pytest.param(TORQUES["TI-095"], units.NM_PER_LBF_FT, id=with_source(TORQUES["TI-095"])),
        pytest.param(TORQUES["TI-096"], units.NM_PER_LBF_FT / 12, id=with_source(TORQUES["TI-096"])),
    ],
)
def test_the_units_of_torque(row: Row, per_nm: float) -> None:
    """To the nine digits that the factor has."""
    assert per_nm == pytest.approx(float(row.value), rel=1e-8)


@pytest.mark.published
@pytest.mark.parametrize("horsepower", [pytest.param(1_000, id="1,000 hp on petrol [common practice]")])
def test_what_a_size_8_port_carries(seed: Revision, horsepower: int) -> None:
    """At 0.5 lb of petrol for each horsepower and hour the fuel is within the 1 to 2 m/s of pipe practice, and a size 8
    fitting costs less than a kilopascal."""
    petrol = seed.fuels["petrol"].fluid
    fitting = seed.items["adapter-8-flare-8-satin"].passage
    assert fitting is not None
    kw = horsepower * units.KW_PER_HP
    flow_m3_s = fuel_demand_l_h(kw, 0.5 * 453.59237 / units.KW_PER_HP, petrol.density_kg_m3) * M3_S
    assert 1.0 <= velocity_m_s(fitting, flow_m3_s) <= 2.0
    assert drop_pa(fitting, petrol, flow_m3_s) < 1_000
