"""What must hold of the data for engineering: one change to a good catalog, one fault."""

from typing import Any

import pytest

from service.documents.catalog import Catalog
from service.documents.check import CatalogFaultsError, check_catalog
from service.documents.compile import compile_revision
from tests.support.catalogs import GONE, changed
from tests.support.engineering_data import CURVE, RING, SCREW, told_catalog

STANDARD, RAIL, PLUG, SEAL = "/port_standards/0", "/items/0", "/items/1", "/items/8"
SCREW_AT, SPACER_AT, CAR = "/items/10/screw", "/items/12/spacer", "/chassis/0"

OWN_LINE = "/layouts/0/placements/0/left/hookup"

FAULTS: dict[str, tuple[dict[str, Any], str, str]] = {
    "a ring on a plug": ({f"{PLUG}/ring": RING}, f"{PLUG}/ring", "nothing: only a kind of seal has it"),
    "a screw on a plug": ({f"{PLUG}/screw": SCREW}, f"{PLUG}/screw", "nothing: only a kind of fastener has it"),
    "a bend of a plug": ({f"{PLUG}/min_bend_mm": 60}, f"{PLUG}/min_bend_mm", "nothing: only a kind of line has it"),
    "an outlet without a port": (
        {f"{PLUG}/outlet_deg": 90},
        f"{PLUG}/outlet_deg",
        "no outlet_deg: the item has no second port",
    ),
    "a fastener that is not there": (
        {"/addons/0/fasteners/0/sku": "SCREW-7"},
        "/addons/0/fasteners/0/sku",
        "the sku of an element of items; nearest: SCREW-6",
    ),
    "a nut of the car's own line": (
        {f"{OWN_LINE}/hex_mm": 17.5},
        f"{OWN_LINE}/hex_mm",
        "no hex_mm: it is told of your own hose alone",
    ),
    "a gland of a cone": (
        {f"{STANDARD}/seal": "cone"},
        f"{STANDARD}/gland",
        "nothing: only a seal of o-ring has it",
    ),
    "a gland inside out": ({f"{STANDARD}/gland/outside_mm": 10}, f"{STANDARD}/gland/outside_mm", "more than inside_mm"),
    "a pitch over its diameter": (
        {f"{SCREW_AT}/thread/diameter_mm": 1},
        f"{SCREW_AT}/thread/diameter_mm",
        "more than pitch_mm, which is 1.0 mm",
    ),
    "a torque the wrong way round": (
        {f"{SCREW_AT}/torque_nm": {"min": 10, "max": 8}},
        f"{SCREW_AT}/torque_nm/max",
        "at least min, which is 10",
    ),
    "a spacer without a hole": ({f"{SPACER_AT}/inside_mm": 14}, f"{SPACER_AT}/outside_mm", "more than inside_mm"),
    "a spacer of nothing known": (
        {f"{SPACER_AT}/material": "phenol"},
        f"{SPACER_AT}/material",
        "the id of an element of materials; nearest: phenolic",
    ),
    "a manifold of nothing known": (
        {f"{CAR}/manifold/material": "aluminum"},
        f"{CAR}/manifold/material",
        "the id of an element of materials; nearest: aluminium",
    ),
    "injectors on one another": (
        {f"{RAIL}/injector_positions_mm/1": 40},
        f"{RAIL}/injector_positions_mm/1",
        "more than the position before, 40.0 mm",
    ),
    "a spot that the rail lacks": (
        {f"{RAIL}/ports/1": GONE},
        f"{RAIL}/spot_positions_mm/centre",
        "a spot that this rail has: left, right, top",
    ),
    "pressure that stands still": (
        {f"{CAR}/pump/2/kpa": 300},
        f"{CAR}/pump/2/kpa",
        "more than the 300.0 kPa of the point before",
    ),
    "a pump that gains": ({f"{CAR}/pump/2/l_h": 141}, f"{CAR}/pump/2/l_h", "at most the 140.0 l/h of the point before"),
    "volts without a curve": ({f"{CAR}/pump": GONE}, f"{CAR}/pump_v", "the pump's curve as well"),
    "vapour that falls": (
        {"/fuels/0/vapour/2/kpa_abs": 60},
        "/fuels/0/vapour/2/kpa_abs",
        "more than the 60.0 kPa absolute of the point before",
    ),
    "colder than hot": ({f"{CAR}/manifold/hot_c": -40}, f"{CAR}/manifold/hot_c", "more than cold_c, which is -20.0 °C"),
    "a squeeze the wrong way round": (
        {"/policies/squeeze": {"min": 0.3, "max": 0.2}},
        "/policies/squeeze/max",
        "at least min, which is 0.3",
    ),
    "a gland that may close": (
        {f"{STANDARD}/gland/diameter_tol_mm": 3},
        f"{STANDARD}/gland/diameter_tol_mm",
        "less than half of what outside_mm is more than inside_mm",
    ),
    "a gland that may be flat": (
        {f"{STANDARD}/gland/depth_tol_mm": 1.8},
        f"{STANDARD}/gland/depth_tol_mm",
        "less than depth_mm, which is 1.8 mm",
    ),
    "a ring that may be nothing": (
        {f"{SEAL}/ring/section_tol_mm": 2.21},
        f"{SEAL}/ring/section_tol_mm",
        "less than section_mm, which is 2.21 mm",
    ),
    "vapour at absolute zero": ({"/fuels/0/vapour/0/c": -273.15}, "/fuels/0/vapour/0/c", "more than absolute zero"),
    "a strength class unknown": (
        {f"{SCREW_AT}/strength_class": "12.9"},
        f"{SCREW_AT}/strength_class",
        "8.8",
    ),
    "duty over all of the time": ({f"{CAR}/injectors/max_duty": 1.1}, f"{CAR}/injectors/max_duty", "1"),
    "an unknown field": ({f"{CAR}/tank/fuel_k": 300}, f"{CAR}/tank/fuel_k", "no such field; nearest: fuel_c"),
}


