"""The car and what is bolted on: hookups, clearances, mounting parts, add-ons; and how fuel runs: layouts."""

from dataclasses import dataclass
from typing import Literal, NamedTuple

from service.domain.engine_side import NOT_TOLD, ChassisRegulator, Injectors, Manifold, Pump, Tank
from service.domain.parts import Opening
from service.hydraulics.passage import Passage

OWN_HOSE = "own-hose"
HOOKUP_WORDS = {"factory-line": "factory line", "bulkhead": "bulkhead line", OWN_HOSE: "your own hose"}
"""Hookups as a sentence calls them; a chassis may name others, which stand for themselves."""

Duty = Literal["feed", "return", "link", "gauge", "closed"]


class Reach(NamedTuple):
    """The window, as standout from the spot in mm, in which a hookup is reached."""

    min_mm: float
    max_mm: float


@dataclass(frozen=True, slots=True)
class Hookup:
    """An end that the car, or the customer's own hose, offers; `reaches` None: reached from every spot.

    `hex_mm`: across the flats of an own hose's nut; `min_bend_mm`: its least radius, inside its bend; None: not told.
    """

    kind: str
    opening: Opening
    passage: Passage | None
    reaches: dict[str, Reach] | None = None
    hex_mm: float | None = None
    min_bend_mm: float | None = None


@dataclass(frozen=True, slots=True)
class Clearance:
    spot: str
    axial_mm: float | None
    across_mm: float | None


@dataclass(frozen=True, slots=True)
class Mounting:
    role: str
    sku: str
    qty: int
    optional: bool = False


@dataclass(frozen=True, slots=True, eq=False)
class Chassis:
    id: str
    name: str
    banks: int
    pattern: str
    base_kpa: float
    stock_kw: float
    hookups: dict[str, Hookup]
    clearances: tuple[Clearance, ...]
    mounting: tuple[Mounting, ...]
    cylinders: int = 0
    pump: Pump | None = None
    injectors: Injectors | None = None
    regulator: ChassisRegulator = NOT_TOLD
    manifold: Manifold | None = None
    tank: Tank | None = None

    def on_banks(self, place: str) -> tuple[str, ...]:
        """The spots that a place of the rail stands for: itself, or one on each bank."""
        return (place,) if self.banks == 1 else tuple(f"{bank}.{place}" for bank in range(1, self.banks + 1))


class Fastener(NamedTuple):
    sku: str
    qty: int


@dataclass(frozen=True, slots=True, eq=False)
class Addon:
    """Equipment on the car; `fasteners` hold it on, none: not told."""

    id: str
    name: str
    chassis: frozenset[str]
    boost_kpa: float
    clearances: tuple[Clearance, ...]
    mounting: tuple[Mounting, ...]
    raises_seat_mm: float = 0.0
    fasteners: tuple[Fastener, ...] = ()


@dataclass(frozen=True, slots=True)
class DutyEntry:
    """What a spot does in a placement; `own_hose` is the hookup that the layout itself gives."""

    duty: Duty
    hookup_kind: str | None
    own_hose: Hookup | None
    to_spot: str | None
    via: tuple[str, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Layout:
    id: str
    name: str
    summary: str
    banks: int
    placements: tuple[dict[str, DutyEntry], ...]


def bank_of(spot: str) -> str:
    """The bank prefix of a spot, '' on a one-bank engine."""
    return spot.partition(".")[0] if "." in spot else ""


def place_of(spot: str) -> str:
    """The place on the rail that a spot names."""
    return spot.rpartition(".")[2]
