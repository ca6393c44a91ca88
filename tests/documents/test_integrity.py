"""What must hold between the parts of a catalog: one change to a good one, one fault."""

from typing import Any

import pytest

from service.documents.check import CatalogFaultsError, check_catalog
from service.documents.faults import Fault
from tests.support.catalogs import GONE, changed, small_catalog

# Places in the small catalog.
RAIL, PLUG, PLUG_TOP, ADAPTER = "/items/0", "/items/1", "/items/2", "/items/3"
LINKS = "/layouts/3/placements/0"
FEED = "/layouts/1/placements/0/centre"

ONE_BANK = "a spot of a one-bank engine: left, centre, right or top"
TWO_BANKS = "a spot of a two-bank engine: 1.left to 2.top"
PLACES = "left, centre, right or top"
LINK_TO = "another spot of this placement whose duty is link"


def _element(pointer: str) -> dict[str, Any]:
    section, index = pointer.split("/")[1:]
    element: dict[str, Any] = small_catalog()[section][int(index)]
    return element


DOUBLED = {
    "port standard": ({"/port_standards/-": _element("/port_standards/0")}, "/port_standards/4/id", "boss-8"),
    "joint": ({"/joints/-": _element("/joints/3")}, "/joints/4/id", "quick-click"),
    "fuel": ({"/fuels/-": _element("/fuels/1")}, "/fuels/2/id", "e85"),
    "material": ({"/materials/-": _element("/materials/0")}, "/materials/2/id", "aluminium"),
    "item": ({"/items/-": _element(PLUG)}, "/items/13/sku", "PLUG-B8"),
    "chassis": ({"/chassis/-": _element("/chassis/0")}, "/chassis/2/id", "brook"),
    "add-on": ({"/addons/-": _element("/addons/0")}, "/addons/1/id", "blower"),
    "layout": ({"/layouts/-": _element("/layouts/2")}, "/layouts/4/id", "through-return"),
    "port of an item": ({f"{ADAPTER}/ports/1/id": "a"}, f"{ADAPTER}/ports/1/id", "a"),
    "hookup of a chassis": (
        {"/chassis/0/hookups/-": _element("/chassis/0")["hookups"][0]},
        *("/chassis/0/hookups/1/id", "factory-line"),
    ),
}

DANGLING = {
    "joint of a port standard": ("/port_standards/0/joint", "boss-8-torq", "joints", "boss-8-torque"),
    "consumable of a joint": ("/joints/2/consumables/0", "SEALANTS", "items", "SEALANT"),
    "spare seal of a joint": ("/joints/0/spare_seal", "SEAL-9", "items", "SEAL-B8, SEALANT"),
    "standard of a port": (f"{PLUG}/ports/0/standard", "flare-8", "port_standards", "flare-6"),
    "wetted material": (f"{PLUG}/wetted/1", "fluorcarbon", "materials", "fluorocarbon"),
    "supplied SKU": (f"{RAIL}/supplied/1/sku", "SCREW-66", "items", "SCREW-6, SCREW-6-LONG, REG-F6"),
    "replacement": (f"{PLUG}/superseded_by", "zzz", "items", ""),
    "standard of a hookup": ("/chassis/0/hookups/0/standard", "quick", "port_standards", "quick-3/8"),
    "mounting on a chassis": ("/chassis/0/mounting/1/sku", "SPACER-50", "items", "SPACER-5"),
    "chassis of an add-on": ("/addons/0/chassis/0", "brock", "chassis", "brook"),
    "mounting of an add-on": ("/addons/0/mounting/0/sku", "QQQ", "items", ""),
    "standard of an own hose": (f"{FEED}/hookup/standard", "flare-10", "port_standards", "flare-6"),
    "rated fuel": ("/materials/0/ratings/e86", "e86", "fuels", "e85"),
}

