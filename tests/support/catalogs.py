"""A small, complete catalog by an invented maker: one rail, parts that go with it, two cars, four layouts."""

from typing import Any

GONE = object()


def changed(document: dict[str, Any], changes: dict[str, Any]) -> dict[str, Any]:
    """Set the value at each JSON Pointer of a document, in place; `GONE` takes a field or element away.

    The index `-` of a list appends, as in JSON Patch. Pointers here need no escapes but ~1 for a slash.
    """
    for pointer, value in changes.items():
        *parents, last = [segment.replace("~1", "/") for segment in pointer.split("/")[1:]]
        holder: Any = document
        for segment in parents:
            holder = holder[int(segment)] if isinstance(holder, list) else holder[segment]
        if isinstance(holder, list) and last == "-":
            holder.append(value)
            continue
        key: Any = int(last) if isinstance(holder, list) else last
        if value is GONE:
            del holder[key]
        else:
            holder[key] = value
    return document


def small_catalog() -> dict[str, Any]:
    """Return a fresh catalog document (plain JSON) without a fault; every layout has a bill on its car."""
    return {
        "format": "portwright-catalog/1",
        "maker": {"name": "Ostrevale Fuelworks", "currency": "OVC"},
        "port_standards": _port_standards(),
        "joints": _joints(),
        "fuels": _fuels(),
        "materials": _materials(),
        "items": [_rail(), *_chain_items(), *_small_parts()],
        "chassis": _chassis(),
        "addons": _addons(),
        "layouts": _layouts(),
        "policies": {
            "max_chain": 4,
            "flow_margin": 1.25,
            "max_feed_drop_kpa": 40.0,
            "max_return_drop_kpa": 30.0,
            "max_velocity_m_s": 6.0,
            "recirculation": 2.0,
        },
    }


def _port_standards() -> list[dict[str, Any]]:
    return [
        {
            "id": "boss-8",
            "name": "Straight-thread O-ring boss, size 8",
            "family": "boss",
            "size": "8",
            "seal": "o-ring",
            "published": "SAE J1926-1",
            "joint": "boss-8-torque",
        },
        {
            "id": "flare-6",
            "name": "37-degree flare, size 6",
            "family": "flare",
            "size": "6",
            "seal": "cone",
            "published": "SAE J514",
            "joint": "flare-turn",
        },
        {
            "id": "taper-1/8",
            "name": "Taper pipe thread, 1/8",
            "family": "taper",
            "size": "1/8",
            "seal": "taper",
            "published": "ASME B1.20.1",
            "joint": "taper-turns",
        },
        {
            "id": "quick-3/8",
            "name": "Quick connector, 3/8",
            "family": "quick",
            "size": "3/8",
            "seal": "o-ring",
            "published": "SAE J2044",
            "joint": "quick-click",
        },
    ]


def _joints() -> list[dict[str, Any]]:
    return [
        {
            "id": "boss-8-torque",
            "method": "torque",
            "min_nm": 34.0,
            "max_nm": 42.0,
            "spare_seal": "SEAL-B8",
            "cautions": ["Oil the seal before it goes in."],
            "source": "figures for tests",
        },
        {
            "id": "flare-turn",
            "method": "past-hand-tight",
            "min_deg": 60.0,
            "max_deg": 75.0,
            "cautions": ["No sealant on a flare."],
            "source": "figures for tests",
        },
        {
            "id": "taper-turns",
            "method": "turns-engaged",
            "min_threads": 4.0,
            "max_threads": 6.0,
            "turns_past_hand": 1.0,
            "consumables": ["SEALANT"],
            "cautions": [],
            "source": "figures for tests",
        },
        {"id": "quick-click", "method": "push-to-click", "cautions": [], "source": "figures for tests"},
    ]


def _fuels() -> list[dict[str, Any]]:
    return [
        {
            "id": "petrol",
            "name": "Petrol",
            "density_kg_m3": 745.0,
            "viscosity_mpa_s": 0.55,
            "stoich_afr": 14.6,
            "bsfc_g_kwh": {"na": 300.0, "boosted": 360.0},
            "source": "rounded figures for tests",
        },
        {
            "id": "e85",
            "name": "E85",
            "density_kg_m3": 782.0,
            "viscosity_mpa_s": 1.05,
            "stoich_afr": 9.8,
            "bsfc_g_kwh": {"na": 430.0, "boosted": 510.0},
            "source": "rounded figures for tests",
        },
    ]


