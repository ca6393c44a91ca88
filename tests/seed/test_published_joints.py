"""Tightening values and material ratings against manuals and charts, each beside its source."""

import pytest

from service.documents.catalog import Catalog, Material
from service.documents.catalog_joints import (
    FlangeToFaceJoint,
    Joint,
    PastHandTightJoint,
    TorqueJoint,
    TurnsEngagedJoint,
)
from tests.hydraulics.published import Row
from tests.seed.published import cited, dash_size, row, rows, value

pytestmark = pytest.mark.published

DEGREES_PER_FLAT = 60
GRADES = "ABCD"
MATERIALS = {"NBR": "nbr", "HNBR": "hnbr", "FKM": "fkm", "FVMQ": "fvmq", "PTFE liner": "ptfe"}
FUELS = {"petrol": "petrol", "E10": "e10", "E85": "e85", "methanol": "m85"}


def joint(seed: Catalog, joint_id: str) -> Joint:
    return next(found for found in seed.joints if found.id == joint_id)


def material(seed: Catalog, material_id: str) -> Material:
    return next(found for found in seed.materials if found.id == material_id)


@pytest.mark.parametrize("row", rows("tightening.csv", "flats past seat contact"), ids=cited)
def test_flare_turn(seed: Catalog, row: Row) -> None:
    """A flare nut's turn is the manual's number of hex flats, at 60 degrees a flat."""
    found = joint(seed, f"flare-{dash_size(row)}")
    assert isinstance(found, PastHandTightJoint)
    told = found.min_deg if "lower" in row.quantity else found.max_deg
    assert told == pytest.approx(float(row.value) * DEGREES_PER_FLAT)
    assert "TM 9-2320-364-20-4" in found.source


@pytest.mark.parametrize("row", rows("tightening.csv", "turn past seat contact"), ids=cited)
def test_flare_turn_in_degrees(seed: Catalog, row: Row) -> None:
    """The same turn as it was computed beforehand, in degrees."""
    found = joint(seed, f"flare-{dash_size(row)}")
    assert isinstance(found, PastHandTightJoint)
    assert (found.min_deg if "lower" in row.quantity else found.max_deg) == float(row.value)


@pytest.mark.parametrize("row", rows("tightening.csv", "O-ring boss stud torque"), ids=cited)
def test_boss_torque(seed: Catalog, row: Row) -> None:
    """A boss in aluminium keeps to the steel port's band times 0.55 to 0.65 (TI-094), told as from memory."""
    found = joint(seed, f"orb-{dash_size(row)}")
    assert isinstance(found, TorqueJoint | FlangeToFaceJoint)
    low, high = 0.55 * float(row.value), 0.65 * float(row.value)
    told = found.min_nm if "lower" in row.quantity else found.max_nm
    assert told is not None
    assert low <= told <= high
    assert "memory" in found.source


def test_taper_joint(seed: Catalog) -> None:
    """The taper joint's turns are the reference table's (TI-081) within the assembly rule (TI-084, TI-085),
    and its threads engaged span the hand-tight engagement of ASME B1.20.1 (TP-063).
    """
    found = joint(seed, "taper-1-8")
    assert isinstance(found, TurnsEngagedJoint)
    assert found.turns_past_hand == row("TI-081").expected()
    assert value("TI-084") <= found.turns_past_hand <= value("TI-085")
    assert found.min_threads < value("TP-063") < found.max_threads


@pytest.mark.parametrize("row", rows("materials.csv", "compatibility rating"), ids=cited)
def test_rating(seed: Catalog, row: Row) -> None:
    """An elastomer's rating is within one grade of the charts; its source says that they are from memory."""
    named, fuel = row.conditions.split(",")[0].split(" in ")
    found = material(seed, MATERIALS[named])
    assert abs(GRADES.index(found.ratings[FUELS[fuel]]) - GRADES.index(row.value)) <= 1
    assert "memory" in found.source


def test_high_fluorine_rubber_suits_methanol_better(seed: Catalog) -> None:
    """High-fluorine FKM rates B in methanol (remark of MA-075, memory), the general grade worse."""
    assert material(seed, "fkm-high").ratings["m85"] == "B"
    assert material(seed, "fkm").ratings["m85"] > "B"


def test_nitrile_is_bad_with_ethanol(seed: Catalog) -> None:
    """Nitrile swells by 20 to 45 % in E10 (MA-002, MA-003: an SAE study): no ethanol fuel rates A or B."""
    assert value("MA-002") >= 20
    ratings = material(seed, "nbr").ratings
    assert ratings["petrol"] in "AB"
    assert {ratings["e10"], ratings["e85"]} <= {"C", "D"}


@pytest.mark.parametrize("row", [row("MA-031"), row("MA-036")], ids=cited)
def test_metal_rating(seed: Catalog, row: Row) -> None:
    """Anodised aluminium stands alcohol fuel; brass is to be kept out of it."""
    if row.value == "best group":
        assert material(seed, "aluminium-hard-anodised").ratings["m85"] in "AB"
    else:
        assert material(seed, "brass").ratings["e85"] in "CD"


@pytest.mark.parametrize("row", rows("materials.csv", "service temperature"), ids=cited)
def test_temperature_limit(seed: Catalog, row: Row) -> None:
    """A seal material's temperature limit is within the spread of seal literature."""
    found = material(seed, MATERIALS[row.conditions])
    assert (found.min_c if "lower" in row.quantity else found.max_c) == row.expected()
