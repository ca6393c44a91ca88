"""A catalog in which every field of the format stands at least once, in orders that no sorting would give."""

from typing import Any, get_args

from pydantic import BaseModel

from service.documents.catalog import Catalog
from tests.support.engineering_data import told_catalog


def rich_catalog() -> dict[str, Any]:
    """Return a fresh catalog document: the small one with all that may be told, and what it lacks."""
    catalog = told_catalog()
    for joint in catalog["joints"]:
        joint.update({"consumables": ["SEALANT"], "spare_seal": "SEAL-B8"})
    catalog["joints"].append(
        {
            "id": "flange",
            "method": "flange-to-face",
            "min_nm": 1 / 3,
            "max_nm": 8.1,
            "consumables": ["SEALANT", "SCREW-6", "SEALANT"],
            "spare_seal": ["SEAL-B8", "SEALANT"],
            "cautions": ["Zweite Zeile:\n\tmit „Zeichen“ 燃料 \U0001f527", "", 'It\'s "quoted" \\ %s ? :x'],
            "source": "figures for tests",
        }
    )
    catalog["items"].insert(
        0,
        catalog["items"][-1]
        | {
            "sku": "screw-6",
            "name": "Screw, M6 x 25, earlier thread",
            "status": "retired",
            "superseded_by": "SCREW-6",
            "price": 10**12,
            "stock": 10**9,
            "mass_g": 0.1 + 0.2,
        },
    )
    for section in ("fuels", "materials", "addons", "layouts"):
        catalog[section].reverse()
    _speak_finnish(catalog)
    return catalog | {"contract_cases": _cases()}


def _speak_finnish(catalog: dict[str, Any]) -> None:
    """Tell names and texts in a second language, of some objects."""
    catalog["maker"]["second_language"] = "fi"
    for section in ("port_standards", "fuels", "materials", "items", "chassis", "addons", "layouts"):
        catalog[section][0]["second_name"] = f"Nimi, {section}"
    catalog["layouts"][0]["second_summary"] = "Näin polttoaine kulkee."
    for joint in catalog["joints"]:
        joint["cautions"] = joint["cautions"] or ["Mind the threads."]
    for cautioned in (*catalog["fuels"], *catalog["joints"]):
        if "cautions" in cautioned:
            cautioned["second_cautions"] = [f"Varo: {text}" for text in cautioned["cautions"]]


def _cases() -> list[dict[str, Any]]:
    """A case with all that may be told, and one with the least."""
    asked = {"chassis": "brook", "layout": "hose-centre"}
    full = {
        "fuel": "petrol",
        "power_kw": 80.5,
        "pump_l_h": 120.0,
        "pump": [{"kpa": 0.0, "l_h": 180.0}, {"kpa": 400.0, "l_h": 120.0}],
        "pump_v": {"rated": 12.0, "fed": 13.5},
        "regulator": {"set_kpa": 350.0, "follows": "atmosphere"},
        "injectors": {"static_l_h": 32.5, "rated_kpa": 300.0, "max_duty": 0.8},
        "feed_hose_m": 1.5,
        "return_hose_m": 0.1,
        "boost_kpa": 20.0,
        "addons": ["blower"],
        "clearances": [{"spot": "top", "axial_mm": 80.0, "across_mm": 40.0}, {"spot": "left"}],
        "gauge": "any",
        "finish": "satin",
        "exclude": ["SCREW-6"],
        "in_stock_only": True,
        "allow_unsold": False,
        "max_price": 10**12,
        "have": [{"sku": "SEALANT", "qty": 2}],
        "own_rail": {"top": {"standard": "boss-8", "end": "female"}, "left": {"standard": "boss-8", "end": "female"}},
        "limit": 3,
        "group_variants": False,
        "order_by": "lead",
    }
    promises = {
        "has_bill": True,
        "contains": ["SEALANT", "RAIL-S"],
        "never_contains": ["SEAL-B8"],
        "price": {"at_least": 0, "at_most": 10**12},
        "keyed": True,
        "currency": "OVC",
        "must_say": ["boss", "words, „told“"],
        "max_ms": 60_000,
    }
    wishes = {name: value for name, value in full.items() if name not in ("limit", "group_variants", "order_by")}
    order = asked | wishes | {"lines": [{"sku": "RAIL-S", "qty": 2}], "sets": 2}
    car = {"chassis": "brook"} | wishes
    verdict = {"verdict": "wrong", "layout": "hose-centre", "edits": 30, "must_say": ["a"], "max_ms": 1}
    explained = {"in_bills": True, "where": ["rail"], "stopped_by": ["flow"], "currency": "OVC"}
    of_car = {"with_bills": ["hose-centre"], "without_bills": ["linked-banks"], "currency": "OVC"}
    sides = {"one": {"sku": "RAIL-S", "port": "p0"}, "other": {"standard": "boss-8", "end": "male"}}
    timed = {"must_say": ["b"], "max_ms": 2}
    return [
        {"id": "z-full", "says": "Everything, „told“.", "request": asked | full, "promises": promises},
        {"id": "a-bare", "says": "", "request": asked, "promises": {"has_bill": False}},
        _case("order_check", order, verdict),
        _case("explain", asked | full | {"sku": "RAIL-S", "spot": "top"}, explained | timed),
        _case("layouts", car, of_car | timed),
        _case("item", {"sku": "RAIL-S"}, {"price": {"at_least": 1, "at_most": 2}, "status": "retired"} | timed),
        _case("item", {"sku": "NO-SUCH"}, {"exists": False}, "gone"),
        _case("item", {"sku": "RAIL-S"}, {}, "least"),
        _case("joint", sides, {"meets": False, "bridged_by": ["SEAL-B8"], "currency": "OVC"} | timed),
    ]


def _case(kind: str, request: dict[str, Any], promises: dict[str, Any], id_: str = "") -> dict[str, Any]:
    return {"id": f"{kind}{id_}", "says": "", "kind": kind, "request": request, "promises": promises}


def fields_never_given(catalog: Catalog) -> set[tuple[str, str]]:
    """Return each (model, field) of the format for which the catalog has no value anywhere."""
    models: dict[str, type[BaseModel]] = {}
    given: set[tuple[str, str]] = set()
    _look_at_type(Catalog, models)
    _look_at_value(catalog, given)
    return {(name, field) for name, model in models.items() for field in model.model_fields} - given


def _look_at_type(annotation: Any, models: dict[str, type[BaseModel]]) -> None:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        models[annotation.__name__] = annotation
        for field in annotation.model_fields.values():
            _look_at_type(field.annotation, models)
    for argument in get_args(annotation):
        _look_at_type(argument, models)


def _look_at_value(value: Any, given: set[tuple[str, str]]) -> None:
    if isinstance(value, BaseModel):
        for field, within in value:
            if within is not None:
                given.add((type(value).__name__, field))
                _look_at_value(within, given)
    elif isinstance(value, list | dict):
        for within in value.values() if isinstance(value, dict) else value:
            _look_at_value(within, given)
