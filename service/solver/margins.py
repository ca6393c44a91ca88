"""What is left of every limit that a bill is held to, and how much of the tightest in each of its choices."""

from collections.abc import Iterable, Iterator
from functools import lru_cache

import numpy as np

from service.domain.chains import Chain
from service.domain.flows import PathFlow
from service.domain.margins import NOTHING_USED, Margin, least_relative
from service.domain.parts import Item
from service.domain.request import SpotSituation
from service.rules import clearance, flow, pressure
from service.solver.chain_rows import Floats
from service.solver.margins_of_columns import room_left
from service.solver.options import Choice
from service.solver.picked import Picked
from service.solver.worlds import World


def margins_of_bill(
    world: World, rail: Item, choices: Iterable[Choice], paths: Iterable[PathFlow]
) -> tuple[Margin, ...]:
    """The margins of a whole bill: of the rail, of the chains by spot, of the paths."""
    pressure_kpa = world.parts.pressure_kpa
    chains = {option.spot: option.chain for choice in choices for option in choice.options}
    found = list(_of_parts((rail,), pressure_kpa))
    for spot, chain in sorted(chains.items()):
        found += margins_of_chain(chain, world.situations[spot], pressure_kpa)
    for path in paths:
        found += flow.margins(path)
    return tuple(found)


def margins_of_chain(chain: Chain, situation: SpotSituation, pressure_kpa: float) -> Iterator[Margin]:
    """The margins of a chain but for the fuel that flows through it."""
    yield from clearance.margins(chain, situation)
    yield from _of_parts(dict.fromkeys(chain.items), pressure_kpa, *situation.spots)


def _of_parts(items: Iterable[Item], pressure_kpa: float, *spots: str) -> Iterator[Margin]:
    for item in items:
        margin = pressure.margin(item, pressure_kpa, *spots)
        if margin is not None:
            yield margin


class Tightness:
    """How much is relatively left of the tightest limit at a pressure and in these situations of spots; each chain and
    part is looked at once."""

    def __init__(self, pressure_kpa: float, situations: Iterable[SpotSituation]) -> None:
        self._situations = {situation.spot: situation for situation in situations}
        self._pressure_kpa = pressure_kpa
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
        room = room_left(columns, places, self._situations[choices.table.spot], NOTHING_USED)
        by_item = np.array([NOTHING_USED, *map(self._of_item, columns.items)])
        found: Floats = np.minimum(room, by_item[columns.parts[places]].min(axis=1, initial=NOTHING_USED))
        return found

    def _of_chain(self, spot: str, chain: Chain) -> float:
        found = self._by_option.get((spot, chain))
        if found is None:
            room = least_relative(clearance.margins(chain, self._situations[spot]))
            found = min([room, *map(self._of_item, chain.items)])
            self._by_option[spot, chain] = found
        return found

    def _of_item(self, item: Item) -> float:
        found = self._by_item.get(item)
        if found is None:
            self._by_item[item] = found = least_relative(_of_parts((item,), self._pressure_kpa))
        return found
