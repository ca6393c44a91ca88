"""What many chains measure, cost and lose, each figure a column with an entry for each chain."""

from collections.abc import Callable, Collection, Sequence
from functools import lru_cache
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from service.domain.chains import Link
from service.domain.lazy import lazy
from service.domain.parts import Item
from service.hydraulics import Fluid, Passage, drop_pa, velocity_m_s
from service.solver.flows import KPA, M3_S
from service.solver.judge.chain_rows import Bools, ChainRows, Floats, Ints

_NEARLY_HALF = 1e-6
_KEPT_FLOWS = 16
_DENSE, _MOST_SPREAD = 4, 100_000
"""Numbers that are no further apart are put in place instead of being sorted."""


class Costs(NamedTuple):
    """What has to be got for chains: price in minor units, pieces, days, units that we sell."""

    price: Ints
    pieces: Ints
    lead_days: Ints
    sold_units: Ints


class Lost(NamedTuple):
    """What a flow loses in chains, kPa, about as exactly as floats are; how fast it is at most, m/s; and the most of
    each."""

    drop_kpa: Floats
    peak_m_s: Floats
    most_kpa: float
    most_m_s: float


class PassageSums(NamedTuple):
    """The summed lengths, m, and loss coefficients, and whether there is any passage."""

    lengths_m: Floats
    losses_k: Floats
    has: Bools

    def at(self, places: Ints) -> "PassageSums":
        return PassageSums(self.lengths_m[places], self.losses_k[places], self.has[places])


