"""Ports and the parts that have them."""

from collections.abc import Hashable, Mapping
from dataclasses import dataclass, field
from typing import NamedTuple

from service.domain.engine_side import Regulates
from service.domain.hardware import RailSeats, Ring, Screw, Spacer
from service.domain.lazy import lazy
from service.hydraulics.passage import Passage

OWN_RAIL = "own-rail"
"""The SKU that stands for a rail by somebody else; no catalog may use it."""
OWN_RAIL_NAME = "Your own rail"

OPPOSITE_END = {"male": "female", "female": "male"}


class Opening(NamedTuple):
    """A port as its neighbour sees it: a standard, in one end."""

    standard: str
    end: str

    @property
    def mate(self) -> "Opening":
        """The opening that meets this one: the same standard, the opposite end."""
        return Opening(self.standard, OPPOSITE_END[self.end])


@dataclass(frozen=True, slots=True)
class Port:
    id: str
    opening: Opening
    spot: str | None = None


@dataclass(frozen=True, slots=True)
class Supplied:
    """What comes in an item's box: for a spot of the rail, for a mounting role, or neither."""

    sku: str
    qty: int
    spot: str | None
    role: str | None


@dataclass(frozen=True, slots=True, eq=False)
class Item:
    """Anything with a SKU. Lengths mm, pressures kPa gauge, price in minor units; None: not limited.

    `injectors_mm` and `spots_mm`: where along a rail its injectors and its places are; `hex_mm`: across the flats
    that a wrench takes; `drive`: the key that turns it; `outlet_deg`: how far its second port is turned from straight
    on; `min_bend_mm`: the least radius of a hose, inside its bend; None: not told.
    """

    sku: str
    name: str
    kind: str
    family: str | None
    finish: str | None
    sold: bool
    active: bool
    superseded_by: str | None
    price: int
    stock: int
    lead_days: int
    ports: tuple[Port, ...]
    wetted: tuple[str, ...]
    max_kpa: float | None
    standout_mm: float
    across_mm: float | None
    passage: Passage | None
    patterns: frozenset[str]
    supplied: tuple[Supplied, ...]
    ring: Ring | None = None
    screw: Screw | None = None
    spacer: Spacer | None = None
    seats: RailSeats | None = None
    injectors_mm: tuple[float, ...] = ()
    spots_mm: Mapping[str, float] = field(default_factory=dict)
    hex_mm: float | None = None
    drive: str | None = None
    outlet_deg: float | None = None
    min_bend_mm: float | None = None
    regulates: Regulates | None = None

    @property
    def group(self) -> str:
        """What stands for the item when variants are grouped: its family, else itself."""
        return self.family or self.sku


@dataclass(frozen=True, eq=False)
class RailShape:
    """Rails that differ in nothing that a chain could notice: same ports, same supplied plugs, same bore."""

    spots: dict[str, Opening]
    plugs: dict[str, tuple[Item, ...]]
    passage: Passage | None
    rails: tuple[Item, ...]

    @lazy
    def face(self) -> Hashable:
        """The same for shapes that differ in nothing but their bore."""
        return frozenset(self.spots.items()), frozenset(self.plugs.items())


def own_rail_shape(spots: dict[str, Opening]) -> RailShape:
    """A rail by somebody else, told by its spots: it supplies nothing and nothing is known of its limits."""
    ports = tuple(Port(place, opening, place) for place, opening in spots.items())
    rail = Item(
        sku=OWN_RAIL,
        name=OWN_RAIL_NAME,
        kind="rail",
        family=None,
        finish=None,
        sold=False,
        active=True,
        superseded_by=None,
        price=0,
        stock=0,
        lead_days=0,
        ports=ports,
        wetted=(),
        max_kpa=None,
        standout_mm=0.0,
        across_mm=None,
        passage=None,
        patterns=frozenset(),
        supplied=(),
    )
    return RailShape(spots, {}, None, (rail,))