@pytest.mark.parametrize(("changes", "pointer", "expected"), FAULTS.values(), ids=FAULTS.keys())
def test_one_fault(changes: dict[str, Any], pointer: str, expected: str) -> None:
    """Each change makes one fault, at its place, with what would be right."""
    with pytest.raises(CatalogFaultsError) as refused:
        check_catalog(changed(told_catalog(), changes))
    (fault,) = refused.value.faults
    assert fault.pointer == pointer
    assert expected in fault.expected


def test_all_of_it_is_compiled() -> None:
    """What the document tells is there in the revision."""
    revision = compile_revision(Catalog.model_validate(told_catalog()), 1)
    car, rail = revision.chassis["brook"], revision.items["RAIL-S"]
    assert car.pump is not None
    assert car.pump.curve.points == tuple((point["kpa"], point["l_h"]) for point in CURVE)
    assert (car.pump.rated_v, car.pump.system_v) == (12.0, 13.5)
    assert (car.injectors, car.manifold, car.tank, car.cylinders) != (None, None, None, 0)
    assert rail.seats is not None
    assert rail.injectors_mm == (40.0, 120.0, 200.0, 280.0)
    assert rail.spots_mm == {"left": 0.0, "centre": 160.0, "right": 320.0}
    standard = revision.standards["boss-8"]
    assert standard.thread is not None
    assert standard.thread.unified
    assert standard.gland is not None
    assert revision.standards["taper-1/8"].taper is not None
    assert revision.items["SCREW-6"].screw is not None
    assert revision.items["SPACER-5"].spacer is not None
    assert revision.items["SEAL-B8"].ring is not None
    assert revision.policies.squeeze is not None
    assert (revision.policies.squeeze.min, revision.policies.squeeze.max) == (0.08, 0.4)
    assert revision.addons["blower"].raises_seat_mm == 15.0
    assert revision.materials["phenolic"].conductivity_w_m_k == 0.35
    assert len(revision.fuels["petrol"].vapour) == 3