class Columns:
    """The columns of the chains of a way."""

    def __init__(self, chains: ChainRows) -> None:
        self.chains = chains
        self.links = chains.links
        self.rows = chains.rows
        self.items: tuple[Item, ...] = tuple(sorted({link.item for link in self.links}, key=lambda item: item.sku))
        numbers = {item: number for number, item in enumerate(self.items, 1)}
        self.number_of = numbers
        self.parts: Ints = self._of_links(lambda link: numbers[link.item], 0)[self.rows]
        """As the rows, but with the numbers of items, which go by SKU."""
        self.lost_by = lru_cache(_KEPT_FLOWS)(self._lost_by)

    def _of_links(self, value: Callable[[Link], float], of_none: float) -> npt.NDArray[np.int64]:
        return np.array([of_none, *map(value, self.links)], np.int64)

    def _floats(self, value: Callable[[Link], float]) -> Floats:
        return np.array([0.0, *map(value, self.links)], np.float64)

    def _has(self, value: Callable[[Link], bool]) -> Bools:
        return np.array([False, *map(value, self.links)], np.bool_)[self.rows]

    def by_item(self, value: Callable[[Item], int]) -> Ints:
        """A value of each item, by its number; 0 for none."""
        return np.array([0, *map(value, self.items)], np.int64)

    # --- lengths -----------------------------------------------------------------------------------------------

    @lazy
    def _is_line(self) -> Bools:
        return self._has(lambda link: link.item.kind == "line")

    @lazy
    def _is_side(self) -> Bools:
        return self._has(lambda link: link.side)

    @lazy
    def _near(self) -> Bools:
        """The links up to and without the first line."""
        found: Bools = np.cumsum(self._is_line, axis=1) == 0
        return found

    @lazy
    def _far(self) -> Bools:
        """The links behind the last line and its side plugs."""
        beyond = np.cumsum(self._is_line[:, ::-1], axis=1)[:, ::-1] == 0
        found: Bools = beyond & (np.cumsum(beyond & ~self._is_side, axis=1) > 0)
        return found

    @lazy
    def axial_mm(self) -> Floats:
        return self._standout_mm(self._near & ~self._is_side)

    @lazy
    def far_axial_mm(self) -> Floats:
        return self._standout_mm(self._far & ~self._is_side)

    @lazy
    def across_mm(self) -> Floats:
        return self._across_mm(self._near)

    @lazy
    def far_across_mm(self) -> Floats:
        return self._across_mm(self._far)

    def most(self, of: Callable[[Item], float]) -> Floats:
        each = np.array([0.0, *(round(of(item), 3) for item in self.items)])
        found: Floats = np.where(self.parts > 0, each[self.parts], -np.inf).max(axis=1, initial=-np.inf)
        return np.where(np.isinf(found), 0.0, found)

    @lazy
    def reach_mm(self) -> Floats:
        return self._standout_mm(~self._is_line & ~self._is_side)

    def _standout_mm(self, counts: Bools) -> Floats:
        standout = self._floats(lambda link: link.item.standout_mm)[self.rows]
        return rounded(_summed(np.where(counts, standout, 0.0)), 3)

    def _across_mm(self, counts: Bools) -> Floats:
        across = self._floats(lambda link: round(link.item.across_mm or 0.0, 3))[self.rows]
        found: Floats = np.where(counts, across, 0.0).max(axis=1, initial=0.0)
        return found

    # --- what tells chains apart -------------------------------------------------------------------------------

    @lazy
    def text_order(self) -> Ints:
        """Numbers in the order of the chains' texts; no two chains have the same."""
        return ranked(self.parts, len(self.items) + 1)

    @lazy
    def groups(self) -> Ints:
        """A number, from 0 on, for each group of chains that are the same once variants are taken for equal."""
        return unique_ints(ranked(self.group_parts, len(self.items) + 1))[1]

    @lazy
    def _group_numbers(self) -> dict[str, int]:
        return {group: number for number, group in enumerate(dict.fromkeys(x.group for x in self.items), 1)}

    @lazy
    def group_parts(self) -> Ints:
        """As the rows, but with numbers of groups."""
        return self.by_item(lambda item: self._group_numbers[item.group])[self.parts]

    def in_group(self, group: Sequence[str]) -> Bools:
        """The chains that are these groups, one after the other."""
        return _same(self.group_parts, [self._group_numbers.get(name, -1) for name in group])

    def having(self, skus: Sequence[str]) -> Bools:
        """The chain of these SKUs, one after the other."""
        return _same(self.parts, [self.by_sku.get(sku, -1) for sku in skus])

    @lazy
    def by_sku(self) -> dict[str, int]:
        return {item.sku: number for item, number in self.number_of.items()}

    def units_of(self, item: Item, start: int = 0) -> Ints:
        """How many units of an item stand in each chain, from a place on."""
        return times_in(self.parts[:, start:], self.number_of.get(item, -1))

    # --- costs -------------------------------------------------------------------------------------------------

    @lazy
    def bought(self) -> Costs:
        return self.costs(slice(None), 0)

    @lazy
    def beyond_first(self) -> Costs:
        """What has to be got where the first item comes with the rail."""
        return self.costs(slice(None), 1)

    def costs(self, places: Ints | slice, start: int, unpriced: Collection[str] = ()) -> Costs:
        """What has to be got for some chains from a place in them on, without these SKUs."""
        parts = self.parts[places, start:]
        counts = self.by_item(lambda item: int(item.sku not in unpriced))
        sold = self.by_item(lambda item: int(item.sold and item.sku not in unpriced))
        price = sold * self.by_item(lambda item: item.price)
        lead_days = sold * self.by_item(lambda item: item.lead_days)
        return Costs(
            price[parts].sum(axis=1),
            counts[parts].sum(axis=1),
            lead_days[parts].max(axis=1, initial=0),
            sold[parts].sum(axis=1),
        )

    # --- flow --------------------------------------------------------------------------------------------------

    def _lost_by(self, flow_l_h: float, fluid: Fluid) -> Lost:
        """What chains lose at a flow through all of each."""
        flow_m3_s = flow_l_h * M3_S

        def drop(link: Link) -> float:
            passage = link.item.passage
            return 0.0 if passage is None else drop_pa(passage, fluid, flow_m3_s) * KPA

        def peak(link: Link) -> float:
            return 0.0 if link.item.passage is None else velocity_m_s(link.item.passage, flow_m3_s)

        drops_kpa = _summed(self._floats(drop)[self.rows])
        peaks_m_s = self._floats(peak)[self.rows].max(axis=1, initial=0.0)
        return Lost(drops_kpa, peaks_m_s, float(drops_kpa.max(initial=0.0)), float(peaks_m_s.max(initial=0.0)))

    @lazy
    def passages(self) -> Ints:
        """Numbers that are the same only for chains that are the same to the fuel."""
        alike: dict[object, int] = {}
        numbers = self.by_item(lambda item: alike.setdefault(item.passage or item.sku, len(alike) + 1))
        return unique_ints(ranked(numbers[self.parts], len(alike) + 1))[1]

    @lazy
    def bores(self) -> tuple[tuple[float, float], ...]:
        """Bore and roughness of the passages, each once."""
        return tuple(dict.fromkeys([_bore(x.item.passage) for x in self.links if x.item.passage is not None]))

    @lazy
    def ways(self) -> PassageSums:
        """By chain and bore."""
        numbers = {bore: number for number, bore in enumerate(self.bores, 1)}
        of_link = self._of_links(lambda x: numbers[_bore(x.item.passage)] if x.item.passage else 0, 0)[self.rows]
        length = self._floats(lambda x: x.item.passage.length_m if x.item.passage else 0.0)[self.rows]
        loss_k = self._floats(lambda x: x.item.passage.loss_k if x.item.passage else 0.0)[self.rows]
        size = len(self.rows), len(self.bores)
        lengths, losses, has = np.zeros(size), np.zeros(size), np.zeros(size, np.bool_)
        for number in range(len(self.bores)):
            own = of_link == number + 1
            lengths[:, number] = _summed(np.where(own, length, 0.0))
            losses[:, number] = _summed(np.where(own, loss_k, 0.0))
            has[:, number] = own.any(axis=1)
        return PassageSums(lengths, losses, has)


