"""What the solver returns: bills and rejections as facts, not yet in words."""

from collections import Counter
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass

from service.domain.chains import Chain
from service.domain.findings import Rejection
from service.domain.flows import FlowDemand, PathFlow
from service.domain.lazy import lazy
from service.domain.margins import Margin
from service.domain.parts import Item
from service.domain.request import Request, SpotSituation
from service.domain.vehicles import Duty
from service.domain.why_not import WhyNot


@dataclass(frozen=True, slots=True, eq=False)
class PlacedChain:
    """A chain at its spot. `choices`: for each of its items the SKUs that would do as well in the bill's group."""

    spot: str
    chain: Chain
    supplied: bool
    choices: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, eq=False)
class BillParts:
    """What a valid bill holds, whatever flows in it: a rail (one per bank), a duty and a chain for every spot; a link's
    chain once. Mostly one object for the bills of all powers, so that what hangs on it is worked out once.

    `situations` are those that the chains were judged in, by their spots.
    """

    rail: Item
    rail_choices: tuple[str, ...]
    banks: int
    placement: int
    duties: Mapping[str, Duty]
    chains: tuple[PlacedChain, ...]
    situations: Mapping[str, SpotSituation]
    price: int
    pieces: int
    lead_days: int

    @lazy
    def joints(self) -> Counter[str]:
        """How many joints of each port standard are made, those on hookups and far spots included."""
        made: list[str] = []
        for placed in self.chains:
            made += placed.chain.standards
            target = self.situations[placed.spot].target
            if target is not None:
                made.append(target.standard)
        return Counter(made)

    @lazy
    def side_plugs(self) -> frozenset[str]:
        """The SKUs that, of the chains that carry fuel, only close side ports: none runs through them."""
        flowing = [placed for placed in self.chains if self.situations[placed.spot].target is not None]
        links = [link for placed in flowing for link in placed.chain.links]
        return frozenset(link.item.sku for link in links if link.side) - {x.item.sku for x in links if not x.side}


@dataclass(frozen=True, eq=False)
class Bill:
    """A valid bill: its parts, what flows in them and what that leaves."""

    parts: BillParts
    carried: FlowDemand
    paths: tuple[PathFlow, ...]
    find_margins: Callable[[], tuple[Margin, ...]]

    @property
    def rail(self) -> Item:
        return self.parts.rail

    @property
    def rail_choices(self) -> tuple[str, ...]:
        return self.parts.rail_choices

    @property
    def banks(self) -> int:
        return self.parts.banks

    @property
    def placement(self) -> int:
        return self.parts.placement

    @property
    def duties(self) -> Mapping[str, Duty]:
        return self.parts.duties

    @property
    def chains(self) -> tuple[PlacedChain, ...]:
        return self.parts.chains

    @property
    def situations(self) -> Mapping[str, SpotSituation]:
        return self.parts.situations

    @property
    def price(self) -> int:
        return self.parts.price

    @property
    def pieces(self) -> int:
        return self.parts.pieces

    @property
    def lead_days(self) -> int:
        return self.parts.lead_days

    @property
    def joints(self) -> Counter[str]:
        return self.parts.joints

    @property
    def side_plugs(self) -> frozenset[str]:
        return self.parts.side_plugs

    @lazy
    def margins(self) -> tuple[Margin, ...]:
        """What is left of its limits, worked out when it is asked for."""
        return self.find_margins()


@dataclass(frozen=True, eq=False)
class Answer:
    """The answer to a request: how many bills there are, the best of them, what stops other parts, and what to change
    where there are none.

    Which bills are the best, and in which order, is settled; what each holds, and the latter two, are worked out when
    they are asked for, which not every caller does.
    """

    request: Request
    total_valid: int
    build: Callable[[], Iterable[Bill]]
    gather_rejections: Callable[[], tuple[Rejection, ...]]
    advise: Callable[[], WhyNot]

    @lazy
    def bills(self) -> tuple[Bill, ...]:
        return tuple(self.build())

    @lazy
    def why_not(self) -> WhyNot:
        return self.advise()

    @lazy
    def rejections(self) -> tuple[Rejection, ...]:
        return self.gather_rejections()