BETWEEN: dict[str, tuple[dict[str, Any], str, str, str]] = {
    "material not rated for a fuel": (
        {"/materials/1/ratings/e85": GONE},
        *("/materials/1/ratings/e85", "nothing", "a rating for every fuel: A, B, C or D"),
    ),
    "rail port without a spot": (
        {f"{RAIL}/ports/1/spot": GONE},
        *(f"{RAIL}/ports/1/spot", "nothing", f"{PLACES}: the port of a rail tells its spot"),
    ),
    "rail port with a null spot": (
        {f"{RAIL}/ports/1/spot": None},
        *(f"{RAIL}/ports/1/spot", "nothing", f"{PLACES}: the port of a rail tells its spot"),
    ),
    "two rail ports on a spot": (
        {f"{RAIL}/ports/2/spot": "left"},
        *(f"{RAIL}/ports/2/spot", '"left"', "a spot of its own: another port of this rail is there"),
    ),
    "spot on a port of no rail": (
        {f"{PLUG}/ports/0/spot": "left"},
        *(f"{PLUG}/ports/0/spot", '"left"', "no spot: only the ports of a rail have one"),
    ),
    "rail without patterns": (
        {f"{RAIL}/patterns": GONE},
        *(f"{RAIL}/patterns", "nothing", "a list of at least one pattern: the item is a rail"),
    ),
    "rail with no pattern in its list": (
        {f"{RAIL}/patterns": []},
        *(f"{RAIL}/patterns", "[]", "a list of at least one pattern: the item is a rail"),
    ),
    "rail without ports": (
        {f"{RAIL}/ports": [], f"{RAIL}/supplied/0/spot": GONE},
        *(f"{RAIL}/ports", "[]", "at least one port: the item is a rail"),
    ),
    "supplied for a spot that the rail lacks": (
        {f"{RAIL}/ports/3": GONE},
        *(f"{RAIL}/supplied/0/spot", '"top"', "a spot that this rail has: left, centre, right"),
    ),
    "supplied for a spot, not with a rail": (
        {f"{PLUG}/supplied": [{"sku": "SEAL-B8", "qty": 1, "spot": "left"}]},
        *(f"{PLUG}/supplied/0/spot", '"left"', "no spot: only the box of a rail is meant for spots"),
    ),
    "supplied for a spot and a role": (
        {f"{RAIL}/supplied/0/role": "cap"},
        f"{RAIL}/supplied/0",
        '{"sku": "PLUG-T", "qty": 1, "spot": "top", …}',
        "a spot or a role, not both",
    ),
    "item that replaces itself": (
        {f"{PLUG}/superseded_by": "PLUG-B8"},
        f"{PLUG}/superseded_by",
        "a circle: PLUG-B8 > PLUG-B8",
        "a replacement that does not lead back to the item",
    ),
    "reserved SKU": (
        {"/items/12/sku": "own-rail", "/chassis/0/mounting/1": GONE},
        "/items/12/sku",
        '"own-rail"',
        "another SKU: own-rail stands for a rail of the customer's own",
    ),
    "torque": ({"/joints/0/max_nm": 33.5}, "/joints/0/max_nm", "33.5", "at least min_nm, which is 34.0 N·m"),
    "angle": (
        {"/joints/1/max_deg": 50},
        "/joints/1/max_deg",
        "50",
        "at least min_deg, which is 60.0 degrees",
    ),
    "threads": (
        {"/joints/2/max_threads": 3},
        *("/joints/2/max_threads", "3", "at least min_threads, which is 4.0"),
    ),
    "temperatures": (
        {"/materials/0/min_c": 151},
        *("/materials/0/max_c", "150.0", "at least min_c, which is 151 °C"),
    ),
    "reach": (
        {"/chassis/1/hookups/0/spots/1.left/max_mm": 19.9},
        "/chassis/1/hookups/0/spots/1.left/max_mm",
        *("19.9", "at least min_mm, which is 20.0 mm"),
    ),
    "roughness of an item": (
        {f"{ADAPTER}/flow/roughness_mm": 3.75},
        *(f"{ADAPTER}/flow/roughness_mm", "3.75", "below half the bore_mm, which is 7.5 mm"),
    ),
    "roughness of a hookup": (
        {"/chassis/0/hookups/0/flow/roughness_mm": 4},
        *("/chassis/0/hookups/0/flow/roughness_mm", "4", "below half the bore_mm, which is 7.5 mm"),
    ),
    "roughness of an own hose": (
        {f"{FEED}/hookup/flow/roughness_mm": 9},
        *(f"{FEED}/hookup/flow/roughness_mm", "9", "below half the bore_mm, which is 8.7 mm"),
    ),
    "own hose without a standard": (
        {f"{FEED}/hookup/standard": GONE},
        *(f"{FEED}/hookup/standard", "nothing", "the standard of the hose: the car does not tell it"),
    ),
    "own hose without an end": (
        {f"{FEED}/hookup/end": GONE},
        *(f"{FEED}/hookup/end", "nothing", "the end of the hose: the car does not tell it"),
    ),
    "feed without a hookup": (
        {f"{FEED}/hookup": GONE},
        *(f"{FEED}/hookup", "nothing", "a hookup: where the feed leads"),
    ),
    "return without a hookup": (
        {"/layouts/2/placements/0/right/hookup": GONE},
        *("/layouts/2/placements/0/right/hookup", "nothing", "a hookup: where the return leads"),
    ),
    "feed to a spot": (
        {f"{FEED}/to_spot": "left"},
        *(f"{FEED}/to_spot", '"left"', "no to_spot: a feed leads to a hookup"),
    ),
    "link with a hookup": (
        {f"{LINKS}/1.right/hookup": {"kind": "bulkhead"}},
        *(f"{LINKS}/1.right/hookup", '{"kind": "bulkhead"}', "no hookup: a link leads to another spot"),
    ),
    "link without a to_spot": (
        {f"{LINKS}/1.right/to_spot": GONE},
        *(f"{LINKS}/1.right/to_spot", "nothing", "the spot that the link leads to"),
    ),
    "link to itself": (
        {f"{LINKS}/1.right/to_spot": "1.right"},
        *(f"{LINKS}/1.right/to_spot", '"1.right"', LINK_TO),
    ),
    "link to a spot of no duty": (
        {f"{LINKS}/1.right/to_spot": "2.left"},
        *(f"{LINKS}/1.right/to_spot", '"2.left"', LINK_TO),
    ),
    "link to a feed": (
        {f"{LINKS}/1.right/to_spot": "1.left"},
        *(f"{LINKS}/1.right/to_spot", '"1.left"', LINK_TO),
    ),
    "link not led back": (
        {f"{LINKS}/2.left": {"duty": "link", "to_spot": "2.right"}},
        f"{LINKS}/2.left/to_spot",
        '"2.right"',
        "a spot whose link leads back: 2.right leads to 1.right",
    ),
    "one-bank layout, spot of two banks": (
        {"/layouts/0/placements/1": {"1.right": {"duty": "feed", "hookup": {"kind": "factory-line"}}}},
        *("/layouts/0/placements/1/1.right", '"1.right"', ONE_BANK),
    ),
    "two-bank layout, spot of one bank": (
        {f"{LINKS}/top": {"duty": "feed", "hookup": {"kind": "factory-line"}}},
        *(f"{LINKS}/top", '"top"', TWO_BANKS),
    ),
    "one-bank clearance, spot of two banks": (
        {"/chassis/0/clearances/0/spot": "1.left"},
        *("/chassis/0/clearances/0/spot", '"1.left"', ONE_BANK),
    ),
    "two-bank clearance, spot of one bank": (
        {"/chassis/1/clearances/0/spot": "left"},
        *("/chassis/1/clearances/0/spot", '"left"', TWO_BANKS),
    ),
    "two-bank hookup, spot of one bank": (
        {"/chassis/1/hookups/0/spots/left": {"min_mm": 1, "max_mm": 2}},
        *("/chassis/1/hookups/0/spots/left", '"left"', TWO_BANKS),
    ),
}

