"""Fuel properties of the catalog against tables, a reference equation of state, and mixing rules."""

import math

import pytest
from CoolProp.CoolProp import PropsSI

from service.documents.catalog import Catalog, Fuel
from tests.hydraulics.published import Row
from tests.seed.published import cited, row, rows, value

pytestmark = pytest.mark.published

ROOM_K, ATMOSPHERE_PA = 293.15, 101_325.0
AIR_G_MOL, OXYGEN_FRACTION = 28.9647, 0.2095  # dry air
ATOMS = {"C": 12.011, "H": 1.008, "O": 15.999}  # IUPAC abridged standard atomic weights, g/mol

# Blend: its alcohol, and how much of the blend's volume that is.
BLENDS = {"e10": ("Ethanol", 0.10), "e85": ("Ethanol", 0.85), "m85": ("Methanol", 0.85)}
# Alcohol: atoms of a molecule, and molecules of oxygen that burn it.
ALCOHOLS = {"Ethanol": ({"C": 2, "H": 6, "O": 1}, 3.0), "Methanol": ({"C": 1, "H": 4, "O": 1}, 1.5)}


def fuel(seed: Catalog, fuel_id: str) -> Fuel:
    return next(found for found in seed.fuels if found.id == fuel_id)


def library_density(alcohol: str) -> float:
    """Density [kg/m3] at 20 C by the reference equation of state."""
    return float(PropsSI("D", "T", ROOM_K, "P", ATMOSPHERE_PA, alcohol))


def library_viscosity(alcohol: str) -> float:
    """Dynamic viscosity [mPa*s] at 20 C by the reference correlation."""
    return float(PropsSI("V", "T", ROOM_K, "P", ATMOSPHERE_PA, alcohol)) * 1e3


def stoichiometric_afr(alcohol: str) -> float:
    """Mass of air that burns a unit mass: moles of oxygen in air over the molar mass."""
    atoms, oxygen = ALCOHOLS[alcohol]
    mass = sum(count * ATOMS[atom] for atom, count in atoms.items())
    return oxygen / OXYGEN_FRACTION * AIR_G_MOL / mass


def mass_fraction(seed: Catalog, blend: str) -> float:
    """The alcohol's share of the blend's mass, volumes adding up."""
    alcohol, volume = BLENDS[blend]
    heavy = volume * library_density(alcohol)
    return heavy / (heavy + (1 - volume) * fuel(seed, "petrol").density_kg_m3)


@pytest.mark.parametrize("alcohol", ["Ethanol", "Methanol"])
def test_alcohol_rows_are_the_library_s(alcohol: str) -> None:
    """The density and viscosity rows that the blends rest on are what the library gives today."""
    density, viscosity = {"Ethanol": ("FU-073", "FU-074"), "Methanol": ("FU-084", "FU-085")}[alcohol]
    assert library_density(alcohol) == row(density).expected()
    assert library_viscosity(alcohol) == row(viscosity).expected()


@pytest.mark.parametrize(("alcohol", "row_id"), [("Ethanol", "FU-098"), ("Methanol", "FU-100")])
def test_alcohol_stoichiometry(alcohol: str, row_id: str) -> None:
    """Atomic weights alone give the published stoichiometric ratio."""
    assert stoichiometric_afr(alcohol) == row(row_id).expected()


def test_petrol_density(seed: Catalog) -> None:
    """Petrol's density is within EN 228 at 15 C (FU-068, FU-069: memory)."""
    assert value("FU-068") <= fuel(seed, "petrol").density_kg_m3 <= value("FU-069")


def test_petrol_viscosity(seed: Catalog) -> None:
    """Petrol's viscosity is within the US DOE Properties of Fuels tables (FU-022, FU-023, FU-030, FU-031)."""
    petrol = fuel(seed, "petrol")
    assert value("FU-030") <= petrol.viscosity_mpa_s <= value("FU-031")
    assert value("FU-022") <= petrol.viscosity_mpa_s / petrol.density_kg_m3 * 1e3 <= value("FU-023")


def test_petrol_stoichiometry(seed: Catalog) -> None:
    """Petrol's stoichiometric ratio is the US DOE AFDC fuel comparison's (FU-059)."""
    assert fuel(seed, "petrol").stoich_afr == row("FU-059").expected()


