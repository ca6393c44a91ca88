"""The way that fuel takes through a bill, station by station, and what each loses; drops over power."""

from dataclasses import dataclass
from typing import Literal

from service.domain.flows import PathFlow
from service.domain.parts import Item
from service.domain.vehicles import Duty

StationKind = Literal["hookup", "part", "side-plug", "rail"]


@dataclass(frozen=True, slots=True)
class Station:
    """A thing that fuel runs through, or past: `drop_kpa` None: its flow is not rated.

    `item` None: the hose or line behind the hookup. `lost_kpa`: what all that is rated has lost from the path's start
    to behind this; `kpa`: gauge pressure behind it, None where something not rated lies between it and the place whose
    pressure is known.
    """

    kind: StationKind
    item: Item | None
    regulates: bool
    drop_kpa: float | None
    lost_kpa: float
    kpa: float | None


@dataclass(frozen=True, slots=True)
class PathProfile:
    """A path with its stations as fuel meets them. `start_kpa`: gauge before the first, None where not known."""

    path: PathFlow
    hookup_kind: str | None
    start_kpa: float | None
    stations: tuple[Station, ...]


@dataclass(frozen=True, slots=True)
class Profiles:
    """All paths of a bill; `held_kpa`: what the regulator holds, as over the manifold where that is not told;
    `hangs`: it is not, and boost makes it matter; `rail_kpa`: gauge in the rail that the feeds enter, None where it is
    not known."""

    held_kpa: float
    hangs: bool
    rail_kpa: float | None
    paths: tuple[PathProfile, ...]


@dataclass(frozen=True, slots=True)
class DropPoint:
    """The path that is nearest to its limit of drop at a power, and whether all paths keep all limits."""

    power_kw: float
    demand_l_h: float
    duty: Duty
    spots: tuple[str, ...]
    flow_l_h: float
    drop_kpa: float
    limit_kpa: float
    within: bool

    @property
    def part(self) -> float:
        """Drop over limit."""
        return self.drop_kpa / self.limit_kpa


@dataclass(frozen=True, slots=True)
class CurveEnds:
    """The points of a curve at what its bill carries, and at what its plumbing does; None: not known."""

    carried: DropPoint | None
    of_plumbing: DropPoint | None