NO_FAULTS: dict[str, dict[str, Any]] = {
    "a pattern that no rail lists": {"/chassis/0/pattern": "odd-three"},
    "a clearance of an add-on on two banks": {"/addons/0/clearances/0/spot": "2.top"},
    "a clearance twice": {"/chassis/0/clearances/-": {"spot": "centre", "axial_mm": 1}},
    "a clearance without limits": {"/chassis/0/clearances/-": {"spot": "left"}},
    "an add-on for no chassis": {"/addons/0/chassis": []},
    "the same role twice": {"/chassis/0/mounting/-": {"role": "rail-screw", "sku": "SCREW-6", "qty": 1}},
    "bounds that are equal": {"/joints/0/max_nm": 34, "/materials/0/max_c": -80},
    "a flange torque with one bound": {
        "/joints/3": {
            "id": "quick-click",
            "method": "flange-to-face",
            "max_nm": 9,
            "cautions": [],
            "source": "",
        }
    },
    "a flow without roughness or length": {
        f"{ADAPTER}/flow/roughness_mm": 0,
        f"{ADAPTER}/flow/length_mm": 0,
    },
    "no add-ons, no layouts": {"/addons": [], "/layouts": []},
    "a layout without placements": {"/layouts/0/placements": []},
    "an empty placement": {"/layouts/0/placements/0": {}},
    "a kind of hookup that no car has": {"/layouts/0/placements/0/left/hookup/kind": "bulkhead"},
    "a hookup kind of the car told in full": {
        "/layouts/0/placements/0/left/hookup": {"kind": "bulkhead", "standard": "flare-6", "end": "male"}
    },
    "a link within a bank": {
        f"{LINKS}/2.right": GONE,
        f"{LINKS}/1.right/to_spot": "1.centre",
        f"{LINKS}/1.centre": {"duty": "link", "to_spot": "1.right"},
    },
    "a link through a kind": {f"{LINKS}/1.right/via": ["regulator"]},
    "a retired item with a replacement": {f"{PLUG}/status": "retired", f"{PLUG}/superseded_by": "PLUG-T"},
    "an active item with a replacement": {f"{PLUG}/superseded_by": "PLUG-T"},
    "replacements that end": {f"{PLUG}/superseded_by": "PLUG-T", f"{PLUG_TOP}/superseded_by": "GAUGE-T"},
    "patterns on a fitting": {f"{ADAPTER}/patterns": ["straight-four"]},
    "an empty list of patterns on a fitting": {f"{ADAPTER}/patterns": []},
    "a box for a role, not with a rail": {f"{PLUG}/supplied": [{"sku": "SCREW-6", "qty": 1, "role": "x"}]},
    "a supplied part that does not mate": {f"{RAIL}/supplied/0/sku": "GAUGE-T"},
    "a rail without seats for gauges": {f"{RAIL}/ports/3": GONE, f"{RAIL}/supplied/0/spot": GONE},
    "ports with one id in two items": {f"{PLUG}/ports/0/id": "b"},
    "an id in two sections": {"/chassis/0/pattern": "petrol", "/addons/0/id": "heron"},
    "whole numbers written with a point": {f"{PLUG}/price": 900.0, "/chassis/0/banks": 1.0},
    "null for optional fields": {f"{RAIL}/family": None, f"{PLUG}/supplied": None, f"{FEED}/via": None},
}