@pytest.mark.parametrize("blend", BLENDS)
def test_blend_density(seed: Catalog, blend: str) -> None:
    """A blend's density is that of its parts by volume, the alcohol's by the reference equation of state."""
    alcohol, volume = BLENDS[blend]
    mixed = volume * library_density(alcohol) + (1 - volume) * fuel(seed, "petrol").density_kg_m3
    assert fuel(seed, blend).density_kg_m3 == pytest.approx(mixed, abs=0.6)


@pytest.mark.parametrize("blend", BLENDS)
def test_blend_viscosity(seed: Catalog, blend: str) -> None:
    """A blend's viscosity is that of its parts by logarithmic mixing over volume (Arrhenius), to 2 %."""
    alcohol, volume = BLENDS[blend]
    petrol = fuel(seed, "petrol").viscosity_mpa_s
    mixed = math.exp(volume * math.log(library_viscosity(alcohol)) + (1 - volume) * math.log(petrol))
    assert fuel(seed, blend).viscosity_mpa_s == pytest.approx(mixed, rel=0.02)


@pytest.mark.parametrize("blend", BLENDS)
def test_blend_stoichiometry(seed: Catalog, blend: str) -> None:
    """A blend's stoichiometric ratio is that of its parts by mass."""
    share = mass_fraction(seed, blend)
    petrol = fuel(seed, "petrol").stoich_afr
    mixed = share * stoichiometric_afr(BLENDS[blend][0]) + (1 - share) * petrol
    assert fuel(seed, blend).stoich_afr == pytest.approx(mixed, rel=0.005)


PROPERTIES = {
    "FU-037": ("e85", "viscosity_mpa_s"),
    "FU-106": ("e10", "density_kg_m3"),
    "FU-108": ("e10", "stoich_afr"),
    "FU-110": ("e85", "density_kg_m3"),
    "FU-112": ("e85", "stoich_afr"),
}


@pytest.mark.parametrize("row", [row(found) for found in PROPERTIES], ids=cited)
def test_blend_property(seed: Catalog, row: Row) -> None:
    """A blend's property agrees with a published or independently computed figure."""
    blend, name = PROPERTIES[row.id]
    assert getattr(fuel(seed, blend), name) == row.expected()


@pytest.mark.parametrize("row", rows("fuels.csv", "full-load BSFC"), ids=cited)
def test_bsfc_within_common_practice(seed: Catalog, row: Row) -> None:
    """Full-load BSFC is within the tuning rule's band; methanol's, which asks for less energy, is left out."""
    named = {"petrol": "petrol", "E85": "e85"}[row.conditions.split(",")[0]]
    bsfc = fuel(seed, named).bsfc_g_kwh
    told = bsfc.boosted if "boosted" in row.conditions else bsfc.na
    bound = float(row.value)
    assert (bound <= told) if "lower" in row.quantity else (told <= bound)


@pytest.mark.parametrize("blend", BLENDS)
def test_a_blend_s_heating_value_is_mixed_by_mass(seed: Catalog, blend: str) -> None:
    """Of the US DOE Properties of Fuels table: FU-012 and FU-015 or FU-018."""
    share = mass_fraction(seed, blend)
    alcohol = value("FU-015") if BLENDS[blend][0] == "Ethanol" else value("FU-018")
    assert fuel(seed, blend).lhv_mj_kg == pytest.approx(share * alcohol + (1 - share) * value("FU-012"), rel=0.003)


@pytest.mark.parametrize("blend", BLENDS)
def test_a_blend_burns_more_by_its_heating_value(seed: Catalog, blend: str) -> None:
    """BSFC is petrol's times the ratio of lower heating values: as much energy for as much power."""
    petrol, found = fuel(seed, "petrol"), fuel(seed, blend)
    assert petrol.lhv_mj_kg == value("FU-012")
    assert found.lhv_mj_kg is not None
    ratio = value("FU-012") / found.lhv_mj_kg
    told, expected = found.bsfc_g_kwh, petrol.bsfc_g_kwh
    assert (told.na, told.boosted) == pytest.approx((expected.na * ratio, expected.boosted * ratio), abs=1)


def test_bsfc_is_told_as_common_practice(seed: Catalog) -> None:
    """No standard gives a BSFC: each fuel's source says so, and boost costs fuel."""
    for found in seed.fuels:
        assert "common practice" in found.source
        assert found.bsfc_g_kwh.boosted > found.bsfc_g_kwh.na
