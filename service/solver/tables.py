"""The chains of a way as a table, a bit for each: which of them keep a rule is worked out once for what it reads."""

from collections import Counter
from collections.abc import Callable, Hashable, Iterable, Iterator, Sequence
from functools import lru_cache
from typing import TypeVar

from service.domain.chains import Chain, Run
from service.domain.lazy import lazy
from service.domain.parts import Item
from service.domain.request import PartSituation, SpotSituation
from service.domain.revision import Revision
from service.rules import CHAIN_RULES, PART_RULES, ChainRule, PartRule
from service.solver.options import Choice, Choices, Option

K = TypeVar("K", bound=Hashable)

Mask = int
"""A set of the chains of a table: bit n stands for the chain at n."""

_KEPT_MASKS = 1024
_KEPT_CHOICES = 100_000
"""In all the sets of one table."""


def bits(mask: Mask) -> Iterator[int]:
    """The places of the chains in a mask, from the first; in time that grows with the mask's length alone."""
    digits = f"{mask:b}"[::-1]
    place = digits.find("1")
    while place >= 0:
        yield place
        place = digits.find("1", place + 1)


def mask_at(places: Iterable[int], size: int) -> Mask:
    """The mask of these places among so many."""
    held = bytearray(size // 8 + 1)
    for place in places:
        held[place >> 3] |= 1 << (place & 7)
    return int.from_bytes(held, "little")


def mask_of(chains: Sequence[Chain], holds: Callable[[Chain], bool]) -> Mask:
    return mask_at([place for place, chain in enumerate(chains) if holds(chain)], len(chains))


class ChainTable:
    """The chains of a way, whatever the spot, with the masks that rules make of them."""

    def __init__(self, revision: Revision, chains: tuple[Chain, ...]) -> None:
        self.revision = revision
        self.chains = chains
        self.whole: Mask = (1 << len(chains)) - 1
        self.sold = mask_of(chains, lambda chain: all(item.sold for item in chain.items))
        self.sold_beyond_first = mask_of(chains, lambda chain: all(item.sold for item in chain.items[1:]))
        self.active = mask_of(chains, lambda chain: all(item.active for item in chain.items))
        self.active_beyond_first = mask_of(chains, lambda chain: all(item.active for item in chain.items[1:]))
        self.holding = self._by_each(lambda chain: set(chain.items))
        self.headed = self._by_each(lambda chain: chain.skus[:1])
        self._skus = frozenset(item.sku for item in self.holding)
        self._keeping = lru_cache(_KEPT_MASKS)(self._work_out)
        self.unsold_had = lru_cache(_KEPT_MASKS)(self._unsold_had)
        self.keeping_parts = lru_cache(_KEPT_MASKS)(self._keeping_all_part_rules)
        self.supplied_by = lru_cache(_KEPT_MASKS)(self._supplied_by)

    def _by_each(self, keys_of: Callable[[Chain], Iterable[K]]) -> dict[K, Mask]:
        """The chains by each of the keys that they have."""
        places: dict[K, list[int]] = {}
        for place, chain in enumerate(self.chains):
            for key in keys_of(chain):
                places.setdefault(key, []).append(place)
        return {key: mask_at(found, len(self.chains)) for key, found in places.items()}

    @lazy
    def running(self) -> dict[Run, Mask]:
        """The chains by what they are to the fuel."""
        return self._by_each(lambda chain: (chain.run,))

    def keeping(self, rule: PartRule | ChainRule, spot: SpotSituation, parts: PartSituation) -> Mask:
        """The chains that keep a rule, taken for itself."""
        if isinstance(rule, ChainRule):
            return self._keeping(rule, rule.reads(spot), ())
        return self._keeping(rule, rule.reads(parts), self._had_here(parts))

    def runs_in(self, mask: Mask) -> list[Run]:
        """What the chains of a mask are to the fuel."""
        return [run for run, chains in self.running.items() if chains & mask]

    def keeping_at(self, spot: SpotSituation) -> Mask:
        """The chains that keep all chain rules."""
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

    def _had_here(self, parts: PartSituation) -> tuple[tuple[str, int], ...]:
        """Those of the parts that are had which stand in any of the chains."""
        return tuple(x for x in parts.have if x[0] in self._skus) if parts.have else ()

    def _work_out(self, rule: PartRule | ChainRule, read: Hashable, had: tuple[tuple[str, int], ...]) -> Mask:
        if isinstance(rule, ChainRule):
            return mask_of(self.chains, lambda chain: rule.holds(chain, read))
        units = dict(had)
        broken = 0
        for item, holding in self.holding.items():
            if rule.holds(item, read, self.revision, "bought"):
                continue
            if item.sku in units and rule.holds(item, read, self.revision, "had"):
                broken |= self._with_more(item, units[item.sku])
            else:
                broken |= holding
        return self.whole & ~broken

    def _with_more(self, item: Item, units: int) -> Mask:
        """The chains that hold more units of an item."""
        return mask_of(self.chains, lambda chain: chain.items.count(item) > units)

    def _unsold_had(self, had: tuple[tuple[str, int], ...], beyond_first: bool) -> Mask:
        """The chains whose unsold items are all had (`beyond_first`: the first comes with the rail)."""
        have = dict(had)

        def holds(chain: Chain) -> bool:
            unsold = Counter(item.sku for item in chain.items[int(beyond_first) :] if not item.sold)
            return all(units <= have.get(sku, 0) for sku, units in unsold.items())

        return mask_of(self.chains, holds)

    def _supplied_by(self, plugs: tuple[Item, ...], parts: PartSituation) -> Mask:
        """The chains that begin with one of these plugs, which comes with the rail, and keep all part rules."""
        mask = self.whole
        for rule in PART_RULES:
            mask &= self.supplied_keeping(rule, plugs, parts)
        return mask

    def supplied_keeping(self, rule: PartRule, plugs: tuple[Item, ...], parts: PartSituation) -> Mask:
        """The chains that begin with one of these plugs, which comes with the rail, and keep a part rule."""
        have, read = dict(parts.have), rule.reads(parts)

        def holds(chain: Chain) -> bool:
            beyond = chain.items[1:]
            if chain.items[0] not in plugs or not rule.holds(chain.items[0], read, self.revision, "supplied"):
                return False
            return all(
                rule.holds(
                    item, read, self.revision, "had" if beyond.count(item) <= have.get(item.sku, 0) else "bought"
                )
                for item in beyond
            )

        return mask_of(self.chains, holds)


class SpotTable:
    """The chains of a way at one spot, as options and choices; each set of them is put together once."""

    def __init__(self, chains: ChainTable, spot: str) -> None:
        self.chains = chains
        self._spot = spot
        self.picked = lru_cache(max(4, min(256, _KEPT_CHOICES // (len(chains.chains) + 1))))(self._pick)

    @lazy
    def _bought(self) -> tuple[Choice, ...]:
        return tuple(Choice((Option(self._spot, chain),)) for chain in self.chains.chains)

    @lazy
    def _supplied(self) -> tuple[Choice, ...]:
        return tuple(Choice((Option(self._spot, chain, supplied=True),)) for chain in self.chains.chains)

    def _pick(self, mask: Mask, supplied: bool) -> Choices:
        """The choices of a set of chains; `supplied`: their first items come with the rail."""
        choices = self._supplied if supplied else self._bought
        return Choices(choices[place] for place in bits(mask))
