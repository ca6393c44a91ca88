"""What is left of every limit that a bill is held to, and how much of the tightest in each of its choices."""

from collections.abc import Hashable, Iterable, Iterator
from dataclasses import replace
from functools import lru_cache

import numpy as np

from service.domain.chains import Chain
from service.domain.flows import PathFlow
from service.domain.margins import NOTHING_USED, Margin, least_relative
from service.domain.parts import Item
from service.domain.request import PartSituation, SpotSituation
from service.rules import CHAIN_RULES, PART_RULES, PartRule, flow
from service.solver.judge.arrays import combined, relative, rounded
from service.solver.judge.chain_rows import Floats, Ints
from service.solver.judge.columns import Columns
from service.solver.judge.options import Choice
from service.solver.judge.picked import Picked
from service.solver.search.setups import Setup

Measuring = tuple[tuple[PartRule, Hashable], ...]
"""The rules for parts that measure, each with what it reads of a situation."""


def measuring(parts: PartSituation) -> Measuring:
    return tuple([(rule, rule.reads(parts)) for rule in PART_RULES if rule.margin is not None])


def margins_of_bill(
    setup: Setup, rail: Item, choices: Iterable[Choice], paths: Iterable[PathFlow]
) -> tuple[Margin, ...]:
    """The margins of a whole bill: of the rail, of the chains by spot, of the paths."""
    chains = {option.spot: option.chain for choice in choices for option in choice.options}
    rules = measuring(setup.parts)
    found = list(margins_of_part(rail, rules))
    for spot, chain in sorted(chains.items()):
        situation = setup.situations[spot]
        found += margins_of_chain(chain, situation)
        for item in dict.fromkeys(chain.items):
            found += [replace(margin, spots=situation.spots) for margin in margins_of_part(item, rules)]
    for path in paths:
        found += flow.margins(path)
    return tuple(found)


def margins_of_chain(chain: Chain, situation: SpotSituation) -> Iterator[Margin]:
    """The margins of a chain but for its parts and for the fuel that flows through it."""
    for rule in CHAIN_RULES:
        for limit in rule.limits(chain, situation) if rule.limits is not None else ():
            if limit.what is not None:
                left = round(limit.most - float(limit.measure), 3)
                yield Margin(rule.id, limit.what, limit.unit, left, limit.most, limit.spots)


def margins_of_part(item: Item, rules: Measuring) -> Iterator[Margin]:
    for rule, read in rules:
        margin = None if rule.margin is None else rule.margin(item, read)
        if margin is not None:
            yield margin


def relatively_left(columns: Columns, places: Ints, situation: SpotSituation) -> Floats:
    """As `least_relative` of `margins_of_chain`, of many chains at once."""
    found = np.full(len(places), NOTHING_USED)
    for rule in CHAIN_RULES:
        for limit in rule.limits(columns, situation) if rule.limits is not None else ():
            if limit.what is not None:
                left = rounded(limit.most - np.asarray(limit.measure)[places], 3)
                found = np.minimum(found, relative(left, limit.most))
    return found


class Tightness:
    """How much is relatively left of the tightest limit by what rules read and in these situations of spots; each chain
    and part is looked at once."""

    def __init__(self, rules: Measuring, situations: Iterable[SpotSituation]) -> None:
        self._situations = {situation.spot: situation for situation in situations}
        self._rules = rules
        self._by_item: dict[Item, float] = {}
        self._by_option: dict[tuple[str, Chain], float] = {}
        self.of_each = lru_cache(1)(self._of_each)

    def of_rail(self, rail: Item) -> float:
        return self._of_item(rail)

    def of_choice(self, choice: Choice) -> float:
        """Of a choice, but for the fuel that flows through it."""
        return min([self._of_chain(option.spot, option.chain) for option in choice.options])

    def _of_each(self, choices: Picked) -> Floats:
        """As of a choice, of many; kept, as the same ones are asked for in each flow."""
        columns, places = choices.figures, choices.places
        room = relatively_left(columns, places, self._situations[choices.table.spot])
        by_item = np.array([NOTHING_USED, *map(self._of_item, columns.items)])
        found: Floats = np.minimum(room, combined(np.minimum, by_item[columns.parts[places]], NOTHING_USED))
        return found

    def _of_chain(self, spot: str, chain: Chain) -> float:
        found = self._by_option.get((spot, chain))
        if found is None:
            room = least_relative(margins_of_chain(chain, self._situations[spot]))
            found = min([room, *map(self._of_item, chain.items)])
            self._by_option[spot, chain] = found
        return found

    def _of_item(self, item: Item) -> float:
        found = self._by_item.get(item)
        if found is None:
            self._by_item[item] = found = least_relative(margins_of_part(item, self._rules))
        return found
