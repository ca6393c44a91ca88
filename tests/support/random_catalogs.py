"""Random small catalogs, valid as documents and rich in near misses: every rule both holds and breaks often.

All choices come from the `Random` that is handed in, so that a number or Hypothesis can drive them.
"""

from collections.abc import Sequence
from random import Random
from typing import Any

Json = dict[str, Any]

PLACES = ("left", "centre", "right", "top")
STANDARDS = ("boss", "flare", "quick", "taper")
FINISHES = ("black", "red")
PATTERNS = ("p-one", "p-two")

BOSS, BOSS_STUB = ("boss", "female"), ("boss", "male")
FLARE, FLARE_NUT = ("flare", "male"), ("flare", "female")
SPIGOT, SOCKET = ("quick", "male"), ("quick", "female")
TAPER, TAPER_STUB = ("taper", "female"), ("taper", "male")

FITTINGS = (
    (BOSS_STUB, SPIGOT),
    (BOSS_STUB, FLARE),
    (FLARE_NUT, SPIGOT),
    (BOSS_STUB, TAPER),
    (TAPER_STUB, FLARE),
    (BOSS_STUB, FLARE, TAPER),
    (BOSS_STUB, SPIGOT, SPIGOT),
    (BOSS_STUB, BOSS_STUB),
    (BOSS_STUB, BOSS),
    (FLARE_NUT, FLARE_NUT),
    (FLARE_NUT, FLARE, TAPER),
    (SOCKET, FLARE),
    (BOSS_STUB,),
)
LINES = (
    (FLARE_NUT, FLARE_NUT),
    (FLARE_NUT, SOCKET),
    (SOCKET, SOCKET),
    (FLARE_NUT, SPIGOT),
    (BOSS_STUB, FLARE_NUT, TAPER),
)
REGULATORS = ((FLARE_NUT, FLARE, TAPER), (BOSS_STUB, FLARE, TAPER), (BOSS_STUB, SPIGOT), (FLARE_NUT, SPIGOT))
PLUGS = ((BOSS_STUB,), (TAPER_STUB,), (BOSS_STUB, TAPER), (FLARE_NUT,), (SOCKET,))
GAUGES = ((TAPER_STUB,), (BOSS_STUB,), (TAPER_STUB, TAPER), (BOSS_STUB, TAPER, TAPER))
HOOKUP_ENDS = (*[SOCKET, FLARE_NUT] * 5, FLARE, SPIGOT)


def often(rng: Random, percent: int) -> bool:
    return rng.randrange(100) < percent


def random_catalog(rng: Random) -> Json:
    """One chassis or two, one layout or two, one to three rails and a dozen parts to screw in."""
    banks = 2 if often(rng, 35) else 1
    places = rng.sample(PLACES, rng.choice([2, 2, 3] if banks == 2 else [1, 2, 3, 3, 4]))
    items = _parts(rng, banks)
    items += _rails(rng, places, [item["sku"] for item in items if item["kind"] == "plug"])
    rng.shuffle(items)
    return {
        "format": "portwright-catalog/1",
        "maker": {"name": "Ostrevale Fuelworks", "currency": "OVC"},
        "port_standards": [_standard(name) for name in STANDARDS],
        "joints": [{"id": "snug", "method": "push-to-click", "cautions": [], "source": "invented"}],
        "fuels": _fuels(),
        "materials": _materials(rng),
        "items": items,
        "chassis": [
            _chassis(rng, "car", banks),
            *([_chassis(rng, "van", 3 - banks)] if often(rng, 4) else []),
        ],
        "addons": [_addon(rng, f"addon-{n}", banks) for n in range(rng.randrange(3))],
        "layouts": [_layout(rng, f"layout-{n}", banks, places) for n in range(rng.randint(1, 2))],
        "policies": {
            "max_chain": rng.choice([1, 2, 2, 3, 3] if banks == 1 else [2, 3, 3, 3, 4]),
            "flow_margin": rng.choice([1.0, 1.25]),
            "max_feed_drop_kpa": rng.choice([1.0, 4.0, 500.0, 500.0, 500.0]),
            "max_return_drop_kpa": rng.choice([2.0, 8.0, 500.0, 500.0, 500.0]),
            "max_velocity_m_s": rng.choice([1.1, 2.5, 50.0, 50.0, 50.0]),
            "recirculation": rng.choice([0.0, 1.5, 3.0]),
        },
    }