def _faults(changes: dict[str, Any]) -> tuple[Fault, ...]:
    with pytest.raises(CatalogFaultsError) as caught:
        check_catalog(changed(small_catalog(), changes))
    return caught.value.faults


@pytest.mark.parametrize(("changes", "pointer", "found"), DOUBLED.values(), ids=DOUBLED.keys())
def test_doubled_id(changes: dict[str, Any], pointer: str, found: str) -> None:
    """An id that stands for two things is one fault, at the second; it tells where the first is."""
    (fault,) = _faults(changes)
    assert (fault.pointer, fault.found) == (pointer, f'"{found}"')
    holder, _, name = pointer.rpartition("/")
    first = fault.expected.removeprefix(f"an {name} of its own: ").removesuffix(" has this one")
    assert first.rpartition("/")[0] == holder.rpartition("/")[0]
    assert first != holder


@pytest.mark.parametrize(("pointer", "name", "section", "near"), DANGLING.values(), ids=DANGLING.keys())
def test_dangling_id(pointer: str, name: str, section: str, near: str) -> None:
    """An id that nothing has is one fault; it tells the nearest known ones."""
    (fault,) = _faults({pointer: "A" if section == "fuels" else name})
    key = "sku" if section == "items" else "id"
    nearest = f"; nearest: {near}" if near else ""
    assert fault == Fault(pointer, f'"{name}"', f"the {key} of an element of {section}{nearest}")


@pytest.mark.parametrize(("changes", "pointer", "found", "expected"), BETWEEN.values(), ids=BETWEEN.keys())
def test_fault(changes: dict[str, Any], pointer: str, found: str, expected: str) -> None:
    """What does not hold between parts is exactly one fault."""
    assert _faults(changes) == (Fault(pointer, found, expected),)


@pytest.mark.parametrize("changes", NO_FAULTS.values(), ids=NO_FAULTS.keys())
def test_no_fault(changes: dict[str, Any]) -> None:
    """What is unusual but holds is no fault."""
    check_catalog(changed(small_catalog(), changes))


def test_each_circle_is_told_once() -> None:
    """A circle of replacements is one fault at its first item, whoever leads into it."""
    chain = {3: "PLUG-T", 2: "GAUGE-T", 5: "LINE-F6", 6: "PLUG-T", 8: "SEALANT", 9: "SEAL-B8"}
    faults = _faults({f"/items/{index}/superseded_by": sku for index, sku in chain.items()})
    assert [(fault.pointer, fault.found) for fault in faults] == [
        ("/items/2/superseded_by", "a circle: PLUG-T > GAUGE-T > LINE-F6 > PLUG-T"),
        ("/items/8/superseded_by", "a circle: SEAL-B8 > SEALANT > SEAL-B8"),
    ]


def test_a_link_in_a_ring_of_three_leads_back_nowhere() -> None:
    """Three links that lead round in a ring are three faults."""
    ring = {"1.right": "2.right", "2.right": "2.left", "2.left": "1.right"}
    faults = _faults({f"{LINKS}/{spot}": {"duty": "link", "to_spot": to} for spot, to in ring.items()})
    assert {fault.pointer for fault in faults} == {f"{LINKS}/{spot}/to_spot" for spot in ring}
