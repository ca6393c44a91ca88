"""Statements about every subset of some wishes at once: a bit for each subset, so that a law is an AND or an OR.

Bit S of a truth tells whether it holds for the subset S, where bit n of S stands for the wish at n.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from itertools import chain, combinations
from typing import TypeVar

from service.domain.work import spend
from service.solver.judge.tables import bits

Truth = int
K = TypeVar("K")
L = TypeVar("L")
M = TypeVar("M")


class Universe:
    """The subsets of some named wishes."""

    def __init__(self, names: Sequence[str]) -> None:
        self.names = tuple(names)
        self._count = len(self.names)
        self.always: Truth = (1 << (1 << self._count)) - 1
        self._with = {name: self._holding(place) for place, name in enumerate(self.names)}

    def _holding(self, place: int) -> Truth:
        """The subsets with the wish at a place: blocks of 2^place zeros and as many ones, over and over."""
        width = 1 << place
        block = ((1 << width) - 1) << width
        repeats = self.always // ((1 << (2 * width)) - 1)
        return block * repeats

    def having(self, name: str) -> Truth:
        """Where a wish is in the subset."""
        return self._with[name]

    def none_of(self, truth: Truth) -> Truth:
        return self.always & ~truth

    def choosing(self, names: Iterable[str]) -> Iterator[tuple[tuple[str, ...], Truth]]:
        """Each way to take some of these wishes, and where just those are in the subset."""
        names = tuple(names)
        for chosen in chain.from_iterable(combinations(names, size) for size in range(len(names) + 1)):
            truth = self.always
            for name in names:
                truth &= self._with[name] if name in chosen else self.none_of(self._with[name])
            yield chosen, truth

    def minimal(self, truth: Truth) -> Iterator[tuple[str, ...]]:
        """The subsets for which it holds and for no proper subset of theirs, shortest first, then by names."""
        above = 0
        reached = truth
        for place, name in enumerate(self.names):
            reached |= (reached & self.none_of(self._with[name])) << (1 << place)
        for place, name in enumerate(self.names):
            above |= (reached & self.none_of(self._with[name])) << (1 << place)
        found = [self._named(subset) for subset in bits(truth & ~above)]
        yield from sorted(found, key=lambda names: (len(names), names))

    def dropped(self, truth: Truth) -> Truth:
        """What holds of the wishes left, as said of those that are dropped: the subsets in reverse order."""
        width = 1 << self._count
        return int(format(truth, f"0{width}b")[::-1], 2)

    def _named(self, subset: int) -> tuple[str, ...]:
        return tuple(sorted(name for place, name in enumerate(self.names) if subset >> place & 1))


Cases = dict[K, Truth]
"""What may be the case, each with the subsets where it is."""


def merged(cases: Iterable[tuple[K, Truth]]) -> Cases[K]:
    """Equal cases as one."""
    found: Cases[K] = {}
    for case, truth in cases:
        if truth:
            found[case] = found.get(case, 0) | truth
    return found


def crossed(one: Mapping[K, Truth], other: Mapping[L, Truth], join: Callable[[K, L], M]) -> Cases[M]:
    """What is the case of both together."""
    spend(len(one) * len(other), "wishes")
    return merged((join(a, b), x & y) for a, x in one.items() for b, y in other.items() if x & y)
