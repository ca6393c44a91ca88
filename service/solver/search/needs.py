"""What choices take of all that is limited: each combination once, with the choices that take it."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass

import numpy as np

from service.domain.work import spend
from service.solver.judge.arrays import unique_rows
from service.solver.judge.chain_rows import Ints
from service.solver.judge.options import Choice, Choices
from service.solver.judge.picked import CHAINS_A_STEP, Picked
from service.solver.search.limits import Limits, Needs, least


@dataclass(frozen=True, eq=False)
class NeedsTable:
    """`places`: by needs, a number for the choices with them."""

    choices: Choices
    places: Mapping[Needs, int]
    kinds: Ints
    """By choice, the number of its needs."""

    @property
    def least(self) -> frozenset[Needs]:
        """Those that no other one undercuts in everything."""
        return least(self.places)

    def having(self, needs: Collection[Needs]) -> Choices:
        """The choices with some of these needs."""
        wanted = np.zeros(len(self.places), np.bool_)
        wanted[[self.places[need] for need in needs]] = True
        chosen = wanted[self.kinds]
        if isinstance(self.choices, Picked):
            return self.choices.at_indices(chosen)
        return Choices(choice for choice, is_chosen in zip(self.choices.all, chosen.tolist(), strict=True) if is_chosen)


def needs_of(choices: Choices, limits: Limits) -> NeedsTable:
    """The needs of all choices."""
    if isinstance(choices, Picked):
        spend(choices.size // CHAINS_A_STEP, "bills")
        rows, kinds = unique_rows(choices.needs(limits))
        return NeedsTable(choices, {tuple(row): number for number, row in enumerate(rows.tolist())}, kinds)
    spend(choices.size, "bills")
    return _of_listed(choices, choices.all, limits)


def _of_listed(choices: Choices, listed: Collection[Choice], limits: Limits) -> NeedsTable:
    places: dict[Needs, int] = {}
    kinds = [places.setdefault(limits.of(choice), len(places)) for choice in listed]
    return NeedsTable(choices, places, np.array(kinds, np.int64))
