"""One published state of the catalog, compiled: everything is found by key, nothing by scanning."""

from dataclasses import dataclass

from service.domain.parts import Item, Opening, Port, RailShape
from service.domain.vehicles import Addon, Chassis, Layout
from service.hydraulics.passage import Fluid


@dataclass(frozen=True, slots=True, eq=False)
class Fuel:
    """A fuel; BSFC in g/kWh, naturally aspirated and boosted."""

    id: str
    name: str
    fluid: Fluid
    bsfc_na_g_kwh: float
    bsfc_boosted_g_kwh: float


@dataclass(frozen=True, slots=True, eq=False)
class Material:
    id: str
    name: str
    ratings: dict[str, str]


@dataclass(frozen=True, slots=True, eq=False)
class Joint:
    """How a joint is made up, as far as a bill needs it: what it consumes and what to mind."""

    consumables: tuple[str, ...]
    spare_seal: str | None
    cautions: tuple[str, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Standard:
    id: str
    name: str
    seal: str
    joint: Joint


@dataclass(frozen=True, slots=True)
class Policies:
    max_chain: int
    flow_margin: float
    max_feed_drop_kpa: float
    max_return_drop_kpa: float
    max_velocity_m_s: float
    recirculation: float


@dataclass(frozen=True, slots=True, eq=False)
class Revision:
    """A compiled catalog.

    `mating` leads from an opening to every (item, port) that meets it, rails left out; `shapes` from a pattern to its
    rails; `offers` holds each (family, finish) that an active item has.
    """

    number: int
    currency: str
    items: dict[str, Item]
    standards: dict[str, Standard]
    fuels: dict[str, Fuel]
    materials: dict[str, Material]
    chassis: dict[str, Chassis]
    addons: dict[str, Addon]
    layouts: dict[str, Layout]
    policies: Policies
    mating: dict[Opening, tuple[tuple[Item, Port], ...]]
    shapes: dict[str, tuple[RailShape, ...]]
    offers: frozenset[tuple[str, str]]