def _standard(name: str) -> Json:
    seal = {"boss": "o-ring", "flare": "cone", "quick": "bead", "taper": "taper"}[name]
    return {
        "id": name,
        "name": name,
        "family": name,
        "size": "8",
        "seal": seal,
        "published": "none",
        "joint": "snug",
    }


def _fuels() -> list[Json]:
    spirit = {
        "id": "spirit",
        "name": "Spirit",
        "density_kg_m3": 745.0,
        "viscosity_mpa_s": 0.5,
        "stoich_afr": 14.7,
    }
    blend = {
        "id": "blend",
        "name": "Blend",
        "density_kg_m3": 785.0,
        "viscosity_mpa_s": 1.1,
        "stoich_afr": 9.8,
    }
    consumption = ({"na": 300.0, "boosted": 360.0}, {"na": 430.0, "boosted": 500.0})
    return [
        fuel | {"bsfc_g_kwh": bsfc, "source": "invented"}
        for fuel, bsfc in zip((spirit, blend), consumption, strict=True)
    ]


def _materials(rng: Random) -> list[Json]:
    ratings = {"hard": ("A", "A"), "soft": ("B", rng.choice("ABCD")), "odd": (rng.choice("ACD"), "C")}
    return [
        {
            "id": name,
            "name": name,
            "ratings": {"spirit": spirit, "blend": blend},
            "min_c": -40,
            "max_c": 120,
            "source": "invented",
        }
        for name, (spirit, blend) in ratings.items()
    ]


# --- items -------------------------------------------------------------------------------------------------


def _parts(rng: Random, banks: int) -> list[Json]:
    """Fittings, lines, regulators, plugs and gauges, some with a variant; and two kinds of screw."""
    shapes = [("fitting", ports) for ports in (*FITTINGS[:2], *rng.sample(FITTINGS, rng.randint(0, 4)))]
    shapes += [("line", ports) for ports in (*LINES[: banks - 1], *rng.sample(LINES, rng.randint(0, 1)))]
    shapes += [("regulator", ports) for ports in rng.sample(REGULATORS, rng.randint(0, 2))]
    shapes += [("plug", ports) for ports in (*PLUGS[:2], *rng.sample(PLUGS, rng.randint(0, 2)))]
    shapes += [("gauge", ports) for ports in rng.sample(GAUGES, rng.randint(0, 2))]
    parts = []
    for number, (kind, ports) in enumerate(shapes):
        family = rng.choice([None, f"{kind}-{number}", f"{kind}-common"])
        variants = 2 if often(rng, 35) else 1
        parts += [_part(rng, f"{kind[0].upper()}{number}{'ab'[n]}", kind, ports, family) for n in range(variants)]
    return [*parts, *(_plain(rng, sku, "fastener") for sku in ("SCREW", "BOLT"))]


def _part(rng: Random, sku: str, kind: str, ends: Sequence[tuple[str, str]], family: str | None) -> Json:
    item = _plain(rng, sku, kind)
    ends = rng.sample(ends, len(ends))
    item["ports"] = [{"id": f"port-{n}", "standard": s, "end": e} for n, (s, e) in enumerate(ends)]
    item["wetted"] = rng.choice([[], ["hard"], ["hard"], ["hard", "soft"]])
    flows = {"fitting": 70, "line": 80, "regulator": 70, "rail": 50}
    chances: list[tuple[str, int, Any]] = [
        ("sold", 12, False),
        ("status", 5, "retired"),
        ("wetted", 8, ["odd"]),
        ("family", 100, family),
        ("finish", 60, rng.choice(FINISHES)),
        ("max_kpa", 12, rng.choice([300, 350, 450, 500])),
        ("standout_mm", 85, rng.choice([10, 10, 12.5, 20, 30.0005])),
        ("across_mm", 60, rng.choice([18, 22, 27])),
        ("patterns", 6, [rng.choice(PATTERNS)]),
        ("supplied", 8, [{"sku": "BOLT", "qty": rng.randint(1, 2)}]),
        ("flow", flows.get(kind, 0), _flow(rng)),
    ]
    return item | {name: value for name, percent, value in chances if value is not None and often(rng, percent)}