def _materials() -> list[dict[str, Any]]:
    return [
        {
            "id": "aluminium",
            "name": "Hard-anodised aluminium",
            "ratings": {"petrol": "A", "e85": "B"},
            "min_c": -80.0,
            "max_c": 150.0,
            "source": "figures for tests",
        },
        {
            "id": "fluorocarbon",
            "name": "Fluorocarbon rubber",
            "ratings": {"petrol": "A", "e85": "A"},
            "min_c": -20.0,
            "max_c": 200.0,
            "source": "figures for tests",
        },
    ]


def _item(sku: str, name: str, kind: str, price: int, **more: Any) -> dict[str, Any]:
    """An active item on sale; `more` adds fields or replaces those told here."""
    item = {
        "sku": sku,
        "name": name,
        "kind": kind,
        "sold": True,
        "status": "active",
        "price": price,
        "stock": 25,
        "lead_days": 3,
        "mass_g": 20.0,
        "ports": [],
        "wetted": [],
    }
    return item | more


def _port(port_id: str, standard: str, end: str) -> dict[str, Any]:
    return {"id": port_id, "standard": standard, "end": end}


def _flow(bore_mm: float, length_mm: float, loss_k: float) -> dict[str, Any]:
    return {"bore_mm": bore_mm, "length_mm": length_mm, "loss_k": loss_k, "roughness_mm": 0.002}


def _rail() -> dict[str, Any]:
    return _item(
        "RAIL-S",
        "Fuel rail, slate",
        "rail",
        18900,
        family="rail",
        finish="slate",
        stock=6,
        lead_days=10,
        mass_g=640.0,
        ports=[
            _port("l", "boss-8", "female") | {"spot": "left"},
            _port("c", "boss-8", "female") | {"spot": "centre"},
            _port("r", "boss-8", "female") | {"spot": "right"},
            _port("t", "taper-1/8", "female") | {"spot": "top"},
        ],
        wetted=["aluminium"],
        max_kpa=1000.0,
        flow=_flow(16.0, 380.0, 0.5),
        patterns=["straight-four", "broad-six"],
        supplied=[
            {"sku": "PLUG-T", "qty": 1, "spot": "top"},
            {"sku": "SCREW-6", "qty": 2, "role": "rail-screw"},
        ],
    )


def _sealed() -> dict[str, Any]:
    return {"wetted": ["aluminium", "fluorocarbon"], "max_kpa": 1000.0}


def _chain_items() -> list[dict[str, Any]]:
    return [
        _item(
            *("PLUG-B8", "Plug for a size-8 boss", "plug", 900),
            ports=[_port("a", "boss-8", "male")],
            standout_mm=8.0,
            across_mm=24.0,
            **_sealed(),
        ),
        _item(
            *("PLUG-T", "Plug for a 1/8 taper thread", "plug", 400),
            ports=[_port("a", "taper-1/8", "male")],
            standout_mm=3.0,
            across_mm=12.0,
            wetted=["aluminium"],
            max_kpa=1000.0,
        ),
        _item(
            *("ADAPT-B8-F6", "Adapter, size-8 boss to size-6 flare", "fitting", 1500),
            ports=[_port("a", "boss-8", "male"), _port("b", "flare-6", "male")],
            standout_mm=26.0,
            across_mm=25.0,
            flow=_flow(7.5, 40.0, 0.4),
            **_sealed(),
        ),
        _item(
            *("SPIGOT-B8-Q", "Spigot, size-8 boss to 3/8 quick connector", "fitting", 2100),
            ports=[_port("a", "boss-8", "male"), _port("b", "quick-3/8", "male")],
            standout_mm=30.0,
            across_mm=25.0,
            flow=_flow(7.5, 45.0, 0.4),
            **_sealed(),
        ),
        _item(
            *("GAUGE-T", "Pressure gauge, 0 to 700 kPa", "gauge", 3900),
            ports=[_port("a", "taper-1/8", "male")],
            standout_mm=48.0,
            across_mm=40.0,
            wetted=["aluminium"],
            max_kpa=700.0,
        ),
        _item(
            *("LINE-F6", "Link line, size-6 flare, 400 mm", "line", 4600),
            ports=[_port("a", "flare-6", "female"), _port("b", "flare-6", "female")],
            across_mm=19.0,
            flow=_flow(8.7, 400.0, 0.9),
            **_sealed(),
        ),
        _item(
            *("REG-F6", "Pressure regulator with a gauge port", "regulator", 9800),
            ports=[
                _port("in", "flare-6", "female"),
                _port("out", "flare-6", "male"),
                _port("gauge", "taper-1/8", "female"),
            ],
            standout_mm=55.0,
            across_mm=42.0,
            flow=_flow(7.0, 60.0, 2.0),
            **_sealed(),
        ),
    ]


