"""One published state of the catalog, compiled: everything is found by key, nothing by scanning."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass, field, replace
from typing import Any, Literal, TypeVar

from service.domain.hardware import Gland, PipeTaper, Range
from service.domain.lazy import Lazily, lazy
from service.domain.money import Tax
from service.domain.parts import OWN_RAIL, OWN_RAIL_NAME, Item, Opening, Port, RailShape
from service.domain.vehicles import Addon, Chassis, Layout
from service.engineering.screws import Thread
from service.hydraulics.passage import Fluid

T = TypeVar("T")


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


class SecondLanguage:
    """What a catalog says in a second language. `tag`: as of BCP 47; `tell` gives the texts, and which are left."""

    def __init__(self, tag: str, tell: Callable[[], tuple[Mapping[str, str], AbstractSet[str]]]) -> None:
        self.tag = tag
        self._tell = tell

    @lazy
    def told(self) -> tuple[Mapping[str, str], AbstractSet[str]]:
        """From a text of the catalog to the same in this language; those that have none, but for the cars' names."""
        return self._tell()


@dataclass(frozen=True, slots=True, eq=False)
class ItemIndex:
    """What is found of items before they are compiled; lists of SKUs are in the order of the catalog.

    `by_opening`: from an opening to the items with a port like it; `rails`: from a pattern to its rails; `boxed_in`:
    from a SKU to the items in whose box it comes. Of items that are no rails: `met_by` leads from a kind to the
    openings that items of the kind meet, `led_from` from a kind and the opening of a port to the openings that such an
    item meets with its other ports. `offers` holds each (family, finish) that an active item has; `lower_skus` leads
    from a SKU in lower case to the SKU, where only one is written so; `second_names` from a name to that in the second
    language, which `unnamed` items do not have.
    """

    by_kind: Mapping[str, Sequence[str]]
    by_opening: Mapping[Opening, Sequence[str]]
    by_family: Mapping[str, Sequence[str]]
    rails: Mapping[str, Sequence[str]]
    boxed_in: Mapping[str, Sequence[str]]
    met_by: Mapping[str, AbstractSet[Opening]]
    led_from: Mapping[tuple[str, Opening], AbstractSet[Opening]]
    finishes: AbstractSet[str]
    offers: AbstractSet[tuple[str, str]]
    retired: AbstractSet[str]
    unsold: AbstractSet[str]
    lower_skus: Mapping[str, str]
    second_names: Mapping[str, str] = field(default_factory=dict)
    unnamed: int = 0

    def with_item(self, item: Item) -> "ItemIndex":
        """The index with one more item: no rail, without a family and with nothing in its box."""
        kind, ports = item.kind, [port.opening for port in item.ports]
        by_opening, met_by, led_from = dict(self.by_opening), dict(self.met_by), dict(self.led_from)
        for entry in dict.fromkeys(ports):
            by_opening[entry] = (*by_opening.get(entry, ()), item.sku)
        for met, leaves in led(ports):
            if leaves is None:
                met_by[kind] = {*met_by.get(kind, ()), met}
            else:
                led_from[kind, leaves] = {*led_from.get((kind, leaves), ()), met}
        by_kind = {**self.by_kind, kind: (*self.by_kind.get(kind, ()), item.sku)}
        return replace(self, by_kind=by_kind, by_opening=by_opening, met_by=met_by, led_from=led_from)


def led(ports: Sequence[Opening]) -> Iterator[tuple[Opening, Opening | None]]:
    """Each opening that an item with these ports meets, by itself and with each other port that a chain may leave by;
    of twin ports the first meets."""
    for place, entry in enumerate(ports):
        if entry not in ports[:place]:
            yield entry.mate, None
            yield from ((entry.mate, leaves) for leaves in (*ports[:place], *ports[place + 1 :]))


@dataclass(frozen=True, slots=True, eq=False, weakref_slot=True)
class Revision:
    """A compiled catalog, each part of it as it is first asked for.

    `mating` leads from an opening to every (item, port) that meets it, rails left out; `shapes` from a pattern to its
    rails.
    """

    number: int
    currency: str
    tax: Tax | None
    items: Mapping[str, Item]
    standards: Lazily[str, Standard]
    fuels: Mapping[str, Fuel]
    materials: Mapping[str, Material]
    chassis: Mapping[str, Chassis]
    addons: Mapping[str, Addon]
    layouts: Mapping[str, Layout]
    policies: Policies
    mating: Mapping[Opening, tuple[tuple[Item, Port], ...]]
    shapes: Mapping[str, tuple[RailShape, ...]]
    index: ItemIndex
    second: SecondLanguage | None = None
    _made: dict[Callable[..., Any], Any] = field(init=False, repr=False, default_factory=dict)

    def once(self, make: "Callable[[Revision], T]") -> T:
        """What is made of the revision: the same each time, and kept for as long as the revision is."""
        if make not in self._made:
            self._made.setdefault(make, make(self))
        made: T = self._made[make]
        return made

    def sku_of(self, written: str) -> str:
        """The SKU that is meant, in whatever case it is written; what names none, or several, is returned as it is."""
        if written in self.items or not written.isascii():
            return written
        return self.index.lower_skus.get(written.lower(), written)

    def name_of(self, sku: str) -> str:
        """The name of an item, or of the rail by somebody else."""
        return OWN_RAIL_NAME if sku == OWN_RAIL else self.items[sku].name
