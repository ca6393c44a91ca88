"""One published state of the catalog, compiled: everything is found by key, nothing by scanning."""

from dataclasses import dataclass
from typing import Literal

from service.domain.hardware import Gland, PipeTaper, Range
from service.domain.parts import OWN_RAIL, OWN_RAIL_NAME, Item, Opening, Port, RailShape
from service.domain.vehicles import Addon, Chassis, Layout
from service.engineering.screws import Thread
from service.hydraulics.passage import Fluid


@dataclass(frozen=True, slots=True, eq=False)
class Fuel:
    """A fuel; BSFC in g/kWh, naturally aspirated and boosted; vapour pressure as pairs of [degC, kPa absolute].

    `cautions`: what to mind with this fuel, whatever is built.
    """

    id: str
    name: str
    fluid: Fluid
    bsfc_na_g_kwh: float
    bsfc_boosted_g_kwh: float
    heat_capacity_j_kg_k: float | None = None
    vapour: tuple[tuple[float, float], ...] = ()
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, eq=False)
class Material:
    id: str
    name: str
    ratings: dict[str, str]
    min_c: float
    max_c: float
    conductivity_w_m_k: float | None = None
    expansion_1_k: float | None = None
    shear_mpa: float | None = None


Method = Literal["torque", "past-hand-tight", "flange-to-face", "turns-engaged", "push-to-click"]


@dataclass(frozen=True, slots=True)
class MakeUp:
    """How tight a joint: torque N·m, degrees past hand-tight, threads and turns; None: not told, or not its way."""

    method: Method
    min_nm: float | None = None
    max_nm: float | None = None
    min_deg: float | None = None
    max_deg: float | None = None
    min_threads: float | None = None
    max_threads: float | None = None
    turns_past_hand: float | None = None


@dataclass(frozen=True, slots=True, eq=False)
class Joint:
    """How a joint is made up: how tight, what it consumes, what to mind, and where the figures come from."""

    id: str
    make_up: MakeUp
    consumables: tuple[str, ...]
    spare_seals: tuple[str, ...]
    cautions: tuple[str, ...]
    source: str


@dataclass(frozen=True, slots=True, eq=False)
class Standard:
    id: str
    name: str
    family: str
    size: str
    seal: str
    joint: Joint
    thread: Thread | None = None
    gland: Gland | None = None
    taper: PipeTaper | None = None


@dataclass(frozen=True, slots=True)
class Policies:
    """What decides a bill's validity, then the limits beyond which it is cautioned of, where the maker has set them."""

    max_chain: int
    flow_margin: float
    max_feed_drop_kpa: float
    max_return_drop_kpa: float
    max_velocity_m_s: float
    recirculation: float
    vapour_margin_kpa: float | None = None
    seal_insertion_mm: float | None = None
    squeeze: Range | None = None
    max_gland_fill: float | None = None
    max_proof_part: float | None = None
    max_spread_percent: float | None = None
    power_reserve: float | None = None


@dataclass(frozen=True, slots=True, eq=False, weakref_slot=True)
class Revision:
    """A compiled catalog.

    `mating` leads from an opening to every (item, port) that meets it, rails left out; `shapes` from a pattern to its
    rails; `offers` holds each (family, finish) that an active item has; `lower_skus` leads from a SKU in lower case to
    the SKU, where only one is written so.
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
    lower_skus: dict[str, str]

    def sku_of(self, written: str) -> str:
        """The SKU that is meant, in whatever case it is written; what names none, or several, is returned as it is."""
        if written in self.items or not written.isascii():
            return written
        return self.lower_skus.get(written.lower(), written)

    def name_of(self, sku: str) -> str:
        """The name of an item, or of the rail by somebody else."""
        return OWN_RAIL_NAME if sku == OWN_RAIL else self.items[sku].name
