"""What is odd in a catalog without a fault: fuels that ask for too little, figures that nobody can look up."""

from typing import Any

import pytest

from service.documents.check import check_catalog
from service.documents.folder import load_catalog
from service.documents.remarks import remarks
from service.usecases.sandbox import seed_folder
from tests.support.catalogs import changed, small_catalog
from tests.support.engineering_data import told_catalog

Json = dict[str, Any]


def pointers(catalog: Json) -> list[str]:
    return [remark.pointer for remark in remarks(check_catalog(catalog))]


def with_alcohol(figure: float, lhv: float | None) -> Json:
    """The small catalog, petrol first, with its second fuel burnt at so many g/kWh."""
    catalog = small_catalog()
    petrol, other = catalog["fuels"][:2]
    petrol |= {"bsfc_g_kwh": {"na": 304, "boosted": 365}, "stoich_afr": 14.7}
    other |= {"bsfc_g_kwh": {"na": figure, "boosted": 600}, "stoich_afr": 9.82}
    if lhv is not None:
        petrol["lhv_mj_kg"], other["lhv_mj_kg"] = 43.44, lhv
    catalog["fuels"] = [petrol, other]
    kept = {petrol["id"], other["id"]}
    for material in catalog["materials"]:
        material["ratings"] = {fuel: rating for fuel, rating in material["ratings"].items() if fuel in kept}
    return catalog


@pytest.mark.parametrize(
    ("figure", "lhv", "told"),
    [
        pytest.param(420, 29.3, True, id="420 of E85 beside 304 of petrol"),
        pytest.param(447, 29.3, False, id="just enough energy"),
        pytest.param(446, 29.3, True, id="one per cent too little"),
        pytest.param(420, None, True, id="by the air that burns it"),
        pytest.param(435, None, False, id="within what the air alone can tell"),
    ],
)
def test_a_fuel_that_asks_for_less_energy_than_the_first(figure: float, lhv: float | None, told: bool) -> None:
    """304 g/kWh of 43.44 MJ/kg are 451 of 29.3; heating values not told, some 455 by the air of both fuels."""
    assert ("/fuels/1/bsfc_g_kwh/na" in pointers(with_alcohol(figure, lhv))) == told


def test_figures_that_nobody_can_look_up() -> None:
    """A recalled torque, and a gland without a source."""
    changes = {"/joints/0/source": "From memory, low confidence.", "/port_standards/0/gland/source": "memory"}
    assert pointers(changed(told_catalog(), changes)) == ["/port_standards/0/gland", "/joints/0/source"]


def test_the_demo_has_none() -> None:
    assert remarks(load_catalog(seed_folder())) == []
