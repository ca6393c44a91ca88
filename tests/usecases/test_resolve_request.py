"""Names of a request looked up: each that is not known or does not fit is told, all at once, with what is near."""

from typing import Any

import pytest

from service.documents.catalog import Catalog
from service.documents.request import BillRequest
from service.domain.request import Request
from service.usecases.errors import RequestFault, RequestFaultsError
from service.usecases.library import Edition
from service.usecases.resolve_request import resolve_request
from tests.support.catalogs import GONE, changed, small_catalog

BROOK = {"chassis": "brook", "layout": "factory"}
HERON = {"chassis": "heron", "layout": "linked-banks"}
BROOK_SPOTS = "a spot of a rail for brook: centre, left, right, top"
HERON_SPOTS = "a spot of a rail for heron: 1.centre, 1.left, 1.right, 1.top, 2.centre, 2.left, 2.right, 2.top"


def resolved(edition: Edition, asked: dict[str, Any]) -> Request:
    return resolve_request(BillRequest.model_validate(asked), edition.revision)


def faults_of(edition: Edition, asked: dict[str, Any]) -> list[RequestFault]:
    with pytest.raises(RequestFaultsError) as refused:
        resolved(edition, asked)
    return list(refused.value.faults)


def edition_with(changes: dict[str, Any]) -> Edition:
    """The small catalog, changed."""
    return Edition(1, Catalog.model_validate(changed(small_catalog(), changes)))


FAULTS: dict[str, tuple[dict[str, Any], RequestFault]] = {
    "chassis": (
        BROOK | {"chassis": "broke"},
        RequestFault("/chassis", "broke", "the id of a chassis of this revision", ("brook",)),
    ),
    "layout": (
        BROOK | {"layout": "factorie"},
        RequestFault("/layout", "factorie", "the id of a layout of this revision", ("factory",)),
    ),
    "fuel": (
        BROOK | {"fuel": "E-85"},
        RequestFault("/fuel", "E-85", "the id of a fuel of this revision", ("e85",)),
    ),
    "excluded item": (
        BROOK | {"exclude": ["PLUG-T", "PLUG-B9"]},
        RequestFault("/exclude/1", "PLUG-B9", "the id of an item of this revision", ("PLUG-B8", "PLUG-T")),
    ),
    "add-on": (
        BROOK | {"addons": ["blowr"]},
        RequestFault("/addons/0", "blowr", "the id of an add-on of this revision", ("blower",)),
    ),
    "add-on twice": (
        BROOK | {"addons": ["blower", "blower"]},
        RequestFault("/addons/1", "blower", "each add-on once"),
    ),
    "add-on of another car": (
        HERON | {"addons": ["blower"]},
        RequestFault("/addons/0", "blower", "an add-on for heron, which has none"),
    ),
    "gauge on a bank that is not there": (
        BROOK | {"gauge": "1.top"},
        RequestFault("/gauge", "1.top", f"none, any, or {BROOK_SPOTS}", ("top",)),
    ),
    "gauge without its bank": (
        HERON | {"gauge": "left"},
        RequestFault("/gauge", "left", f"none, any, or {HERON_SPOTS}", ("1.left", "2.left")),
    ),
    "clearance without its bank": (
        HERON | {"clearances": [{"spot": "2.top", "axial_mm": 9}, {"spot": "top", "axial_mm": 9}]},
        RequestFault("/clearances/1/spot", "top", HERON_SPOTS, ("1.top", "2.top")),
    ),
    "nothing alike": (
        BROOK | {"chassis": "zzzz"},
        RequestFault("/chassis", "zzzz", "the id of a chassis of this revision"),
    ),
}


@pytest.mark.parametrize(("asked", "fault"), FAULTS.values(), ids=FAULTS.keys())
def test_one_fault(edition: Edition, asked: dict[str, Any], fault: RequestFault) -> None:
    """One wrong name: one fault, at its pointer, with what would be right and what is near."""
    assert faults_of(edition, asked) == [fault]


def test_all_faults_at_once(edition: Edition) -> None:
    """Every wrong name of a request is told in one answer."""
    asked = {
        "chassis": "broook",
        "layout": "x",
        "fuel": "y",
        "addons": ["z", "blower", "blower"],
        "exclude": ["a", "RAIL-S", "b"],
    }
    assert [fault.pointer for fault in faults_of(edition, asked)] == [
        *("/chassis", "/layout", "/fuel", "/addons/0", "/addons/2", "/exclude/0", "/exclude/2")
    ]


def test_spots_and_add_ons_at_once(edition: Edition) -> None:
    """With the chassis known, what does not fit it is told along with the unknown names."""
    asked = HERON | {
        "fuel": "y",
        "addons": ["blower"],
        "gauge": "top",
        "clearances": [{"spot": "left", "axial_mm": 1}, {"spot": "right", "across_mm": 1}],
    }
    assert [fault.pointer for fault in faults_of(edition, asked)] == [
        *("/fuel", "/addons/0", "/gauge", "/clearances/0/spot", "/clearances/1/spot")
    ]


