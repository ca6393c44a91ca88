"""What the solver returns: bills and rejections as facts, not yet in words."""

from collections.abc import Mapping
from dataclasses import dataclass

from service.domain.chains import Chain
from service.domain.findings import Rejection
from service.domain.flows import FlowDemand, PathFlow
from service.domain.parts import Item
from service.domain.request import Request, SpotSituation
from service.domain.vehicles import Duty


@dataclass(frozen=True, slots=True, eq=False)
class PlacedChain:
    """A chain at its spot. `choices`: for each of its items the SKUs that would do as well in the bill's group."""

    situation: SpotSituation
    chain: Chain
    supplied: bool
    choices: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True, eq=False)
class Bill:
    """A valid bill: a rail (one per bank), a duty and a chain for every spot; a link's chain once."""

    rail: Item
    rail_choices: tuple[str, ...]
    banks: int
    placement: int
    duties: Mapping[str, Duty]
    chains: tuple[PlacedChain, ...]
    price: int
    pieces: int
    lead_days: int
    carried: FlowDemand
    paths: tuple[PathFlow, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Answer:
    """The answer to a request: how many bills there are, the best of them, and what stops other parts."""

    request: Request
    total_valid: int
    bills: tuple[Bill, ...]
    rejections: tuple[Rejection, ...]
