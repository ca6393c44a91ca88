"""Catalogs whose orders are read in tests: the seed's, and others whose names are nothing like it."""

import json
from pathlib import Path
from typing import Final

from service.reading.orders import OrderReader
from service.reading.vocabulary import Part, Vocabulary

_MAKERS = Path(__file__).with_name("makers.txt")
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
NUM_PARTS: Final = (
    Part("100231", "Connector, 90 degrees, size 6"),
    Part("100232", "Connector, 90 degrees, size 8"),
    Part("100240", "Connector, straight, size 8"),
    Part("20450", "Blanking cap, size 8", ("blank",)),
    Part("20451", "Blanking cap, size 8, vented"),
    Part("30010", "Supply pipe, two litre"),
    Part("30011", "Return pipe"),
    Part("4402", "Bonded seal, 14 mm"),
    Part("4403", "Bonded seal, 16 mm"),
    Part("88001-W", "Dial, white face", (), "88001"),
    Part("88001-B", "Dial, black face", (), "88001"),
    Part("550", "Worm clip, 12 mm"),
    Part("551", "Worm clip, 16 mm"),
)
"""SKUs of digits alone."""
SHORT_PARTS: Final = (
    Part("F1", "Fuel filter, paper"),
    Part("F2", "Fuel filter, mesh"),
    Part("F2L", "Fuel filter, mesh, long"),
    Part("K7", "Kit of O-rings"),
    Part("D", "Damper"),
    Part("P10", "Plug, ten millimetre"),
    Part("P12", "Plug, twelve millimetre"),
    Part("R3", "Regulator, adjustable"),
    Part("R3B", "Regulator, adjustable, with bracket"),
    Part("V1", "Check valve"),
    Part("B8-S", "Bolt M8, short"),
    Part("B8-L", "Bolt M8, long"),
    Part("G1W", "Gauge, white dial", (), "G1"),
    Part("G1K", "Gauge, black dial", (), "G1"),
)
"""SKUs of a letter and a figure."""
DOT_PARTS: Final = (
    Part("12.04.001", "Union nut M12"),
    Part("12.04.002", "Union nut M14"),
    Part("12.05.001", "Compression ring 12 mm"),
    Part("15.01.100", "Distributor pipe, four outlets"),
    Part("15.01.101", "Distributor pipe, six outlets"),
    Part("20.00.010", "Druckregler 3,5 bar", ("pressure regulator 3.5",)),
    Part("20.00.011", "Druckregler 5 bar"),
    Part("31.10", "Schlauchschelle 10-16 mm", ("hose clip",)),
    Part("40.7", "Protective sleeve, black", (), "40"),
    Part("40.8", "Protective sleeve, red", (), "40"),
    Part("9.9.9", "Test bench"),
)
"""SKUs of digits and dots; names in two languages."""
RIBS_PARTS: Final = (
    Part("DPIPE-ALD4-NAT", "Distribution pipe for the Alder inline four, natural", (), "DPIPE-ALD4"),
    Part("DPIPE-ALD4-BLK", "Distribution pipe for the Alder inline four, black", (), "DPIPE-ALD4"),
    Part("DPIPE-YEW6-NAT", "Distribution pipe for the Yew straight six, natural", (), "DPIPE-YEW6"),
    Part("DPIPE-YEW6-BLK", "Distribution pipe for the Yew straight six, black", (), "DPIPE-YEW6"),
    Part("UN-8/6-N", "Union, size 8 boss to size 6 cone, natural", (), "UN-8/6"),
    Part("UN-8/6-B", "Union, size 8 boss to size 6 cone, black", (), "UN-8/6"),
    Part("UN-8/8", "Union, size 8 boss to size 8 cone"),
    Part("BLK-8", "Blank for a size 8 boss", ("stopper",)),
    Part("BLK-6", "Blank for a size 6 boss"),
    Part("DIAL-6BAR", "Dial 0 to 6 bar, oil filled"),
    Part("DIAL-10BAR", "Dial 0 to 10 bar, oil filled"),
    Part("HSE-6-12", "Braided hose size 6, 1.2 m"),
    Part("HSE-8-12", "Braided hose size 8, 1.2 m"),
    Part("OR-908", "O-ring 16.36 x 2.21 mm for a size 8 boss"),
    Part("OR-908-HF", "O-ring 16.36 x 2.21 mm for a size 8 boss, high fluorine"),
    Part("SCR-M6x20", "Cap screw M6 x 20"),
    Part("SCR-M6x30", "Cap screw M6 x 30"),
    Part("SLV-12", "Spacer sleeve 12 mm"),
    Part("SLV-20", "Spacer sleeve 20 mm"),
    Part("GRS-30", "Assembly grease, 30 ml"),
    Part("RTN-V", "Return valve"),
)
"""Names as the seed has them, in other words."""
MIX_PARTS: Final = (
    Part("VLV_CHK_06", "Check valve, size 6"),
    Part("VLV_CHK_08", "Check valve, size 8"),
    Part("PMP.255", "In-tank pump, 255 l/h"),
    Part("PMP.340", "In-tank pump, 340 l/h"),
    Part("FLT-10MIC", "Filter, 10 micron", ("fine filter",)),
    Part("FLT-100MIC", "Filter, 100 micron", ("coarse filter",)),
    Part("TEE 6", "Tee piece, size 6"),
    Part("TEE 8", "Tee piece, size 8"),
    Part("BRKT-L", "Mounting bracket, left"),
    Part("BRKT-R", "Mounting bracket, right"),
    Part("LID-BLU", "Lid, blue", (), "LID"),
    Part("LID-RED", "Lid, red", (), "LID"),
    Part("WSH-12", "Crush washer 12 mm"),
    Part("WSH-14", "Crush washer 14 mm"),
    Part("GSK", "Gasket set, complete", ("seal kit",)),
    Part("Y3", "Y-block, three ports"),
    Part("EHF-90", "Elbow, female to male, 90 degrees"),
)
"""SKUs with underscores, spaces and dots."""
HID_PARTS: Final = (
    Part("FR4-01S", "Rail, four outlets, plain", (), "FR4-01"),
    Part("FR4-01B", "Rail, four outlets, blacked", (), "FR4-01"),
    Part("FR6-01S", "Rail, six outlets, plain", (), "FR6-01"),
    Part("FR6-01B", "Rail, six outlets, blacked", (), "FR6-01"),
    Part("CN-10-06", "Connector 10 to 06"),
    Part("CN-10-08", "Connector 10 to 08"),
    Part("E-6060", "Elbow, swivel"),
    Part("STP10", "Stopper, thread 10", ("bung 10",)),
    Part("STP12", "Stopper, thread 12", ("bung 12",)),
    Part("GG/160", "Glycerine gauge 0-160 psi"),
    Part("GG/100", "Glycerine gauge 0-100 psi"),
    Part("HL-1200", "Hose, lined, 1200 mm"),
    Part("HL-0900", "Hose, lined, 900 mm"),
    Part("RG2", "Regulator, twin port"),
    Part("RG3", "Regulator, triple port"),
    Part("OR_10", "Seal ring 10"),
    Part("OR_12", "Seal ring 12"),
    Part("BT-6-16", "Bolt, hex, 6 x 16"),
    Part("BT-6-25", "Bolt, hex, 6 x 25"),
    Part("NUT6", "Nut, hex, 6"),
    Part("PASTE", "Thread paste, tin"),
    Part("CLMP2", "Clamp, two-eared", ("ear clamp",)),
)
"""SKUs with zeros and slashes; names with ranges."""
ALP_PARTS: Final = (
    Part("A-100.1", "Feed rail, aluminium, short"),
    Part("A-100.2", "Feed rail, aluminium, long"),
    Part("A-110.1", "Feed rail, steel, short"),
    Part("B-20", "Banjo fitting, single"),
    Part("B-21", "Banjo fitting, double"),
    Part("C-6/8", "Coupling, size 6 to size 8"),
    Part("C-8/8", "Coupling, size 8 to size 8"),
    Part("D-1-BLK", "Dust cap, black", (), "D-1"),
    Part("D-1-GRN", "Dust cap, green", (), "D-1"),
    Part("E-5", "End plug", ("plug end",)),
    Part("E-5-V", "End plug, vented"),
    Part("F-40", "Fuel filter, 40 micron"),
    Part("F-10", "Fuel filter, 10 micron"),
    Part("H-06-050", "Hose, size 6, 0.5 m"),
    Part("H-06-100", "Hose, size 6, 1 m"),
    Part("H-08-100", "Hose, size 8, 1 m"),
    Part("P-3", "Pressure sensor, 3 bar"),
    Part("P-10", "Pressure sensor, 10 bar"),
    Part("S-6", "Sealing washer, size 6"),
    Part("S-8", "Sealing washer, size 8"),
    Part("S-10", "Sealing washer, size 10"),
    Part("W-1", "Wiring lead"),
    Part("Z-M6-18", "Screw M6 x 18"),
    Part("Z-M6-25", "Screw M6 x 25"),
    Part("Z-M8-25", "Screw M8 x 25"),
    Part("G-2", "Grease, tube 20 g"),
)
"""A letter a kind."""


