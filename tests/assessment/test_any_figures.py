"""Whatever figures a catalog may tell within its bounds, every answer is given, in finite numbers."""

import json
import math
from collections.abc import Iterator
from random import Random
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from service.documents.catalog import Catalog
from service.documents.check import CatalogFaultsError, check_catalog
from service.documents.request import BillRequest
from service.usecases.find_bills import answer_in
from service.usecases.library import Edition
from tests.support.engineering_data import told_catalog

Json = dict[str, Any]

TOLD = {
    "port_standards": ("thread", "gland", "taper"),
    "fuels": ("vapour", "heat_capacity_j_kg_k"),
    "materials": ("conductivity_w_m_k", "expansion_1_k", "shear_mpa"),
    "items": ("ring", "screw", "spacer", "seats", "injector_positions_mm", "spot_positions_mm"),
    "chassis": ("pump", "pump_v", "injectors", "manifold", "tank"),
    "addons": ("raises_seat_mm",),
}
REQUESTS = [
    {"chassis": "brook", "layout": "through-return", "gauge": "top", "limit": 3},
    {"chassis": "brook", "layout": "hose-centre", "addons": ["blower"], "limit": 2},
    {"chassis": "heron", "layout": "linked-banks", "limit": 2},
]


def scrambled(rng: Random) -> Json:
    """The told catalog with about a third of its figures for engineering changed, some of them wildly."""
    catalog = told_catalog()
    for section, fields in TOLD.items():
        for element in catalog[section]:
            for field in fields:
                if field in element:
                    element[field] = _other(element[field], rng)
    catalog["policies"] = {
        name: _other(value, rng) if name in ("squeeze", "max_gland_fill", "max_spread_percent") else value
        for name, value in catalog["policies"].items()
    }
    return catalog


def _other(value: Any, rng: Random) -> Any:
    if isinstance(value, dict):
        return {name: _other(inner, rng) for name, inner in value.items()}
    if isinstance(value, list):
        return [_other(inner, rng) for inner in value]
    if isinstance(value, float) and rng.random() < 0.3:
        return rng.choice([0.0, 1e-9, -value, value * 1e-3, value * 1e3, 1e4, value * rng.uniform(0.2, 5)])
    return value


def mended(catalog: Json) -> Catalog | None:
    """The catalog with each figure that is refused put back; None where that is not enough."""
    good = told_catalog()
    for _ in range(25):
        try:
            return check_catalog(catalog)
        except CatalogFaultsError as error:
            for fault in error.faults:
                _put_back(catalog, good, fault.pointer.split("/")[1:])
    return None


def _put_back(catalog: Any, good: Any, path: list[str]) -> None:
    """The whole field of an element is put back: what is wrong may lie beside what is named."""
    section, index = path[0], path[1]
    if section == "policies":
        catalog["policies"] = good["policies"]
        return
    field = path[2]
    if section == "joints":  # its figures are as they were: the taper that disagrees with them is not
        for standard, sound in zip(catalog["port_standards"], good["port_standards"], strict=True):
            standard.update({"taper": sound["taper"]} if "taper" in sound else {})
    catalog[section][int(index)][field] = good[section][int(index)][field]


def numbers(value: Any) -> Iterator[float]:
    if isinstance(value, dict):
        value = list(value.values())
    if isinstance(value, list):
        for inner in value:
            yield from numbers(inner)
    elif isinstance(value, float):
        yield value


@settings(max_examples=90, deadline=None, derandomize=True)
@given(st.integers(0, 10**9))
def test_every_answer_is_given(seed: int) -> None:
    """No figure that the catalog may tell keeps an answer from being given, or makes it no number."""
    catalog = mended(scrambled(Random(seed)))
    assert catalog is not None
    ready = Edition(1, catalog)
    for request in REQUESTS:
        answer = answer_in(ready, BillRequest.model_validate(request))
        assert all(map(math.isfinite, numbers(answer)))
        assert json.dumps(answer, allow_nan=False)
        assert all(check["text"] for bill in answer["bills"] for check in bill["checks"])
