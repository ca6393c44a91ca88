"""Many chains at once, as rows of numbers: a chain itself is made only for who looks at it.

A row has the numbers of a chain's links outwards, each one's side plugs right after it, and 0 where there are no more.
What chains measure is then read off tables of links, for all rows together.
"""

from collections.abc import Callable, Sequence
from itertools import chain as chained
from typing import NamedTuple, overload

import numpy as np
import numpy.typing as npt

from service.domain.chains import Chain, Link, Run

Ints = npt.NDArray[np.int64]
Floats = npt.NDArray[np.float64]
Bools = npt.NDArray[np.bool_]

_KEPT_CHAINS = 4096


class Hop(NamedTuple):
    """A part with the plugs of its side ports; `place` is its place among all that meet its opening."""

    place: int
    links: tuple[Link, ...]


class ChainRows(Sequence[Chain]):
    """The chains of a spec. `links`: by number, none at 0; `rows`: a row for each chain."""

    def __init__(self, links: tuple[Link, ...], rows: Ints, run_of: Callable[[tuple[Link, ...]], Run]) -> None:
        self.links = links
        self.rows = rows
        self._run_of = run_of
        self._made: dict[int, Chain] = {}

    def __len__(self) -> int:
        return len(self.rows)

    @overload
    def __getitem__(self, place: int) -> Chain: ...
    @overload
    def __getitem__(self, place: slice) -> tuple[Chain, ...]: ...

    def __getitem__(self, place: int | slice) -> Chain | tuple[Chain, ...]:
        if isinstance(place, slice):
            return tuple([self[at] for at in range(*place.indices(len(self)))])
        made = self._made.get(place)
        if made is None:
            links = tuple([self.links[number - 1] for number in self.rows[place].tolist() if number])
            if len(self._made) >= _KEPT_CHAINS:
                self._made.clear()
            self._made[place] = made = Chain(links, self._run_of)
        return made


def rows_of(routes: Sequence[Sequence[Sequence[Hop]]], run_of: Callable[[tuple[Link, ...]], Run]) -> ChainRows:
    """The chains of routes, one hop from each of a route's bunches; sorted by the places of their hops."""
    hops = list({id(bunch): bunch for route in routes for bunch in route}.values())
    links = tuple(dict.fromkeys(link for bunch in hops for hop in bunch for link in hop.links))
    numbers = {link: number for number, link in enumerate(links, 1)}
    tables = {id(bunch): _table(bunch, numbers) for bunch in hops}
    together = [_product([tables[id(bunch)] for bunch in route]) for route in routes]
    rows = _stacked([rows for rows, _ in together], 0)
    if len(routes) > 1:
        rows = rows[_in_order(_stacked([places for _, places in together], -1))]
    return ChainRows(links, np.asfortranarray(rows), run_of)


def _in_order(rows: Ints) -> Ints:
    """The places of different rows of numbers from -1 on, sorted by them."""
    base = int(rows.max(initial=0)) + 2
    if base ** rows.shape[1] > np.iinfo(np.int64).max:
        return np.lexsort(rows.T[::-1])
    key = np.zeros(len(rows), np.int64)
    for column in rows.T:
        key = key * base + (column + 1)
    return np.argsort(key)


def _table(hops: Sequence[Hop], numbers: dict[Link, int]) -> tuple[Ints, Ints]:
    """The hops as rows of links, and their places."""
    width = max(len(hop.links) for hop in hops)
    rows = np.zeros((len(hops), width), np.int64)
    for row, hop in zip(rows, hops, strict=True):
        row[: len(hop.links)] = [numbers[link] for link in hop.links]
    return rows, np.array([[hop.place] for hop in hops], np.int64)


def _product(tables: Sequence[tuple[Ints, Ints]]) -> tuple[Ints, Ints]:
    """One row of each table beside the others, the last one changing fastest; without gaps."""
    rows, places = np.zeros((1, 0), np.int64), np.zeros((1, 0), np.int64)
    for more, its_places in tables:
        left, right = np.repeat(np.arange(len(rows)), len(more)), np.tile(np.arange(len(more)), len(rows))
        rows = np.hstack((rows[left], more[right]))
        places = np.hstack((places[left], its_places[right]))
    if len(tables) > 1 and not rows[:, :-1].all():
        for place in range(rows.shape[1] - 2, -1, -1):
            gap = rows[:, place] == 0
            rows[gap, place:-1] = rows[gap, place + 1 :]
            rows[gap, -1] = 0
    return rows, places


def _stacked(tables: Sequence[Ints], filler: int) -> Ints:
    """Tables below one another, the narrower ones filled up."""
    width = max([table.shape[1] for table in tables], default=0)
    found = np.full((sum(map(len, tables)), width), filler, np.int64)
    for table, start in zip(tables, chained((0,), np.cumsum([len(table) for table in tables])), strict=False):
        found[start : start + len(table), : table.shape[1]] = table
    return found
