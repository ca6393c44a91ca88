"""Choices by the units that they need, a bit for each: what an order makes of them is told by a few ANDs."""

from abc import ABC, abstractmethod
from collections.abc import Iterator, Mapping
from functools import lru_cache
from itertools import pairwise
from typing import NamedTuple

import numpy as np

from service.domain.lazy import lazy
from service.domain.work import spend
from service.solver.judge.arrays import present
from service.solver.judge.chain_rows import Ints
from service.solver.judge.options import Choice, Choices, units_at
from service.solver.judge.picked import CHAINS_A_STEP, Picked
from service.solver.judge.tables import Mask, bits, first_of, mask_at, mask_of

_KEPT_UNITS = 1024

Counts = Mapping[int, Mask]
"""By how many units choices need, the choices that need them; those that need none are left out."""


class Plain(NamedTuple):
    """What a choice costs where nothing of it is ordered or had: units that we sell, their price, all units."""

    sold_units: int
    price: int
    pieces: int


class UnitTable(ABC):
    """Choices by plain cost, then by their texts: bit n stands for the choice at n.

    So the lowest bit of a mask is the choice that is cheapest to add, and of several alike the one that is told first.
    `costs`: a row for each, with the fields of its plain cost.
    """

    def __init__(self, costs: Ints) -> None:
        self._costs = costs
        self._size = len(costs)
        self.whole: Mask = (1 << self._size) - 1
        self.units_of = lru_cache(_KEPT_UNITS)(self._units_of)
        begins = np.flatnonzero(np.append(True, (costs[1:] != costs[:-1]).any(axis=1))[: self._size])
        self._begins: list[int] = [*begins.tolist(), self._size]
        sold = np.flatnonzero(np.append(True, costs[1:, 0] != costs[:-1, 0])[: self._size])
        self._by_sold = [_between(*ends) for ends in zip(sold.tolist(), [*sold.tolist()[1:], self._size], strict=True)]

    @abstractmethod
    def choice(self, place: int) -> Choice:
        """The choice at a place."""

    @abstractmethod
    def may_need(self, sku: str) -> bool:
        """Whether a SKU has to be got for any of the choices."""

    @abstractmethod
    def _units_of(self, sku: str) -> Counts:
        """The choices that need a SKU, by how many units of it."""

    @abstractmethod
    def at_spots(self, sku: str, spots: frozenset[str] | None) -> Counts:
        """How many units of a SKU stand at these spots (None: anywhere)."""

    def cheapest(self, mask: Mask) -> Plain:
        """The least plain cost among these choices."""
        return self._cost(first_of(mask))

    def _cost(self, place: int) -> Plain:
        return Plain(*self._costs[place].tolist())

    def each_cheapest(self, mask: Mask) -> Iterator[Plain]:
        """Of these choices the least plain cost for each number of sold units; of more only where it is less."""
        lowest: int | None = None
        for having in self._by_sold:
            if mask & having:
                cost = self._cost(first_of(mask & having))
                if lowest is None or cost.price < lowest:
                    lowest = cost.price
                    yield cost

    def at(self, mask: Mask, cost: Plain) -> Iterator[Choice]:
        """The choices of a mask at a plain cost, in the order of their texts."""
        begin, end = self._ends[cost]
        return map(self.choice, bits(mask & _between(begin, end)))

    @lazy
    def _ends(self) -> dict[Plain, tuple[int, int]]:
        """Where the choices of each plain cost begin and end."""
        return {self._cost(begin): (begin, end) for begin, end in pairwise(self._begins)}


class ListedUnits(UnitTable):
    """Choices that are there as objects."""

    def __init__(self, choices: Choices) -> None:
        spend(choices.size, "order")
        priced = sorted([(*_plain(choice), choice.texts, place) for place, choice in enumerate(choices.all)])
        super().__init__(np.array([one[:3] for one in priced], np.int64).reshape(-1, 3))
        self._choices = [choices.all[one[-1]] for one in priced]
        self._most_units = choices.most_units

    def choice(self, place: int) -> Choice:
        return self._choices[place]

    def may_need(self, sku: str) -> bool:
        return sku in self._most_units

    def _units_of(self, sku: str) -> Counts:
        return self._counts(sku, None)

    def at_spots(self, sku: str, spots: frozenset[str] | None) -> Counts:
        return self._counts(sku, spots)

    def _counts(self, sku: str, spots: frozenset[str] | None) -> Counts:
        found: dict[int, list[int]] = {}
        for place, choice in enumerate(self._choices if self.may_need(sku) else ()):
            units = units_at(choice, sku, spots)
            if units:
                found.setdefault(units, []).append(place)
        return {units: mask_at(places, self._size) for units, places in found.items()}


class PickedUnits(UnitTable):
    """Choices that are told by columns."""

    def __init__(self, choices: Picked) -> None:
        spend(1 + choices.size // CHAINS_A_STEP, "order")
        price, pieces, _, sold_units = choices.costs
        text = choices.figures.text_order[choices.places]
        self._order = np.lexsort((text, pieces, price, sold_units))
        super().__init__(np.stack((sold_units, price, pieces), axis=1)[self._order])
        self._picked = choices

    def choice(self, place: int) -> Choice:
        return self._picked.at(int(self._order[place]))

    def may_need(self, sku: str) -> bool:
        return sku in self._picked.most_units

    def _units_of(self, sku: str) -> Counts:
        units = self._picked.units_of(sku)[self._order]
        return {count: mask_of(units == count) for count in present(units) if count}

    def at_spots(self, sku: str, spots: frozenset[str] | None) -> Counts:
        return self.units_of(sku) if spots is None or self._picked.table.spot in spots else {}


def unit_table(choices: Choices) -> UnitTable:
    return PickedUnits(choices) if isinstance(choices, Picked) else ListedUnits(choices)


def _plain(choice: Choice) -> Plain:
    return Plain(sum([len(option.bought) for option in choice.options]), choice.price, choice.pieces)


def _between(begin: int, end: int) -> Mask:
    return (1 << end) - (1 << begin)
