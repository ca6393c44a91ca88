"""The steps to a bill of a setup against an order: the choice of a rail, then one of each component.

A tie is charged with the last step that may need it, and forgotten then.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import reduce
from operator import or_

from service.domain.orders import NOTHING, Cost
from service.domain.parts import Item
from service.solver.judge.options import Choices
from service.solver.orders.ledger import Ledger, Offer, RailOffer, Ties, TieUnits
from service.solver.search.limits import Scarce

ChoiceColumns = tuple[Choices, ...]
"""Choices that one is taken of each, together."""


@dataclass(eq=False)
class Stage:
    """The choice of one of each of some choices. `place`: of the component that they make; `columns`: with these the
    SKUs that each alone may need, and what ties it; `tied`: all that ties the step to others; `ends`: the fields of
    the ties that no later step needs."""

    place: int
    columns: tuple[tuple[Choices, Ties, Ties], ...]
    tied: Ties
    ends: TieUnits = 0


class Stages:
    """A rail, and choices that are made apart from each other: those that are tied first, the largest before others."""

    def __init__(
        self,
        rails: tuple[Item, ...],
        banks: int,
        components: Sequence[ChoiceColumns],
        scarce: Sequence[Scarce],
        ledger: Ledger,
    ) -> None:
        self.ledger = ledger
        self.rails = rails
        self._banks = banks
        owning = [[ledger.own(choices) for choices in columns] for columns in components]
        once: Ties = 0
        shared: Ties = 0
        for own in (own for each in owning for own in each):
            shared |= once & own
            once |= own
        stages = []
        for place, (columns, owned) in enumerate(zip(components, owning, strict=True)):
            kept = []
            for choices, own in zip(columns, owned, strict=True):
                tied = own & shared
                if scarce:
                    tied |= ledger.scarce(choices, scarce)
                kept.append((choices, own & ~shared, tied))
            stages.append(Stage(place, tuple(kept), _union(tied for *_, tied in kept)))
        self.stages = sorted(stages, key=lambda stage: (not stage.tied, -sum(x.size for x, *_ in stage.columns)))
        later: TieUnits = 0
        for stage in reversed(self.stages):
            needed = ledger.fields(stage.tied)
            stage.ends = needed & ~later
            later |= needed
        self._scarce = ledger.scarce_fields & later

    def offers(self, stage: Stage, *, priced: bool) -> list[Offer]:
        return self.ledger.of_choices(stage.columns, priced=priced)

    def rail_offers(self, *, priced: bool) -> list[RailOffer]:
        return self.ledger.of_rails(self.rails, self._banks, priced=priced)

    def joined(self, stage: Stage, units: TieUnits) -> tuple[TieUnits, Cost] | None:
        """After a step in which this was reached: what later steps have to know of it, and what the ties that end
        there cost; None where it is more than there may be."""
        if self._scarce & units and not self.ledger.allows(units & self._scarce):
            return None
        ending = units & stage.ends
        return (units ^ ending, self.ledger.extra_of(ending)) if ending else (units, NOTHING)


def _union(ties: Iterable[Ties]) -> Ties:
    return reduce(or_, ties, 0)