def _small_parts() -> list[dict[str, Any]]:
    return [
        _item("SEAL-B8", "Seal for a size-8 boss", "seal", 150, wetted=["fluorocarbon"]),
        _item("SEALANT", "Thread sealant, 10 ml", "consumable", 700),
        _item("SCREW-6", "Screw, M6 x 25", "fastener", 80),
        _item("SCREW-6-LONG", "Screw, M6 x 40", "fastener", 110),
        _item("SPACER-5", "Spacer, 5 mm", "spacer", 260),
    ]


def _chassis() -> list[dict[str, Any]]:
    return [
        {
            "id": "brook",
            "name": "Brook hatchback",
            "engine": "1.6 l straight four",
            "cylinders": 4,
            "banks": 1,
            "pattern": "straight-four",
            "base_kpa": 300.0,
            "stock_kw": 90.0,
            "hookups": [
                {
                    **_port("factory-line", "quick-3/8", "female"),
                    "flow": _flow(7.5, 900.0, 1.0),
                    "spots": {"left": {"min_mm": 20.0, "max_mm": 40.0}},
                }
            ],
            "clearances": [{"spot": "centre", "axial_mm": 120.0, "across_mm": 60.0}],
            "mounting": [
                {"role": "rail-screw", "sku": "SCREW-6", "qty": 2},
                {"role": "rail-spacer", "sku": "SPACER-5", "qty": 2, "optional": True},
            ],
        },
        {
            "id": "heron",
            "name": "Heron coupe",
            "engine": "3.0 l six, two banks",
            "cylinders": 6,
            "banks": 2,
            "pattern": "broad-six",
            "base_kpa": 350.0,
            "stock_kw": 170.0,
            "hookups": [
                {
                    **_port("factory-line", "quick-3/8", "female"),
                    "spots": {"1.left": {"min_mm": 20.0, "max_mm": 40.0}},
                }
            ],
            "clearances": [{"spot": "2.top", "axial_mm": 30.0}],
            "mounting": [{"role": "rail-screw", "sku": "SCREW-6", "qty": 4}],
        },
    ]


def _addons() -> list[dict[str, Any]]:
    return [
        {
            "id": "blower",
            "name": "Belt-driven blower",
            "chassis": ["brook"],
            "boost_kpa": 60.0,
            "clearances": [{"spot": "right", "axial_mm": 35.0}],
            "mounting": [{"role": "rail-screw", "sku": "SCREW-6-LONG", "qty": 2}],
        }
    ]


def _own_hose() -> dict[str, Any]:
    return {"kind": "own-hose", "standard": "flare-6", "end": "female", "flow": _flow(8.7, 1500.0, 1.0)}


def _factory_feed() -> dict[str, Any]:
    return {"duty": "feed", "hookup": {"kind": "factory-line"}}


def _layouts() -> list[dict[str, Any]]:
    return [
        {
            "id": "factory",
            "name": "Factory line",
            "summary": "The car's own line feeds one side of the rail.",
            "banks": 1,
            "placements": [{"left": _factory_feed()}, {"right": _factory_feed()}],
        },
        {
            "id": "hose-centre",
            "name": "Own hose to the centre",
            "summary": "A size-6 hose feeds the middle of the rail; nothing returns.",
            "banks": 1,
            "placements": [{"centre": {"duty": "feed", "hookup": _own_hose()}}],
        },
        {
            "id": "through-return",
            "name": "Through flow with return",
            "summary": "Fuel enters at one side and leaves at the other through a regulator on the rail.",
            "banks": 1,
            "placements": [
                {
                    "left": {"duty": "feed", "hookup": _own_hose()},
                    "right": {"duty": "return", "hookup": _own_hose(), "via": ["regulator"]},
                }
            ],
        },
        {
            "id": "linked-banks",
            "name": "Factory line, banks linked",
            "summary": "The car's own line feeds the first bank; a line leads on to the second.",
            "banks": 2,
            "placements": [
                {
                    "1.left": _factory_feed(),
                    "1.right": {"duty": "link", "to_spot": "2.right"},
                    "2.right": {"duty": "link", "to_spot": "1.right"},
                }
            ],
        },
    ]
