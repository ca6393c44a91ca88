"""The chains of a spec as a table, a bit for each: which of them keep a rule is worked out once for what it reads."""

from collections.abc import Callable, Hashable, Iterable, Iterator
from functools import lru_cache

import numpy as np

from service.domain.lazy import lazy
from service.domain.parts import Item
from service.domain.request import PartSituation, SpotSituation
from service.domain.revision import Revision
from service.rules import CHAIN_RULES, PART_RULES, ChainRule, PartRule
from service.rules.rule import Got
from service.solver.judge.arrays import combined, present
from service.solver.judge.chain_rows import Bools, ChainRows, Ints
from service.solver.judge.columns import Columns

Mask = int
"""A set of the chains of a table: bit n stands for the chain at n."""

HadUnits = tuple[tuple[str, int], ...]
"""Units by SKU."""

_KEPT_BYTES = 2_000_000
"""Of the masks that a table keeps of one kind."""


def bits(mask: Mask) -> Iterator[int]:
    """The places of the chains in a mask, from the first."""
    return iter(places_in(mask).tolist())


def first_of(mask: Mask) -> int:
    """The place of the first chain in a mask."""
    return (mask & -mask).bit_length() - 1


def places_in(mask: Mask) -> Ints:
    """The places of the chains in a mask, from the first."""
    return np.flatnonzero(mask_bools(mask, mask.bit_length()))