def _makers() -> dict[str, OrderReader]:
    """Catalogs of other makers: a line with the cars, then of each part SKU, name, another name, family."""
    readers: dict[str, OrderReader] = {}
    for section in _MAKERS.read_text(encoding="utf-8").split("= ")[1:]:
        head, *rows = section.splitlines()
        name, cars = head.split(": ")
        cells = [[*row.split(" | "), "", ""] for row in rows]
        parts = [Part(x[0], x[1], (x[2],) if x[2] else (), x[3] or None, 1_000) for x in cells]
        readers[name] = OrderReader(Vocabulary(parts, cars.split(", ")))
    return readers


READERS: Final = {
    "seed": OrderReader(Vocabulary(SEED_PARTS, SEED_CARS)),
    "odd": OrderReader(Vocabulary(ODD_PARTS, ("Rover 10",))),
    "third": OrderReader(Vocabulary(THIRD_PARTS, ("Otter 2.0", "otter-20"))),
    "num": OrderReader(Vocabulary(NUM_PARTS, ("Alder 2.0",))),
    "short": OrderReader(Vocabulary(SHORT_PARTS, ("Alder 2.0",))),
    "dot": OrderReader(Vocabulary(DOT_PARTS, ("Alder 2.0",))),
    "ribs": OrderReader(Vocabulary(RIBS_PARTS, ("Alder 2.0", "alder-20", "Yew 3.0", "yew-30"))),
    "mix": OrderReader(Vocabulary(MIX_PARTS, ("Larch 1.8", "larch-18", "Hazel six"))),
    "hid": OrderReader(Vocabulary(HID_PARTS, ("Sorrel 2.5", "sorrel-25", "S25"))),
    "alp": OrderReader(Vocabulary(ALP_PARTS, ("Teal 1.4", "teal-14", "Finch V6"))),
    **_makers(),
}
