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
from service.solver.judge.arrays import combined, held_so_far, is_row, ranked, rounded, summed, times_in, unique_ints
from service.solver.judge.chain_rows import Bools, ChainRows, Floats, Ints

_LEAST_FLOWS, _MOST_FLOWS, _KEPT_FIGURES = 16, 256, 100_000
"""Of a table so many flows are kept: few of one of many chains, as a flow takes some figures for each."""


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
    """The columns of the chains of a spec."""

    def __init__(self, chains: ChainRows) -> None:
        self.chains = chains
        self.links = chains.links
        self.rows = chains.rows
        self.items: tuple[Item, ...] = tuple(sorted({link.item for link in self.links}, key=lambda item: item.sku))
        numbers = {item: number for number, item in enumerate(self.items, 1)}
        self.number_of = numbers
        self.parts: Ints = self._of_links(lambda link: numbers[link.item], 0)[self.rows]
        """As the rows, but with the numbers of items, which go by SKU."""
        self.lost_by = lru_cache(max(_LEAST_FLOWS, min(_MOST_FLOWS, _KEPT_FIGURES // (len(chains) + 1))))(self._lost_by)

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
        return ~held_so_far(self._is_line)

    @lazy
    def _far(self) -> Bools:
        """The links behind the last line and its side plugs."""
        beyond = ~held_so_far(self._is_line[:, ::-1])[:, ::-1]
        return beyond & held_so_far(beyond & ~self._is_side)

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
        found = combined(np.maximum, np.where(self.parts > 0, each[self.parts], -np.inf), -np.inf)
        return np.where(np.isinf(found), 0.0, found)

    @lazy
    def reach_mm(self) -> Floats:
        return self._standout_mm(~self._is_line & ~self._is_side)

    def _standout_mm(self, counts: Bools) -> Floats:
        standout = self._floats(lambda link: link.item.standout_mm)[self.rows]
        return rounded(summed(np.where(counts, standout, 0.0)), 3)

    def _across_mm(self, counts: Bools) -> Floats:
        across = self._floats(lambda link: round(link.item.across_mm or 0.0, 3))[self.rows]
        return combined(np.maximum, np.where(counts, across, 0.0), 0.0)

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
        return is_row(self.group_parts, [self._group_numbers.get(name, -1) for name in group])

    def having(self, skus: Sequence[str]) -> Bools:
        """The chain of these SKUs, one after the other."""
        return is_row(self.parts, [self.by_sku.get(sku, -1) for sku in skus])

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
            combined(np.add, price[parts], 0),
            combined(np.add, counts[parts], 0),
            combined(np.maximum, lead_days[parts], 0),
            combined(np.add, sold[parts], 0),
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

        drops_kpa = summed(self._floats(drop)[self.rows])
        peaks_m_s = combined(np.maximum, self._floats(peak)[self.rows], 0.0)
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
            lengths[:, number] = summed(np.where(own, length, 0.0))
            losses[:, number] = summed(np.where(own, loss_k, 0.0))
            has[:, number] = combined(np.logical_or, own, False)
        return PassageSums(lengths, losses, has)


def _bore(passage: Passage) -> tuple[float, float]:
    return passage.bore_m, passage.roughness_m