def _plain(rng: Random, sku: str, kind: str) -> Json:
    return {
        "sku": sku,
        "name": sku,
        "kind": kind,
        "sold": True,
        "status": "active",
        "price": rng.choice([0, 5, 10, 10, 15]),
        "stock": rng.choice([0, 1, 2, 3, 9, 9, 9]),
        "lead_days": rng.choice([0, 2, 5]),
        "mass_g": 50,
        "ports": [],
        "wetted": [],
    }


def _flow(rng: Random) -> Json:
    return {
        "bore_mm": rng.choice([4.0, 5.5, 7.0, 9.0]),
        "length_mm": rng.choice([0, 30, 800]),
        "loss_k": rng.choice([0, 0.5, 2.0]),
        "roughness_mm": rng.choice([0.0015, 0.02]),
    }


def _rails(rng: Random, places: Sequence[str], plugs: Sequence[str]) -> list[Json]:
    """One to three rails with spots at these places, now and then one missing."""
    family = rng.choice([None, "rails"])
    rails = []
    for number in range(rng.choice([1, 1, 2, 3])):
        own = places[1:] if often(rng, 8) and len(places) > 1 else places
        rails.append(_rail(rng, f"RAIL-{number}", family, own, plugs))
    return rails


def _rail(rng: Random, sku: str, family: str | None, places: Sequence[str], plugs: Sequence[str]) -> Json:
    rail = _part(rng, sku, "rail", (), family)
    rail["ports"] = [_spot(rng, place) for place in places]
    rail["patterns"] = ["p-two"] if often(rng, 8) else rng.choice([["p-one"], ["p-one", "p-two"]])
    rail["finish"] = rng.choice(FINISHES)
    supplied: list[Json] = [{"sku": rng.choice(plugs), "qty": 1, "spot": place} for place in places if often(rng, 25)]
    supplied += [{"sku": "SCREW", "qty": 2, "role": "screws"}] if often(rng, 40) else []
    supplied += [{"sku": "BOLT", "qty": 1}] if often(rng, 20) else []
    return rail | {"supplied": supplied} if supplied or often(rng, 20) else rail


def _spot(rng: Random, place: str) -> Json:
    common = [TAPER, BOSS] if place == "top" else [BOSS] * 7
    standard, end = rng.choice([*common, *([FLARE, TAPER] if often(rng, 10) else [])])
    return {"id": place, "standard": standard, "end": end, "spot": place}


# --- cars and layouts --------------------------------------------------------------------------------------


def spots(banks: int) -> list[str]:
    return [*PLACES] if banks == 1 else [f"{bank}.{place}" for bank in (1, 2) for place in PLACES]


def _chassis(rng: Random, name: str, banks: int) -> Json:
    return {
        "id": name,
        "name": name,
        "engine": "four",
        "cylinders": 4,
        "banks": banks,
        "pattern": "p-one",
        "base_kpa": rng.choice([250, 250, 300, 400]),
        "stock_kw": rng.choice([60, 90, 150]),
        "hookups": [_car_hookup(rng, kind, banks) for kind in ("factory-line", "bulkhead") if often(rng, 97)],
        "clearances": [random_clearance(rng, spots(banks)) for _ in range(rng.randrange(2))],
        "mounting": [
            {"role": role, "sku": sku, "qty": 2} | ({"optional": True} if often(rng, 20) else {})
            for role, sku in (("screws", "SCREW"), ("spacers", "BOLT"))
            if often(rng, 60)
        ],
    }


def _car_hookup(rng: Random, kind: str, banks: int) -> Json:
    standard, end = rng.choice(HOOKUP_ENDS)
    hookup: Json = {"id": kind, "standard": standard, "end": end}
    if often(rng, 50):
        hookup["flow"] = _flow(rng)
    if often(rng, 25):
        reach = {"min_mm": rng.choice([0, 0, 10, 20]), "max_mm": rng.choice([22.5, 30, 60, 60])}
        hookup["spots"] = {spot: reach for spot in spots(banks) if often(rng, 85)}
    return hookup


