"""Some of the chains of a table as the choices of a spot: told by columns, made as objects only where looked at."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from collections.abc import Set as AbstractSet
from functools import partial
from sys import maxsize
from typing import NamedTuple

import numpy as np

from service.domain.chains import Run
from service.domain.lazy import lazy
from service.domain.parts import Item
from service.domain.work import TooCostlyError, spend
from service.hydraulics import Passage
from service.solver.judge.arrays import combined, number_of, present, ranked, times_in, unique_ints
from service.solver.judge.chain_rows import Bools, Floats, Ints
from service.solver.judge.columns import Columns, Costs
from service.solver.judge.options import NO_PART, Choice, Choices, Group, Option
from service.solver.judge.shelf import Shelf
from service.solver.judge.tables import ChainTable, Mask, mask_of, mask_of_places, places_in
from service.solver.search.limits import Limits, Needs

MOST_LISTED = 20_000
"""So many choices of a spot are made as objects at once at most. One takes about two kilobytes."""
CHAINS_A_STEP = 128
"""So many chains are looked at in a column or two for what a step takes."""
PASSES_OF_A_TABLE = 8
"""So many times as much it takes to make a table and to find which chains keep the rules."""

MOST_PICKED = 4_000_000
"""Of the sets of chains that a revision's tables keep together: so many chains in all, a set counted as `_OF_A_SET`
besides. So 4,000 small sets of some kilobytes each are kept, and 20 of the largest there are."""

_OF_A_SET = 1_000
_FEW = 64
"""So few are compared one by one sooner than as columns."""
_KEPT_CHOICES = 4096


class SpotTable:
    """The chains of a spec at one spot, as choices; each set of them is put together once. `shelf`: keeps the sets of
    all tables."""

    def __init__(self, chains: ChainTable, spot: str, shelf: "Shelf[Picked]") -> None:
        self.chains = chains
        self.spot = spot
        self._shelf = shelf
        self._made: dict[tuple[int, bool], Choice] = {}

    def choice(self, place: int, *, supplied: bool) -> Choice:
        """The choice of a chain; `supplied`: its first item comes with the rail."""
        made = self._made.get((place, supplied))
        if made is None:
            if len(self._made) >= _KEPT_CHOICES:
                self._made.clear()
            made = Choice((Option(self.spot, self.chains.chains[place], supplied=supplied),))
            self._made[place, supplied] = made
        return made

    def picked(self, mask: Mask, supplied: bool) -> "Picked":
        """The choices of a set of chains; `supplied`: their first items come with the rail."""
        key = (self, mask, supplied)
        found = self._shelf.get(key)
        if found is None:
            made = Picked(self, mask, supplied=supplied)
            found = self._shelf.put(key, made, _OF_A_SET + mask.bit_count())
        return found


class RunsOfBores(NamedTuple):
    """Runs of the same bores: passages that lose no more than any of them at any flow, and no less; one that loses
    little; and all of them, for who asks."""

    least: tuple[Passage, ...]
    most: tuple[Passage, ...]
    lean: Run
    find: Callable[[], Sequence[Run]]


class Picked(Choices):
    """The choices of a set of the chains of a table."""

    def __init__(self, table: SpotTable, mask: Mask, *, supplied: bool) -> None:
        super().__init__(())
        self.table = table
        self.mask = mask
        self.supplied = supplied
        self.figures: Columns = table.chains.columns
        self.counted: dict[tuple[Limits, bool], list[tuple[frozenset[Needs], Ints]]] = {}
        """By limits and whether variants are grouped, what is kept of their count."""
        self._known_groups: dict[tuple[Group, ...], bool] = {}
        self._hash = hash((table, mask, supplied))

    def __eq__(self, other: object) -> bool:
        """By value, so that what is counted once in a question is, though a set was made anew within it."""
        if not isinstance(other, Picked):
            return NotImplemented
        return self.table is other.table and self.supplied == other.supplied and self.mask == other.mask

    def __hash__(self) -> int:
        return self._hash

    @lazy
    def places(self) -> Ints:
        return places_in(self.mask)

    def at(self, index: int) -> Choice:
        """The choice at a place among these."""
        return self.table.choice(int(self.places[index]), supplied=self.supplied)

    def within(self, mask: Mask) -> "Picked":
        """Those of them in a mask."""
        return self.table.picked(self.mask & mask, self.supplied)

    def with_item(self, item: Item, _position: int = 0, /) -> "Picked":
        return self.within(self.table.chains.holding(item))

    @lazy
    def all(self) -> tuple[Choice, ...]:
        if self.size > MOST_LISTED:
            raise TooCostlyError(MOST_LISTED, "chains")
        return tuple([self.table.choice(place, supplied=self.supplied) for place in self.places.tolist()])

    @lazy
    def size(self) -> int:
        return self.mask.bit_count()

    @lazy
    def number_of_groups(self) -> int:
        return number_of(self.figures.groups[self.places])

    @lazy
    def runs(self) -> tuple[Run, ...]:
        """What they are to the fuel, each once."""
        return self._runs_at(self.places)

    def _runs_at(self, places: Ints) -> tuple[Run, ...]:
        _, _, first = unique_ints(self.figures.passages[places])
        chains = self.table.chains.chains
        return tuple(dict.fromkeys([chains[place].run for place in places[np.sort(first)].tolist()]))

    @lazy
    def leanest_runs(self) -> tuple[Run, ...]:
        """Those that no other one of the same bores undercuts in all that it loses."""
        return super().leanest_runs if self.size <= _FEW else _leanest(self)

    @lazy
    def runs_by_bores(self) -> tuple["RunsOfBores", ...]:
        """Their runs, those of the same bores together."""
        lengths, losses, has = self.figures.ways.at(self.places)
        chains = self.table.chains.chains
        found = []
        for own in alike_in(has):
            lean = own[np.lexsort((lengths[own].sum(axis=1), losses[own].sum(axis=1)))[0]]
            bores = [(number, bore) for number, bore in enumerate(self.figures.bores) if has[own[0], number]]
            least, most = (
                tuple(
                    Passage(bore_m, float(choose(lengths[own, n])), float(choose(losses[own, n])), roughness_m)
                    for n, (bore_m, roughness_m) in bores
                )
                for choose in (np.min, np.max)
            )
            run = chains[int(self.places[lean])].run
            found.append(RunsOfBores(least, most, run, partial(self._runs_at, self.places[own])))
        return tuple(found)

    # --- costs -------------------------------------------------------------------------------------------------

    @lazy
    def costs(self) -> Costs:
        costs = self.figures.beyond_first if self.supplied else self.figures.bought
        return Costs(*[column[self.places] for column in costs])

    @property
    def start(self) -> int:
        """The place in a chain from which on items have to be got."""
        return int(self.supplied)

    @lazy
    def needed(self) -> Ints:
        """By choice the numbers of the items that have to be got."""
        return self.figures.parts[self.places, self.start :]

    @lazy
    def lowest_price(self) -> int:
        return int(self.costs.price.min())

    @lazy
    def highest_price(self) -> int:
        return int(self.costs.price.max())

    def units_of(self, sku: str) -> Ints:
        """By choice the units of a SKU that have to be got."""
        if sku not in self.most_units:
            return np.zeros(self.size, np.int64)
        return times_in(self.needed, self.figures.by_sku[sku])

    @lazy
    def out_of_stock(self) -> Bools:
        """Those that need more units of some item that we sell than are in stock."""
        return self.needing_more(lambda item: item.stock if item.sold else maxsize)

    def needing_more(self, enough: Callable[[Item], int]) -> Bools:
        """Those that need more units of some item than are enough."""
        least = np.array([self.needed.shape[1], *map(enough, self.figures.items)], np.int64)
        found = np.zeros(self.size, np.bool_)
        for column in self.needed.T:
            found |= times_in(self.needed, column) > least[column]
        return found

    @lazy
    def most_units(self) -> Mapping[str, int]:
        needed = self.needed
        most = np.zeros(len(self.figures.items) + 1, np.int64)
        for column in needed.T:
            np.maximum.at(most, column, times_in(needed, column))
        return {item.sku: units for item, units in zip(self.figures.items, most[1:].tolist(), strict=True) if units}

    def spent(self, limits: Limits) -> Costs:
        """What they cost besides the SKUs of which some are had."""
        unpriced = limits.unpriced
        if not unpriced:
            return self.costs
        return self.figures.costs(self.places, self.start, unpriced)

    def needs(self, limits: Limits) -> Ints:
        """What they take of each thing that is limited, a row for each."""
        columns = [] if limits.max_price is None else [self.spent(limits).price]
        for sku, _, spots in limits.scarce:
            counts = spots is None or self.table.spot in spots
            columns.append(self.units_of(sku) if counts else np.zeros(self.size, np.int64))
        columns += [self.units_of(had.sku) for had in limits.had]
        return np.array(columns, np.int64).reshape(len(columns), self.size).T

    # --- what stands in them -----------------------------------------------------------------------------------

    @lazy
    def firsts(self) -> Ints:
        """By choice the number of the item that begins it, 0 where there is none."""
        return self.table.chains.firsts[self.places]

    @lazy
    def heads(self) -> frozenset[tuple[str, str]]:
        spot = self.table.spot
        numbers = present(self.firsts)
        return frozenset((self.figures.items[number - 1].sku if number else "", spot) for number in numbers)

    @lazy
    def items(self) -> frozenset[Item]:
        numbers = present(self.figures.parts[self.places])
        return frozenset(self.figures.items[number - 1] for number in numbers if number)

    @lazy
    def needed_items(self) -> frozenset[Item]:
        return frozenset(self.figures.items[number - 1] for number in present(self.needed) if number)

    @lazy
    def standards(self) -> frozenset[str]:
        numbers = present(self.figures.rows[self.places])
        return frozenset(self.figures.links[number - 1].meets.standard for number in numbers if number)

    def first_needed(self, items: AbstractSet[Item]) -> Item | None:
        wanted = np.array([False, *[item in items for item in self.figures.items]], np.bool_)
        found = self.needed[wanted[self.needed]]
        return self.figures.items[int(found[0]) - 1] if len(found) else None

    def least_units(self, sku: str, spots: frozenset[str] | None) -> int:
        return int(self.units_of(sku).min()) if spots is None or self.table.spot in spots else 0

    def find(self, chains: Mapping[str, tuple[str, ...]]) -> Choice | None:
        found = mask_of(self.figures.having(chains.get(self.table.spot, (NO_PART,)))) & self.mask
        return next(self._made(found), None)

    def of_group(self, group: tuple[Group, ...]) -> tuple[Choice, ...]:
        return tuple(self._made(self._in_group(group)))

    def has_group(self, group: tuple[Group, ...]) -> bool:
        if group not in self._known_groups:
            self._known_groups[group] = bool(self._in_group(group))
        return self._known_groups[group]

    def skus_of(self, group: tuple[Group, ...]) -> Mapping[tuple[str, int], frozenset[str]]:
        if group not in self._skus_by_group:
            parts = self.figures.parts[places_in(self._in_group(group))]
            items = self.figures.items
            self._skus_by_group[group] = {
                (self.table.spot, index): frozenset(items[number - 1].sku for number in numbers)
                for index, column in enumerate(parts.T)
                if (numbers := [number for number in present(column) if number])
            }
        return self._skus_by_group[group]

    def _in_group(self, group: tuple[Group, ...]) -> Mask:
        spot, *groups = group[0]
        return mask_of(self.figures.in_group(groups)) & self.mask if spot == self.table.spot else 0

    def _made(self, mask: Mask) -> Iterator[Choice]:
        for place in places_in(mask).tolist():
            yield self.table.choice(place, supplied=self.supplied)

    def at_indices(self, chosen: Bools) -> "Picked":
        """Those of them that are chosen."""
        return self.table.picked(mask_of_places(self.places[chosen], self.table.chains.size), self.supplied)

    def telling(self, heads: AbstractSet[tuple[str, str]]) -> Iterator[Choice]:
        """Of those that begin with each of these heads the first and the cheapest, in their order."""
        skus = {sku for sku, spot in heads if spot == self.table.spot}
        if not skus:
            return
        spend(1 + self.size // CHAINS_A_STEP + len(skus), "bills")
        numbers = self.figures.by_sku
        wanted = np.zeros(len(self.figures.items) + 1, np.bool_)
        wanted[[numbers[sku] if sku else 0 for sku in skus]] = True
        own = np.flatnonzero(wanted[self.firsts])
        by_price = own[np.lexsort((self.costs.price[own], self.firsts[own]))]
        cheapest = by_price[np.flatnonzero(np.diff(self.firsts[by_price], prepend=-1))]
        first = own[unique_ints(self.firsts[own])[2]]
        for index in np.union1d(first, cheapest).tolist():
            yield self.at(index)


def _leanest(choices: Picked) -> tuple[Run, ...]:
    """The runs that no other one of the same bores undercuts in all that it loses."""
    lengths, losses, has = choices.figures.ways.at(choices.places)
    lost: Floats = np.hstack((lengths, losses))
    chains = choices.table.chains.chains
    found: dict[Run, None] = {}
    for own in alike_in(has):
        for index in own[_undominated(lost[own])].tolist():
            found[chains[int(choices.places[index])].run] = None
    return tuple(found)


def alike_in(has: Bools) -> Iterator[Ints]:
    """The places of rows that are alike, for each that there is."""
    kinds = ranked(has.astype(np.int64), 2)
    for kind in unique_ints(kinds)[0].tolist():
        yield np.flatnonzero(kinds == kind)


def _undominated(rows: Floats) -> Ints:
    """The places of rows that no other one undercuts in everything; of those alike the first."""
    order = np.lexsort((np.arange(len(rows)), *rows.T[::-1]))
    kept: list[int] = []
    while len(order):
        least = order[0]
        kept.append(int(least))
        order = order[1:][~combined(np.logical_and, rows[order[1:]] >= rows[least], True)]
    return np.array(kept, np.int64)
