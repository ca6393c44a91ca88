"""Arrays of numbers: rounded as floats are, ranked, each value or row once."""

from collections.abc import Callable, Sequence
from typing import TypeVar

import numpy as np
import numpy.typing as npt

from service.solver.judge.chain_rows import Bools, Floats, Ints

S = TypeVar("S", bound=np.generic)

_NEARLY_HALF = 1e-6
_DENSE, _MOST_SPREAD = 4, 100_000
"""Numbers that are no further apart are put in place instead of being sorted."""


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


def summed(table: Floats) -> Floats:
    """The sum of each row, from the first column on."""
    found = np.zeros(len(table))
    for column in table.T:
        found = found + column
    return found


def combined(combine: np.ufunc, table: npt.NDArray[S], start: float) -> npt.NDArray[S]:
    """The values of each row combined, from a start on: by columns, as rows are short."""
    found = np.full(len(table), start, table.dtype)
    for column in table.T:
        combine(found, column, out=found)
    return found


def held_so_far(table: Bools) -> Bools:
    """For each place of a row whether it holds there or before."""
    found = table.copy()
    for place in range(1, table.shape[1]):
        found[:, place] |= found[:, place - 1]
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


def times_in(table: Ints, number: int | Ints) -> Ints:
    """How often a number, or one for each row, stands in each row."""
    found = np.zeros(len(table), np.int64)
    for column in table.T:
        found += column == number
    return found


def present(values: Ints) -> list[int]:
    """The numbers, from 0 on, that stand anywhere in a table, each once, sorted."""
    found: list[int] = np.flatnonzero(np.bincount(values.reshape(-1))).tolist()
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


def is_row(table: Ints, row: Sequence[int]) -> Bools:
    """The rows of a table that are this one, with nothing behind it."""
    if len(row) > table.shape[1]:
        return np.zeros(len(table), np.bool_)
    filled = np.array([*row, *[0] * (table.shape[1] - len(row))], np.int64)
    return combined(np.logical_and, table == filled, True)