def random_clearance(rng: Random, known_spots: Sequence[str]) -> Json:
    """Room at a spot, close to what parts of a random catalog need."""
    clearance: Json = {"spot": rng.choice(known_spots)}
    clearance |= {"axial_mm": rng.choice([12.5, 20, 30, 42.5, 60, 60])} if often(rng, 70) else {}
    return clearance | ({"across_mm": rng.choice([18, 22, 25, 27])} if often(rng, 30) else {})


def _addon(rng: Random, name: str, banks: int) -> Json:
    return {
        "id": name,
        "name": name,
        "chassis": ["car"],
        "boost_kpa": rng.choice([0, 0, 50, 100]),
        "clearances": [random_clearance(rng, spots(banks)) for _ in range(rng.randrange(2))],
        "mounting": [{"role": "screws", "sku": "BOLT", "qty": 3}] if often(rng, 50) else [],
    }


def _layout(rng: Random, name: str, banks: int, places: Sequence[str]) -> Json:
    """A layout whose placements run the fuel alike, in other spots."""
    duties = _two_bank_duties(rng) if banks == 2 else _one_bank_duties(rng, len(places))
    entries = [_entry(rng, duty) for duty, _ in duties]
    placements = [_placement(rng, banks, duties, entries, places) for _ in range(rng.choice([1, 1, 2, 3]))]
    if often(rng, 10):
        placements.append(dict(placements[0]))
    return {"id": name, "name": name, "summary": "", "banks": banks, "placements": placements}


def _one_bank_duties(rng: Random, spots_there: int) -> Sequence[tuple[str, int]]:
    """(duty, bank) of each flowing spot."""
    feeds = [("feed", 1)] * rng.choice([1, 1, 2])
    duties = [*feeds, *([("return", 1)] if often(rng, 40) else [])]
    return duties[:spots_there] if often(rng, 90) else duties[:4]


def _two_bank_duties(rng: Random) -> Sequence[tuple[str, int]]:
    link = [("link", 1), ("link", 2)]
    feed, other_feed, back, other_back = ("feed", 1), ("feed", 2), ("return", 1), ("return", 2)
    return rng.choice(
        [
            [feed, *link],
            [feed, *link],
            [feed, *link, other_back],
            [feed, *link, back],
            [feed, other_feed],
            [feed, feed, other_feed],
            [feed, other_feed, back, other_back],
            [other_feed, back, other_back],
        ]
    )


def _entry(rng: Random, duty: str) -> Json:
    entry: Json = {"duty": duty}
    if duty == "link":
        return entry
    kind = rng.choice(["factory-line", "bulkhead", "own-hose"])
    entry["hookup"] = {"kind": kind}
    if kind == "own-hose":
        standard, end = rng.choice(HOOKUP_ENDS)
        entry["hookup"] |= {"standard": standard, "end": end}
        entry["hookup"] |= {"flow": _flow(rng)} if often(rng, 60) else {}
    via = rng.choice([[], [], ["regulator"]] if duty == "return" else [[]] * 8 + [["line"], ["fitting"]])
    return entry | ({"via": via} if via or often(rng, 20) else {})


def _placement(
    rng: Random, banks: int, duties: Sequence[tuple[str, int]], entries: Sequence[Json], places: Sequence[str]
) -> Json:
    """Each duty at a place of its own on its bank: where the rails have places, as long as these last."""
    others = [place for place in PLACES if place not in places]
    order = {}
    for bank in (1, 2):
        own = rng.sample(places, len(places))
        if often(rng, 75):  # the spot on top is seldom one for fuel
            own.sort(key=lambda place: place != "top")
        order[bank] = [*others, *own]
    taken = [(f"{bank}." if banks == 2 else "") + order[bank].pop() for _, bank in duties]
    links = [spot for spot, (duty, _) in zip(taken, duties, strict=True) if duty == "link"]
    placement = {}
    for spot, entry in zip(taken, entries, strict=True):
        ends = [other for other in links if other != spot]
        placement[spot] = entry | ({"to_spot": ends[0]} if entry["duty"] == "link" else {})
    return placement
