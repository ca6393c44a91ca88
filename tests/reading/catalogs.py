"""Catalogs whose orders are read in tests: the seed's, and two whose names are nothing like it."""

import json
from pathlib import Path
from typing import Final

from service.reading.orders import OrderReader
from service.reading.vocabulary import Part, Vocabulary

_SEED = Path(__file__).parents[2] / "seed_data"


def _seed() -> tuple[tuple[Part, ...], tuple[str, ...]]:
    items = json.loads((_SEED / "items.json").read_text(encoding="utf-8"))
    cars = json.loads((_SEED / "chassis.json").read_text(encoding="utf-8"))
    parts = tuple(Part(x["sku"], x["name"], (), x.get("family"), x["price"] if x["sold"] else None) for x in items)
    return parts, tuple(car[key] for car in cars for key in ("id", "name", "engine"))


SEED_PARTS, SEED_CARS = _seed()
ODD_PARTS: Final = (
    Part("4711/8", "Banjo bolt 10 mm"),
    Part("4711/10", "Banjo bolt 12 mm"),
    Part("4711", "Banjo washer, copper", ("crush washer",)),
    Part("2X4", "Manifold block, two by four"),
    Part("M8", "Stud, fine"),
    Part("10", "Grommet"),
    Part("F.1", "Mesh filter"),
    Part("F.2", "Mesh filter housing"),
    Part("F.3", "Mesh filter housing gasket"),
    Part("CAP.RED", "Cap, red", (), "CAP"),
    Part("CAP.BLUE", "Cap, blue", (), "CAP"),
    Part("A1", "Elbow 90 deg"),
    Part("A1-2", "Elbow 45 deg"),
    Part("A1-2-3", "Elbow 30 deg, long"),
    Part("DU-08", "Düse 0,8 mm", ("jet 0.8",)),
    Part("DU-10", "Düse 1,0 mm"),
    Part("RAIL", "Rail bar"),
    Part("RAILX", "Rail bar, extended"),
    Part("ONE", "Pump One"),
    Part("BEST", "Bestseller clamp"),
    Part("S-40", "Sieve 40"),
    Part("S-400", "Sieve 400"),
    Part("T3", "Tee 3-way"),
    Part("FL6", "Six-hole flange"),
    Part("SH", "Set of shims"),
    Part("HM", "Half-moon key"),
    Part("ND", "No-drip nozzle"),
    Part("RV", "Return check valve"),
    Part("PC", "Pair clamp"),
    Part("TU8", "Tube Ø8"),
    Part("OEL-K", "Ölfilter klein"),
    Part("00123", "Washer kit"),
    Part("7/16-20", "Union 7/16-20 UNF"),
    Part("X-9", "Cross piece"),
    Part("12-PCS", "Assortment of nuts"),
)
"""SKUs that look like quantities, sizes and words; names that hold one another."""
THIRD_PARTS: Final = (
    Part("FR-210-BK", "Fuel rail 210, black", ("ebony rail",), "FR-210"),
    Part("FR-210-SV", "Fuel rail 210, silver", (), "FR-210"),
    Part("INJ.440", "Injector 440 cc", ("big squirter",)),
    Part("INJ.550", "Injector 550 cc"),
    Part("ORK", "Seal kit for injectors"),
    Part("BSPP-1/4", "Adapter 1/4 BSPP to size 6"),
    Part("BSPP-3/8", "Adapter 3/8 BSPP to size 8"),
    Part("HS 06/100", "Braided hose size 6, 1.0 m"),
    Part("HS 06/150", "Braided hose size 6, 1.5 m"),
    Part("PMP", "Fuel pump 255 l/h"),
    Part("REG-3BAR", "Regulator 3.0 bar"),
    Part("REG-4BAR", "Regulator 4.0 bar"),
    Part("CLAMP", "Hose clamp 12-22 mm"),
    Part("90-100", "Elbow, forged"),
    Part("STRAP", "Two-bolt strap"),
    Part("KIT-A", "Service kit A"),
    Part("KIT-B", "Service kit B"),
    Part("1N4", "Diode"),
)
"""SKUs with dots, spaces and slashes; finishes and figures in the names; aliases."""
READERS: Final = {
    "seed": OrderReader(Vocabulary(SEED_PARTS, SEED_CARS)),
    "odd": OrderReader(Vocabulary(ODD_PARTS, ("Rover 10",))),
    "third": OrderReader(Vocabulary(THIRD_PARTS, ("Otter 2.0", "otter-20"))),
}
