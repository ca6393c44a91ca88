"""What is limited over the whole bill: its price, the units of what there are too few of; and what is had already."""

from collections import Counter
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from sys import maxsize
from typing import NamedTuple

from service.domain.lazy import lazy
from service.domain.parts import Item
from service.solver.judge.options import Choice, units_at

Needs = tuple[int, ...]


class Scarce(NamedTuple):
    """At most so many units of a SKU may stand in a bill; `spots`: only those there count, None: all."""

    sku: str
    most: int
    spots: frozenset[str] | None = None


class Had(NamedTuple):
    """So many units of an item are had; further ones cost this (0 and no lead time where the item is unsold)."""

    sku: str
    qty: int
    price: int
    lead_days: int


class Spent(NamedTuple):
    """What a choice or a bill costs: price in minor units, pieces, days."""

    price: int
    pieces: int
    lead_days: int


@dataclass(frozen=True)
class Limits:
    """Needs are counted in the order of `of`: the price where it is limited, units of the scarce, units of the had.

    What is had costs nothing and what goes beyond it does, which only the whole bill tells. So choices are priced
    without the SKUs of which some are had, and `settled` adds the rest. All of it grows with the units.
    """

    max_price: int | None
    scarce: tuple[Scarce, ...] = ()
    had: tuple[Had, ...] = ()
    free: frozenset[str] = frozenset()
    """SKUs of which more are had than any bill could need: they cost nothing and need no counting."""

    @lazy
    def watching(self) -> bool:
        """Whether there is anything to count."""
        return self.max_price is not None or bool(self.scarce or self.had)

    @property
    def limiting(self) -> bool:
        """Whether any bill can be ruled out by them."""
        return self.max_price is not None or bool(self.scarce)

    @property
    def nothing(self) -> Needs:
        """The needs of no choice at all."""
        return (0,) * ((self.max_price is not None) + len(self.scarce) + len(self.had))

    def of(self, choice: Choice) -> Needs:
        """What a choice takes of each."""
        price = () if self.max_price is None else (self.spent(choice).price,)
        if not (self.scarce or self.had):
            return price
        needed = choice.needed_units
        scarce = [needed.get(x.sku, 0) if x.spots is None else units_at(choice, x.sku, x.spots) for x in self.scarce]
        return (*price, *scarce, *[needed.get(x.sku, 0) for x in self.had])

    def of_rail(self, price: int) -> Needs:
        """What rails of that price take of each; rails stand in no chain, so that none of them is scarce."""
        return (
            () if not self.watching else (*(() if self.max_price is None else (price,)), *self.nothing[self._first :])
        )

    def spent(self, choice: Choice) -> Spent:
        """What a choice costs besides the SKUs of which some are had."""
        if not (self.had or self.free):
            return Spent(choice.price, choice.pieces, choice.lead_days)
        others = [item for option in choice.options for item in option.needed if item.sku not in self.unpriced]
        sold = [item for item in others if item.sold]
        lead_days = max((item.lead_days for item in sold), default=0)
        return Spent(sum(item.price for item in sold), len(others), lead_days)

    def beyond(self, needs: Needs) -> Spent:
        """What the units beyond those that are had cost."""
        price = pieces = lead_days = 0
        for had, units in zip(self.had, needs[len(needs) - len(self.had) :], strict=True):
            over = units - had.qty
            if over > 0:
                price += had.price * over
                pieces += over
                lead_days = max(lead_days, had.lead_days)
        return Spent(price, pieces, lead_days)

    def allow(self, needs: Needs) -> bool:
        if not all(map(int.__le__, needs, self._most)):
            return False
        return self.max_price is None or not self.had or needs[0] + self.beyond(needs).price <= self.max_price

    @lazy
    def _most(self) -> Needs:
        """How much of what is limited a bill may need, whatever is had."""
        price = () if self.max_price is None else (self.max_price,)
        return (*price, *[x.most for x in self.scarce])

    def allowed(self, beyond: int) -> Needs:
        """How much of each thing breaks no limit where what goes beyond what is had costs no more than `beyond`; of
        what is had, how much of it costs nothing."""
        price = () if self.max_price is None else (self.max_price - beyond,)
        return (*price, *[x.most for x in self.scarce], *[x.qty if price else maxsize for x in self.had])

    @lazy
    def _first(self) -> int:
        return int(self.max_price is not None)

    @lazy
    def unpriced(self) -> frozenset[str]:
        """The SKUs that are priced apart, or not at all."""
        return self.free.union(had.sku for had in self.had)


FREE = Limits(None)


def merged_limits(limits: Sequence[Limits]) -> Limits:
    """All that any of them watches."""
    if len(limits) == 1:
        return limits[0]
    prices = [x.max_price for x in limits if x.max_price is not None]
    scarce = sorted({one for x in limits for one in x.scarce}, key=_scarce_key)
    had = {one.sku: one for x in limits for one in x.had}
    free = frozenset(sku for x in limits for sku in x.free).difference(had)
    return Limits(min(prices, default=None), tuple(scarce), tuple(had[sku] for sku in sorted(had)), free)


def _scarce_key(scarce: Scarce) -> tuple[str, int, list[str]]:
    return scarce.sku, scarce.most, sorted(scarce.spots or ())


def added(one: Needs, other: Needs) -> Needs:
    return tuple(map(int.__add__, one, other))


def least(needs: Iterable[Needs]) -> frozenset[Needs]:
    """Only those that no other one undercuts in everything."""
    different = frozenset(needs)
    if len(different) <= 1:
        return different
    kept: list[Needs] = []
    for need in sorted(different):
        if not any(all(map(int.__le__, other, need)) for other in kept):
            kept.append(need)
    return frozenset(kept)


def summed(one: Collection[Needs], other: Collection[Needs], limits: Limits, enough: Needs = ()) -> frozenset[Needs]:
    """The least that one of each take together within the limits; of what is within `enough` nothing is told apart, as
    no later step can break its limit."""
    joined = (added(so_far, more) for so_far in one for more in other)
    within = (needs for needs in joined if limits.allow(needs))
    if enough:
        within = (tuple([n if n > most else 0 for n, most in zip(needs, enough, strict=True)]) for needs in within)
    return least(within)


def spent_on_rails(rail: Item, bought: int) -> Spent:
    """What so many bought units of a rail cost."""
    if not bought:
        return Spent(0, 0, 0)
    return Spent(rail.price * bought, bought, rail.lead_days) if rail.sold else Spent(0, bought, 0)


def spent_in_all(limits: Limits, rail: Spent, choices: Sequence[Choice]) -> Spent:
    """What a whole bill costs."""
    if limits.had or limits.free:
        units = Counter(item.sku for choice in choices for option in choice.options for item in option.needed)
        parts = [rail, *map(limits.spent, choices), limits.beyond(tuple(units[had.sku] for had in limits.had))]
        return Spent(sum(x.price for x in parts), sum(x.pieces for x in parts), max(x.lead_days for x in parts))
    price, pieces, lead_days = rail
    for choice in choices:
        price += choice.price
        pieces += choice.pieces
        lead_days = max(lead_days, choice.lead_days)
    return Spent(price, pieces, lead_days)