def rounded(values: Floats, digits: int, exactly: Callable[[int], float] | None = None) -> Floats:
    """Each value as `round` gives it; `exactly` gives the value at a place where a little could make a difference."""
    scale = 10.0**digits
    scaled = values * scale
    whole = np.rint(scaled)
    found: Floats = whole / scale
    unsure = np.abs(scaled - whole) > 0.5 - _NEARLY_HALF - np.abs(scaled) * 1e-12
    for place in np.flatnonzero(unsure).tolist():
        found[place] = round(float(values[place]) if exactly is None else exactly(place), digits)
    return found


def relative(left: Floats, limit: float) -> Floats:
    """What is left as part of the limit, to 0.000001, as `Margin.relative` is; of no limit at all nothing."""
    return rounded(left / limit, 6) if limit else np.minimum(0.0, left)


def _summed(table: Floats) -> Floats:
    """The sum of each row, from the first column on."""
    found = np.zeros(len(table))
    for column in table.T:
        found = found + column
    return found


def ranked(table: Ints, base: int) -> Ints:
    """A number for each row, in the order of rows; the same for rows that are the same."""
    rank = np.zeros(len(table), np.int64)
    most = 1
    for column in table.T:
        if most > np.iinfo(np.int64).max // base:
            found, rank, _ = unique_ints(rank)
            most = len(found)
        rank = rank * base + column
        most *= base
    return rank


def unique_ints(values: Ints) -> tuple[Ints, Ints, Ints]:
    """The values, each once, sorted; by value the place of its like among them; where each comes first."""
    least = int(values.min()) if len(values) else 0
    spread = int(values.max()) - least + 1 if len(values) else 0
    if spread > _DENSE * len(values) + _MOST_SPREAD:
        found, first, alike = np.unique(values, return_index=True, return_inverse=True)
        return found, alike.reshape(-1), first
    firsts = np.full(spread, -1, np.int64)
    firsts[values[::-1] - least] = np.arange(len(values))[::-1]
    present = np.flatnonzero(firsts >= 0)
    alike = np.zeros(spread, np.int64)
    alike[present] = np.arange(len(present))
    return present + least, alike[values - least], firsts[present]


def times_in(table: Ints, number: int) -> Ints:
    """How often a number stands in each row."""
    found = np.zeros(len(table), np.int64)
    for column in table.T:
        found += column == number
    return found


def number_of(values: Ints) -> int:
    """How many different values there are, numbers from 0 on that are not much more than these."""
    return int(np.count_nonzero(np.bincount(values))) if len(values) else 0


def unique_rows(table: Ints) -> tuple[Ints, Ints]:
    """The rows of a table of numbers from 0 on, each once, sorted; and by row the place of its like among them."""
    rank = np.zeros(len(table), np.int64)
    most = 1
    for column in table.T:
        base = int(column.max(initial=0)) + 1
        if base == 1:
            continue
        if most > np.iinfo(np.int64).max // base:
            found, rank, _ = unique_ints(rank)
            most = len(found)
        rank = rank * base + column
        most *= base
    _, alike, first = unique_ints(rank)
    return table[first], alike


def _same(table: Ints, row: Sequence[int]) -> Bools:
    """The rows of a table that are this one, with nothing behind it."""
    if len(row) > table.shape[1]:
        return np.zeros(len(table), np.bool_)
    filled = np.array([*row, *[0] * (table.shape[1] - len(row))], np.int64)
    found: Bools = (table == filled).all(axis=1)
    return found


def _bore(passage: Passage) -> tuple[float, float]:
    return passage.bore_m, passage.roughness_m
