"""A small vocabulary whose names stand in each other's way, and how its orders are told in tests."""

from service.reading.orders import OrderReader
from service.reading.vocabulary import Part, Vocabulary

PARTS = (
    Part("RAIL-S", "Fuel rail, satin", ("long rail",), "RAIL", 24_900),
    Part("RAIL-G", "Fuel rail, graphite", (), "RAIL", 25_900),
    Part("PLUG-8", "Plug for a size 8 boss", (), None, 900),
    Part("PLUG-8-2", "Plug for a size 8 boss, second issue", (), None, 950),
    Part("PLUG-8-NITRILE", "Plug for a size 8 boss, nitrile", ("rubber stopper",), None, 800),
    Part("HOSE-6", "Hose, size 6", (), None, 1_200),
    Part("HOSE-62", "Hose, size 62", (), None, 1_300),
    Part("spigot-5-16", "Quick-connect spigot 5/16 in", (), None, 2_500),
    Part("GAUGE/T", "Pressure gauge 0 to 600 kPa", ("Manomètre",), None, 3_900),
    Part("screw-m6-20", "Screw M6 x 1.0 x 20", (), None, 40),
    Part("4711", "Clip, bought elsewhere", (), None, None),
)
READER = OrderReader(Vocabulary(PARTS, ("Brook 1.6", "brook-16")))

Told = list[tuple[int, str | None, int | None]]


def sure(text: str) -> Told:
    """(row, SKU, quantity) of each line that is sure."""
    return [(line.row, line.sku, line.qty) for line in READER.read(text).lines if line.sure]


def doubtful(text: str) -> list[int]:
    """The rows of the lines that are asked back."""
    return [line.row for line in READER.read(text).lines if not line.sure]
