"""The steps to a bill of a world against an order: the choice of a rail, then one of each component.

A tie is charged with the last step that may need it, and forgotten then.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import reduce
from operator import or_

from service.domain.orders import NOTHING, Cost
from service.domain.parts import Item
from service.solver.limits import Scarce
from service.solver.options import Choices
from service.solver.orders.ledger import Ledger, Offer, RailOffer, Ties, Units

Columns = tuple[Choices, ...]
"""Choices that one is taken of each, together."""


@dataclass(eq=False)
class Step:
    """The choice of one of each of some choices. `place`: of the component that they make; `columns`: with these the
    SKUs that each alone may need, and what ties it; `tied`: all that ties the step to others; `ends`: the fields of
    the ties that no later step needs."""

    place: int
    columns: tuple[tuple[Choices, Ties, Ties], ...]
    tied: Ties
    ends: Units = 0


class Steps:
    """A rail, and choices that are made apart from each other: those that are tied first, the largest before others."""

    def __init__(
        self,
        rails: tuple[Item, ...],
        banks: int,
        components: Sequence[Columns],
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
        steps = []
        for place, (columns, owned) in enumerate(zip(components, owning, strict=True)):
            kept = []
            for choices, own in zip(columns, owned, strict=True):
                tied = own & shared
                if scarce:
                    tied |= ledger.scarce(choices, scarce)
                kept.append((choices, own & ~shared, tied))
            steps.append(Step(place, tuple(kept), _union(tied for *_, tied in kept)))
        self.steps = sorted(steps, key=lambda step: (not step.tied, -sum(x.size for x, *_ in step.columns)))
        later: Units = 0
        for step in reversed(self.steps):
            needed = ledger.fields(step.tied)
            step.ends = needed & ~later
            later |= needed
        self._scarce = ledger.scarce_fields & later

    def offers(self, step: Step, *, priced: bool) -> list[Offer]:
        return self.ledger.of_choices(step.columns, priced=priced)

    def rail_offers(self, *, priced: bool) -> list[RailOffer]:
        return self.ledger.of_rails(self.rails, self._banks, priced=priced)

    def joined(self, step: Step, units: Units) -> tuple[Units, Cost] | None:
        """After a step in which this was reached: what later steps have to know of it, and what the ties that end
        there cost; None where it is more than there may be."""
        if self._scarce & units and not self.ledger.allows(units & self._scarce):
            return None
        ending = units & step.ends
        return (units ^ ending, self.ledger.extra_of(ending)) if ending else (units, NOTHING)


def _union(ties: Iterable[Ties]) -> Ties:
    return reduce(or_, ties, 0)