def mask_bools(mask: Mask, size: int) -> Bools:
    """For each of so many places whether it is in a mask."""
    held = np.frombuffer((mask & ((1 << size) - 1)).to_bytes(size // 8 + 1, "little"), np.uint8)
    return np.unpackbits(held, count=size, bitorder="little").view(np.bool_)


def mask_at(places: Iterable[int], size: int) -> Mask:
    """The mask of these places among so many."""
    held = bytearray(size // 8 + 1)
    for place in places:
        held[place >> 3] |= 1 << (place & 7)
    return int.from_bytes(held, "little")


def mask_of_places(places: Ints, size: int) -> Mask:
    """As of `mask_at`."""
    holds = np.zeros(size, np.bool_)
    holds[places] = True
    return mask_of(holds)


def mask_of(holds: Bools) -> Mask:
    """The mask of the places where this holds."""
    return int.from_bytes(np.packbits(holds, bitorder="little").tobytes(), "little")


class ChainTable:
    """The chains of a spec, whatever the spot, with the masks that rules make of them."""

    def __init__(self, revision: Revision, chains: ChainRows) -> None:
        self.revision = revision
        self.chains = chains
        self.size = len(chains)
        self.columns = Columns(chains)
        self.whole: Mask = (1 << len(chains)) - 1
        self._skus = frozenset(item.sku for item in self.columns.items)
        kept = max(16, min(1024, _KEPT_BYTES * 8 // (len(chains) + 1)))
        self._keeping = lru_cache(kept)(self._work_out)
        self.unsold_had = lru_cache(kept)(self._unsold_had)
        self.keeping_parts = lru_cache(kept)(self._keeping_all_part_rules)
        self.keeping_at = lru_cache(kept)(self._keeping_all_chain_rules)
        self.supplied_by = lru_cache(kept)(self._supplied_by)
        self.holding = lru_cache(kept)(self._holding)

    @lazy
    def sold(self) -> Mask:
        return mask_of(self._all(lambda item: item.sold))

    @lazy
    def sold_beyond_first(self) -> Mask:
        return mask_of(self._all(lambda item: item.sold, 1))

    @lazy
    def active(self) -> Mask:
        return mask_of(self._all(lambda item: item.active))

    @lazy
    def active_beyond_first(self) -> Mask:
        return mask_of(self._all(lambda item: item.active, 1))

    @lazy
    def headed(self) -> dict[str, Mask]:
        """The chains by the SKU that begins them."""
        heads = self.firsts
        numbers = list(dict.fromkeys(heads[heads > 0].tolist()))
        return {self.columns.items[number - 1].sku: mask_of(heads == number) for number in numbers}

    def heads_in(self, mask: Mask) -> list[str]:
        """The SKUs that begin chains of a mask, each once."""
        numbers = present(self.firsts[places_in(mask)])
        return [self.columns.items[number - 1].sku for number in numbers if number]

    @lazy
    def firsts(self) -> Ints:
        """By chain the number of the item that begins it, 0 where there is none."""
        parts = self.columns.parts
        return parts[:, 0] if parts.shape[1] else np.zeros(self.size, np.int64)

    def _holding(self, item: Item) -> Mask:
        """The chains that have an item."""
        number = self.columns.number_of.get(item)
        return 0 if number is None else mask_of(combined(np.logical_or, self.columns.parts == number, False))

    def _all(self, holds: Callable[[Item], bool], start: int = 0) -> Bools:
        """Whether all items of a chain hold, from a place on."""
        each: Bools = np.array([True, *map(holds, self.columns.items)], np.bool_)
        return combined(np.logical_and, each[self.columns.parts[:, start:]], True)

    def keeping(self, rule: PartRule | ChainRule, spot: SpotSituation, parts: PartSituation) -> Mask:
        """The chains that keep a rule, taken for itself."""
        if isinstance(rule, ChainRule):
            return self._keeping(rule, rule.reads(spot), ())
        return self._keeping(rule, rule.reads(parts), self._had_here(parts))

    def _keeping_all_chain_rules(self, spot: SpotSituation) -> Mask:
        mask = self.whole
        for rule in CHAIN_RULES:
            mask &= self._keeping(rule, rule.reads(spot), ())
        return mask

    def _keeping_all_part_rules(self, parts: PartSituation) -> Mask:
        mask = self.whole
        had = self._had_here(parts)
        for rule in PART_RULES:
            mask &= self._keeping(rule, rule.reads(parts), had)
        return mask

    def concerned(self, parts: PartSituation) -> PartSituation:
        """A situation without the SKUs that stand in none of the chains."""
        if not (parts.exclude or parts.have):
            return parts
        return parts._replace(exclude=parts.exclude & self._skus, have=self._had_here(parts))

    def _had_here(self, parts: PartSituation) -> HadUnits:
        """Those of the parts that are had which stand in any of the chains."""
        return tuple(x for x in parts.have if x[0] in self._skus) if parts.have else ()

    def _work_out(self, rule: PartRule | ChainRule, read: Hashable, had: HadUnits) -> Mask:
        if isinstance(rule, ChainRule):
            return mask_of(np.broadcast_to(np.asarray(rule.holds(self.columns, read)), self.size))
        units = dict(had)
        broken: Mask = 0
        kept = {item for item in self.columns.items if rule.holds(item, read, self.revision, "bought")}
        at_hand = [
            item
            for item in self.columns.items
            if item.sku in units and item not in kept and rule.holds(item, read, self.revision, "had")
        ]
        for item in at_hand:
            broken |= mask_of(self.columns.units_of(item) > units[item.sku])
        if len(kept) + len(at_hand) < len(self.columns.items):
            broken |= ~mask_of(self._all(kept.union(at_hand).__contains__))
        return self.whole & ~broken

    def _unsold_had(self, had: HadUnits, beyond_first: bool) -> Mask:
        """The chains whose unsold items are all had (`beyond_first`: the first comes with the rail)."""
        have, start = dict(had), int(beyond_first)
        mask = mask_of(self._all(lambda item: item.sold or item.sku in have, start))
        for item in self.columns.items:
            if not item.sold and item.sku in have:
                mask &= mask_of(self.columns.units_of(item, start) <= have[item.sku])
        return mask

    def _supplied_by(self, plugs: tuple[Item, ...], parts: PartSituation) -> Mask:
        """The chains that begin with one of these plugs, which comes with the rail, and keep all part rules."""
        mask = self.whole
        for rule in PART_RULES:
            mask &= self.supplied_keeping(rule, plugs, parts)
        return mask

    def supplied_keeping(self, rule: PartRule, plugs: tuple[Item, ...], parts: PartSituation) -> Mask:
        """The chains that begin with one of these plugs, which comes with the rail, and keep a part rule."""
        have, read = dict(self._had_here(parts)), rule.reads(parts)

        def holds(item: Item, got: Got) -> bool:
            return rule.holds(item, read, self.revision, got)

        mask: Mask = 0
        for plug in plugs:
            if plug.sku in self.headed and holds(plug, "supplied"):
                mask |= self.headed[plug.sku]
        if mask:
            mask &= mask_of(self._all(lambda item: item.sku in have or holds(item, "bought"), 1))
        for item in self.columns.items if mask else ():
            if item.sku in have:
                units = self.columns.units_of(item, 1)
                kept = np.where(units > have[item.sku], holds(item, "bought"), holds(item, "had"))
                mask &= mask_of(kept | (units == 0))
        return mask
