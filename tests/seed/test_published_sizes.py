"""Threads, seals and hose bores of the catalog against the standards' tables, each beside its source."""

import re
from collections.abc import Iterator

import pytest

from service.documents.catalog import Catalog, Item, PortStandard
from tests.hydraulics.published import Row
from tests.seed.published import cited, dash_size, rows, value

pytestmark = pytest.mark.published

MM_PER_INCH = 25.4
PRINTED_MM = 0.0006  # sizes of threads and tubes are printed to 0.001 mm
PRINTED_RING_MM = 0.0051  # those of O-rings to 0.01 mm


def standard(seed: Catalog, standard_id: str) -> PortStandard:
    return next(found for found in seed.port_standards if found.id == standard_id)


def told_mm(text: str, words: str) -> float:
    """Give the millimetres that follow the words in a size."""
    found = re.search(rf"{words} ([\d.]+) mm", text)
    assert found, f"{text!r} tells no {words}"
    return float(found[1])


def threaded(seed: Catalog, thread: str) -> list[PortStandard]:
    found = [one for one in seed.port_standards if f" {thread} " in one.size]
    assert found, f"no port standard has the thread {thread}"
    return found


@pytest.mark.parametrize("row", rows("sizes.csv", "thread designation"), ids=cited)
def test_thread_designation(seed: Catalog, row: Row) -> None:
    """A flare or boss of a dash size has the standard's thread, and is published where the row says."""
    family = "flare" if "flare" in row.quantity else "orb"
    found = standard(seed, f"{family}-{dash_size(row)}")
    assert f": {row.value}-2" in found.size
    assert found.published in row.quantity


@pytest.mark.parametrize("row", rows("sizes.csv", "UNF basic major diameter"), ids=cited)
def test_major_diameter(seed: Catalog, row: Row) -> None:
    """The major diameter that a size tells is the thread's basic one."""
    for found in threaded(seed, f"{row.conditions} UNF-2B,") + threaded(seed, f"{row.conditions} UNF-2A/2B,"):
        expected = float(row.value) * MM_PER_INCH
        assert told_mm(found.size, "major diameter") == pytest.approx(expected, abs=PRINTED_MM)


@pytest.mark.parametrize("row", rows("sizes.csv", "UNF threads per inch"), ids=cited)
def test_threads_per_inch(seed: Catalog, row: Row) -> None:
    """A thread of this diameter has the standard's pitch, on bosses and flares alike."""
    diameter = row.conditions.split("-")[0]
    pitches = {found[1] for one in seed.port_standards if (found := re.search(rf" {diameter}-(\d+) UNF", one.size))}
    assert pitches == {row.value}


@pytest.mark.parametrize("row", rows("sizes.csv", "tube outside diameter"), ids=cited)
def test_tube_of_a_dash_size(seed: Catalog, row: Row) -> None:
    """The tube that a boss or flare serves counts sixteenths of an inch."""
    for family in ("orb", "flare"):
        size = standard(seed, f"{family}-{dash_size(row)}").size
        expected = float(row.value) * MM_PER_INCH
        assert told_mm(size, "for tube of") == pytest.approx(expected, abs=PRINTED_MM)


@pytest.mark.parametrize("row", rows("sizes.csv", "flare half angle"), ids=cited)
def test_flare_angle(seed: Catalog, row: Row) -> None:
    """Every cone of the catalog has the angle of the one family; no other flare is among them."""
    cones = [found for found in seed.port_standards if found.seal == "cone"]
    assert cones
    assert {found.family for found in cones} == {f"{row.value}-degree flare"}


def test_taper_pipe_thread(seed: Catalog) -> None:
    """The taper thread is 1/8-27 with ASME B1.20.1's pipe diameter (TP-055, TP-056) and taper (TP-081)."""
    taper = standard(seed, "taper-1-8")
    assert taper.published == "ASME B1.20.1"
    assert taper.size.startswith(f"1/8-{value('TP-056'):.0f} NPT, ")
    expected = value("TP-055") * MM_PER_INCH
    assert told_mm(taper.size, "pipe outside diameter") == pytest.approx(expected, abs=PRINTED_MM)
    assert taper.size.endswith(f"taper 1 in {1 / value('TP-081'):.0f}")


@pytest.mark.parametrize("row", rows("sizes.csv", "spigot tube OD"), ids=cited)
def test_quick_connect_spigot(seed: Catalog, row: Row) -> None:
    """A quick-connect's spigot has the outside diameter of its nominal size."""
    nominal = row.conditions.removeprefix("nominal ")
    found = next(one for one in seed.port_standards if one.size.startswith(f"{nominal}:"))
    assert found.published == "SAE J2044"
    assert told_mm(found.size, "spigot outside diameter") == row.expected()


def o_rings(seed: Catalog, dash: str) -> Iterator[tuple[Item, float, float]]:
    """Give the O-rings of an AS568 number with the inside diameter and cross-section that they tell [mm]."""
    for item in seed.items:
        if item.kind == "seal" and (found := re.search(rf"{dash}, ([\d.]+) x ([\d.]+) mm", item.name)):
            yield item, float(found[1]), float(found[2])


@pytest.mark.parametrize("row", rows("seals.csv", "boss-seal O-ring"), ids=cited)
def test_o_ring_dimension(seed: Catalog, row: Row) -> None:
    """A boss's service seal has the nominal size of its AS568 number."""
    rings = list(o_rings(seed, row.conditions))
    assert rings
    for _, inside, section in rings:
        told = inside if "inside" in row.quantity else section
        assert told == pytest.approx(float(row.value) * MM_PER_INCH, abs=PRINTED_RING_MM)


@pytest.mark.parametrize("row", rows("seals.csv", "tube OD served"), ids=cited)
def test_o_ring_of_a_boss(seed: Catalog, row: Row) -> None:
    """The spare seal of a boss is the 900-series O-ring that serves the boss's tube."""
    dash = row.conditions.split(";")[0]
    size = round(float(row.value) * 16)
    joint = next(found for found in seed.joints if found.id == f"orb-{size}")
    assert joint.spare_seal
    assert set(joint.spare_seal) <= {item.sku for item, _, _ in o_rings(seed, dash)}


@pytest.mark.parametrize("row", rows("sizes.csv", "ISO metric coarse pitch"), ids=cited)
def test_screw_pitch(seed: Catalog, row: Row) -> None:
    """Every mounting screw of this diameter names the coarse pitch."""
    screws = [item for item in seed.items if item.kind == "fastener" and f"{row.conditions} x" in item.name]
    assert screws
    assert all(f"{row.conditions} x {float(row.value):.1f} x" in item.name for item in screws)


@pytest.mark.parametrize("size", [6, 8, 10])
def test_hose_bore(seed: Catalog, size: int) -> None:
    """An own hose's bore lies between the two conventions for its size: tube-sized hose (SAE J517: HY-146 to
    HY-148, memory) and sixteenths of an inch (HY-142 to HY-144).
    """
    nth = (6, 8, 10).index(size)
    smallest, largest = value(f"HY-{146 + nth}"), value(f"HY-{142 + nth}")
    bores = {
        entry.hookup.flow.bore_mm
        for layout in seed.layouts
        for placement in layout.placements
        for entry in placement.values()
        if entry.hookup and entry.hookup.standard == f"flare-{size}" and entry.hookup.flow
    }
    assert bores
    assert all(smallest <= bore <= largest for bore in bores)


def test_velocity_limit(seed: Catalog) -> None:
    """The velocity policy lies within the rule for supply lines (HY-139, HY-140: common practice)."""
    assert value("HY-139") <= seed.policies.max_velocity_m_s <= value("HY-140")
