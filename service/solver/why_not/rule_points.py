"""Where a wish that is a number makes parts and chains begin or cease to keep rules."""

from collections.abc import Callable, Collection, Hashable, Iterator
from functools import lru_cache, partial

import numpy as np

from service.domain.parts import Item
from service.domain.request import PartSituation, SpotSituation
from service.domain.wishes import NUMBERS, Wishes, measure_of
from service.domain.work import spend
from service.rules import CHAIN_RULES, PART_RULES, ChainRule, PartRule
from service.rules.rule import GOT
from service.solver.judge.judges import Judges
from service.solver.judge.picked import CHAINS_A_STEP
from service.solver.judge.situations import Situations
from service.solver.judge.tables import ChainTable

_TENTHS = 10


class RulePoints:
    """The break points of one number: told by the rules that it sways, else searched for in its whole range."""

    def __init__(self, judges: Judges, wishes: Wishes, name: str) -> None:
        self._judges = judges
        self._name = name
        self._request = wishes.request_with(wishes.values)
        self._part_rules = [rule for rule in PART_RULES if rule.is_swayed_by(name)]
        self._chain_rules = [rule for rule in CHAIN_RULES if rule.is_swayed_by(name)]
        asked = lru_cache(None)(lambda tenth: wishes.request_with(wishes.values, {name: tenth / _TENTHS}))
        self._parts_at = lru_cache(None)(lambda tenth: PartSituation.of(asked(tenth)))
        self._situations_at = lru_cache(None)(lambda tenth: Situations(asked(tenth)))

    def of_parts(self, items: Collection[Item]) -> Iterator[float]:
        """Where one of these items begins or ceases to keep a rule for parts."""
        for rule in self._part_rules:
            if rule.break_points is not None:
                for item in items:
                    yield from rule.break_points(item, self._request, self._name)
                continue

            yield from self._searched(partial(self._holds, rule, items), len(items))

    def of_chains(self, spot: SpotSituation) -> Iterator[float]:
        """Where a chain of a spot begins or ceases to keep a rule."""
        if not (self._part_rules or self._chain_rules):
            return
        table = self._judges.spots.table(spot).chains
        yield from self.of_parts(table.columns.items)
        for rule in self._chain_rules:
            if rule.break_points is not None:
                for measure in rule.break_points(table.columns, spot, self._name):
                    yield from np.unique(measure).tolist()
                continue

            yield from self._searched(partial(self._keeping, rule, table, spot), table.size // CHAINS_A_STEP)

    def _holds(self, rule: PartRule, items: Collection[Item], tenth: int) -> Hashable:
        read = rule.reads(self._parts_at(tenth))
        return tuple([rule.holds(item, read, self._judges.revision, got) for item in items for got in GOT])

    def _keeping(self, rule: ChainRule, table: ChainTable, spot: SpotSituation, tenth: int) -> Hashable:
        return table.keeping(rule, self._situations_at(tenth).in_its_room(spot), self._parts_at(tenth))

    def _searched(self, kept: Callable[[int], Hashable], steps: int) -> Iterator[float]:
        """The places between two tenths of the range where what is kept changes, each part or chain at most once."""
        known = lru_cache(None)(kept)
        bounds = NUMBERS[measure_of(self._name) or ""]
        left = [(int(bounds.least * _TENTHS), int(bounds.most * _TENTHS))]
        while left:
            low, high = left.pop()
            spend(1 + steps, "wishes")
            if known(low) == known(high):
                continue
            if high - low == 1:
                yield (low + 0.5) / _TENTHS
            else:
                middle = (low + high) // 2
                left += [(low, middle), (middle, high)]