def test_the_error_says_every_fault(edition: Edition) -> None:
    """The error's own text has field, value and what would be right."""
    with pytest.raises(RequestFaultsError, match="/fuel: y: the id of a fuel of this revision; /exclude/0: a: "):
        resolved(edition, BROOK | {"fuel": "y", "exclude": ["a"]})


def test_add_on_of_another_car_names_those_of_this_one() -> None:
    """Where the chassis has add-ons, they are named though their ids are not alike."""
    other = small_catalog()["addons"][0] | {"id": "winch", "chassis": ["heron"]}
    found = faults_of(edition_with({"/addons/-": other}), HERON | {"addons": ["blower"]})
    assert found == [RequestFault("/addons/0", "blower", "an add-on for heron", ("winch",))]


@pytest.mark.parametrize("field", ["gauge", "clearance"])
def test_spot_that_no_rail_of_the_pattern_has(field: str) -> None:
    """A place that every rail of the pattern lacks is refused for all its chassis."""
    without_top = edition_with({"/items/0/ports/3": GONE, "/items/0/supplied/0": GONE})
    clearance = {"clearances": [{"spot": "top", "axial_mm": 5}]}
    asked, start, pointer = {
        "gauge": ({"gauge": "top"}, "none, any, or ", "/gauge"),
        "clearance": (clearance, "", "/clearances/0/spot"),
    }[field]
    expected = f"{start}a spot of a rail for brook: centre, left, right"
    assert faults_of(without_top, BROOK | asked) == [RequestFault(pointer, "top", expected)]


def test_spot_that_one_rail_of_the_pattern_has() -> None:
    """A place that only another rail of the pattern has is a known spot."""
    second = small_catalog()["items"][0] | {"sku": "RAIL-2"}
    both = edition_with({"/items/-": second, "/items/0/ports/3": GONE, "/items/0/supplied/0": GONE})
    assert resolved(both, BROOK | {"gauge": "top"}).gauge == "top"


def test_pattern_without_a_rail() -> None:
    """Where no rail has the pattern, no spot is known, and a request that names none is well formed."""
    lone = edition_with({"/chassis/0/pattern": "lone-three"})
    expected = "none, any, or a spot of a rail for brook: none is known"
    assert faults_of(lone, BROOK | {"gauge": "left"}) == [RequestFault("/gauge", "left", expected)]
    assert resolved(lone, BROOK | {"gauge": "any"}).chassis.id == "brook"


def test_defaults_come_from_the_catalog(edition: Edition) -> None:
    """Without wishes the fuel is the catalog's first and the power the chassis's own."""
    request = resolved(edition, BROOK)
    assert (request.fuel.id, request.power_kw, request.addons) == ("petrol", 90.0, ())


def test_what_is_asked_is_kept(edition: Edition) -> None:
    """What the request gives takes the place of the defaults."""
    asked = BROOK | {"fuel": "e85", "power_kw": 70, "addons": ["blower"], "exclude": ["PLUG-T"], "gauge": "top"}
    request = resolved(edition, asked)
    assert (request.fuel.id, request.power_kw, request.gauge) == ("e85", 70.0, "top")
    assert ([addon.id for addon in request.addons], request.exclude) == (["blower"], {"PLUG-T"})


CURVE = [{"kpa": 0, "l_h": 300}, {"kpa": 300, "l_h": 240}, {"kpa": 600, "l_h": 120}]


@pytest.mark.parametrize(
    ("asked", "expected"),
    [
        ({}, None),
        ({"pump": CURVE}, 240.0),
        ({"pump": CURVE, "pump_l_h": 90}, 90.0),
        ({"pump": CURVE, "boost_kpa": 100}, 200.0),
        ({"pump": CURVE, "regulator": {"set_kpa": 450, "follows": "atmosphere"}}, 180.0),
        ({"pump": CURVE, "regulator": {"set_kpa": 400}, "boost_kpa": 50}, 180.0),
        ({"pump": CURVE, "pump_v": {"rated": 12, "fed": 6}}, 0.0),
    ],
)
def test_what_a_pump_moves_at_idle(edition: Edition, asked: dict[str, Any], expected: float | None) -> None:
    """A flow that is given outright comes first, then the curve against set pressure and boost, at its voltage."""
    assert resolved(edition, BROOK | asked).pumped_l_h == expected


@pytest.mark.parametrize(
    ("asked", "pointer", "found"),
    [
        ({"pump": [*CURVE, {"kpa": 600, "l_h": 0}]}, "/pump/3/kpa", "600.0"),
        ({"pump": [*CURVE, {"kpa": 700, "l_h": 121}]}, "/pump/3/l_h", "121.0"),
        ({"pump_v": {"rated": 12, "fed": 13.5}}, "/pump_v", '{"rated": 12.0, "fed": 13.5}'),
    ],
)
def test_pump_that_cannot_be(edition: Edition, asked: dict[str, Any], pointer: str, found: str) -> None:
    """Pressure rises along a curve, flow never does, and a voltage needs a curve."""
    (fault,) = faults_of(edition, BROOK | asked)
    assert (fault.pointer, fault.found) == (pointer, found)
