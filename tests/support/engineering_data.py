"""The small catalog with all that a catalog may tell for engineering; its figures are sound and invented."""

import json
from typing import Any

from tests.support.catalogs import small_catalog

Json = dict[str, Any]

THREAD = {"diameter_mm": 19.05, "pitch_mm": 1.5875, "form": "unified"}
GLAND = {
    "inside_mm": 16.6,
    "outside_mm": 22.4,
    "depth_mm": 1.8,
    "diameter_tol_mm": 0.05,
    "depth_tol_mm": 0.05,
    "source": "figures for tests",
}
TRADE = {
    "gtin": "2000000000015",
    "mpn": "R-4/8",
    "country": "NO",
    "url": "https://shop.example/rails/1",
    "image": "https://shop.example/rails/1.png",
}
TAPER = {"outside_mm": 10.287, "pitch_mm": 0.9407, "hand_tight_mm": 4.102}
RING = {"inside_mm": 16.36, "section_mm": 2.21, "inside_tol_mm": 0.23, "section_tol_mm": 0.08}
SCREW = {
    "thread": {"diameter_mm": 6.0, "pitch_mm": 1.0, "form": "metric"},
    "strength_class": "8.8",
    "length_mm": 25.0,
    "torque_nm": {"min": 8.0, "max": 9.0},
    "nut_factor": {"min": 0.18, "max": 0.22},
    "material": "steel",
}
SPACER = {"height_mm": 5.0, "height_tol_mm": 0.05, "outside_mm": 14.0, "inside_mm": 6.4, "material": "phenolic"}
SEATS = {"roof_mm": 20.0, "roof_tol_mm": 0.1, "cup_depth_mm": 8.0, "foot_mm": 8.0, "material": "aluminium"}
INJECTORS = {
    "static_l_h": 20.0,
    "rated_kpa": 300.0,
    "max_duty": 0.85,
    "length_mm": 60.0,
    "length_tol_mm": 0.1,
    "upper_ring_mm": 3.5,
    "lower_ring_mm": 4.0,
    "bore_mm": 13.5,
    "material": "steel",
}
REGULATES = {"min_kpa": 200.0, "max_kpa": 500.0, "follows": "manifold", "nipple": "on its cap"}
REGULATOR = {"at": "rail", "follows": "manifold", "reference": "the nipple behind the throttle"}
MANIFOLD = {
    "seat_mm": -35.7,
    "seat_tol_mm": 0.1,
    "thread_mm": 14.0,
    "material": "aluminium",
    "cold_c": -20.0,
    "hot_c": 110.0,
}
TANK = {"fuel_c": 35.0, "soak_c": 70.0, "lift_m": -0.2, "inlet_loss_kpa": 3.0, "rest_kpa": 250.0}
CURVE = [{"kpa": 0.0, "l_h": 180.0}, {"kpa": 300.0, "l_h": 140.0}, {"kpa": 600.0, "l_h": 80.0}]
VAPOUR = [{"c": 20.0, "kpa_abs": 35.0}, {"c": 37.8, "kpa_abs": 60.0}, {"c": 80.0, "kpa_abs": 190.0}]
LIMITS = {
    "vapour_margin_kpa": 20.0,
    "seal_insertion_mm": 1.0,
    "squeeze": {"min": 0.08, "max": 0.4},
    "max_gland_fill": 0.95,
    "max_proof_part": 0.75,
    "max_spread_percent": 1.0,
    "power_reserve": 0.15,
}
PROPERTIES = {
    "aluminium": {"conductivity_w_m_k": 167.0, "expansion_1_k": 23.6e-6, "shear_mpa": 207.0},
    "phenolic": {"conductivity_w_m_k": 0.35, "expansion_1_k": 40e-6},
    "steel": {"conductivity_w_m_k": 50.0, "expansion_1_k": 11.7e-6},
}


def _own_hoses(catalog: Json) -> list[Json]:
    entries = (x for layout in catalog["layouts"] for placement in layout["placements"] for x in placement.values())
    hookups = (entry.get("hookup") or {} for entry in entries)
    return [hookup for hookup in hookups if hookup.get("kind") == "own-hose"]


def told_catalog() -> Json:
    """The small catalog with every optional field for engineering filled in."""
    catalog = small_catalog()
    ratings = dict.fromkeys([fuel["id"] for fuel in catalog["fuels"]], "A")
    for name in ("phenolic", "steel"):
        catalog["materials"].append(
            {"id": name, "name": name, "ratings": ratings, "min_c": -50.0, "max_c": 150.0, "source": "for tests"}
        )
    for material in catalog["materials"]:
        material.update(PROPERTIES.get(material["id"], {}))
    for fuel in catalog["fuels"]:
        fuel.update({"heat_capacity_j_kg_k": 2100.0, "vapour": VAPOUR, "lhv_mj_kg": 43.0})
        fuel["cautions"] = ["Keep it out of the sun."]
    standards = {standard["id"]: standard for standard in catalog["port_standards"]}
    standards["boss-8"].update({"thread": THREAD, "gland": GLAND})
    standards["taper-1/8"]["taper"] = TAPER
    items = {item["sku"]: item for item in catalog["items"]}
    items["SEAL-B8"]["ring"] = RING
    items["SCREW-6"].update({"screw": SCREW, "drive": "hex key 5 mm"})
    items["ADAPT-B8-F6"].update({"hex_mm": 22.0, "outlet_deg": 0.0})
    items["SCREW-6-LONG"]["screw"] = SCREW | {"length_mm": 40.0, "strength_class": "10.9"}
    items["SPACER-5"]["spacer"] = SPACER
    items["REG-F6"]["regulates"] = REGULATES
    items["RAIL-S"].update(
        {
            "seats": SEATS,
            "injector_positions_mm": [40.0, 120.0, 200.0, 280.0],
            "spot_positions_mm": {"left": 0.0, "centre": 160.0, "right": 320.0},
        }
    )
    for section in ("items", "chassis", "addons", "layouts", "fuels", "materials"):
        catalog[section][0]["aliases"] = [f"first of the {section}", "№ 1"]
    for chassis in catalog["chassis"]:
        chassis.update({"pump": CURVE, "pump_v": {"rated": 12.0, "fed": 13.5}, "injectors": INJECTORS})
        chassis.update({"manifold": MANIFOLD, "tank": TANK, "regulator": REGULATOR})
    catalog["addons"][0].update({"raises_seat_mm": 15.0, "fasteners": [{"sku": "SCREW-6-LONG", "qty": 4}]})
    next(item for item in catalog["items"] if item["kind"] == "line")["min_bend_mm"] = 60.0
    for hose in _own_hoses(catalog):
        hose.update({"hex_mm": 17.5, "min_bend_mm": 80.0})
    catalog["items"][0].update(TRADE)
    catalog["maker"]["tax"] = "gross"
    catalog["policies"].update(LIMITS)
    unshared: Json = json.loads(json.dumps(catalog))
    return unshared
