"""Tightening values and material ratings against manuals and charts, each beside its source."""

import pytest

from service.documents.catalog import Catalog, Material
from service.documents.catalog_joints import FlangeToFaceJoint, Joint, PastHandTightJoint, TurnsEngagedJoint
from service.documents.compile import compile_revision
from service.engineering.screws import PROOF_MPA, Thread, proof_load_n, torque_nm
from service.explain.look_alikes import among
from service.explain.make_up import turns_at_most
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


@pytest.mark.parametrize("size", [6, 8, 10])
def test_no_torque_of_a_boss_is_told(seed: Catalog, size: int) -> None:
    """None was found published for a boss in aluminium: flange to the face, then the part maker's figure."""
    found = joint(seed, f"orb-{size}")
    assert isinstance(found, FlangeToFaceJoint)
    assert (found.min_nm, found.max_nm) == (None, None)


def test_taper_joint(seed: Catalog) -> None:
    """Hand-tight as of ASME B1.20.1 (TP-063) plus one turn, on to six threads at most: 1.6 turns in all."""
    found = joint(seed, "taper-1-8")
    assert isinstance(found, TurnsEngagedJoint)
    by_hand = value("TP-063")
    assert found.turns_past_hand == 1
    assert found.min_threads <= by_hand + found.turns_past_hand <= found.max_threads == 6
    [standard] = [one for one in compile_revision(seed, 1).standards.values() if one.taper]
    assert standard.taper is not None
    assert standard.taper.hand_tight_mm / standard.taper.pitch_mm == row("TP-063").expected()
    assert turns_at_most(standard) == pytest.approx(6 - by_hand, abs=0.05)


@pytest.mark.parametrize("size", [6, 8, 10])
def test_a_flare_starts_in_the_boss_of_its_size(seed: Catalog, size: int) -> None:
    """SAE J514 and SAE J1926-1 share the unified thread of a dash size (TP-006 to TP-008, TP-011 to TP-013)."""
    standards = compile_revision(seed, 1).standards
    pair = [standards[f"orb-{size}"], standards[f"flare-{size}"]]
    [caution] = among(pair)
    assert caution["facts"] == {"standards": [one.id for one in pair]}
    assert pair[0].size.split()[2] == pair[1].size.split()[2]
    assert all(one.name in caution["text"] for one in pair)


@pytest.mark.parametrize("row", [row("TI-118")], ids=cited)
def test_screws_are_as_tight_as_their_thread_allows(seed: Catalog, row: Row) -> None:
    """T = K F d with F = 0.75 of the proof load and the least friction: the most of each screw, rounded down."""
    screws = [item.screw for item in seed.items if item.screw]
    assert screws
    for screw in screws:
        told = Thread(screw.thread.diameter_mm, screw.thread.pitch_mm)
        most_n = float(row.value) * proof_load_n(told, PROOF_MPA[screw.strength_class])
        most_nm = torque_nm(most_n, screw.thread.diameter_mm, screw.nut_factor.min)
        assert 0.99 * most_nm - 0.1 <= screw.torque_nm.max <= most_nm
        assert screw.torque_nm.min == pytest.approx(0.82 * screw.torque_nm.max, rel=0.02)  # 10 % either way


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
