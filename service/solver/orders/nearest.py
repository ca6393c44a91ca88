"""The valid bill nearest to an order: exact, and without building every bill.

Nearest is what takes the fewest changes, then what comes first by price, pieces, drop, chains and rail.
"""

from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import chain
from operator import itemgetter

from service.domain.answer import Bill
from service.domain.lazy import lazy
from service.domain.orders import Cost, Difference, Order, difference
from service.domain.parts import OWN_RAIL, Item
from service.domain.work import kept
from service.solver.judge.options import joined
from service.solver.orders.ledger import Ledger
from service.solver.orders.search import NearestSearch, Tail
from service.solver.orders.stages import ChoiceColumns, Stages
from service.solver.orders.unit_tables import unit_table
from service.solver.search.bills import build_bill
from service.solver.search.bundles import Bundle
from service.solver.search.outlines import Outline
from service.solver.search.setups import Setup

_KEPT_TABLES = 2048


class Approacher:
    """Tells how near bills come to orders; what choices need is worked out once."""

    def __init__(self, items: Mapping[str, Item]) -> None:
        self._items = items
        self._table_of = kept(_KEPT_TABLES, unit_table)

    def ledger(self, order: Order) -> Ledger:
        """What an order is compared by, in any layout."""
        return Ledger(order, self._items, self._table_of)


@dataclass(frozen=True, eq=False)
class NearestFound:
    """A nearest bill: its cost, what tells it from others, and where it is from; `rank` sorts the nearest first."""

    cost: Cost
    tail: Tail
    setup: Setup
    bundle: Bundle

    @property
    def rank(self) -> tuple[object, ...]:
        return (*self.cost, *self.tail.order)


class Nearest:
    """The valid bill of a layout that is nearest to an order; `rank` sorts the nearest first."""

    def __init__(self, found: NearestFound, order: Order, items: Mapping[str, Item]) -> None:
        self.rank = found.rank
        self._found, self._order, self._items = found, order, items
        self._rail = next(rail for rail in found.setup.rails if rail.sku == found.tail.rail)

    @lazy
    def _needed(self) -> Counter[str]:
        """The units by SKU that one bill needs beyond what is supplied, of what we sell."""
        chosen = chain.from_iterable(choices for _, choices in self._found.tail.choices)
        needed = Counter([item.sku for choice in chosen for x in choice.options for item in x.bought])
        if self._rail.sku != OWN_RAIL and self._rail.sold:
            needed[self._rail.sku] += self._found.setup.banks
        return needed

    @lazy
    def difference(self) -> Difference:
        """What makes the order into the bill."""
        return difference(self._order, self._needed, self._items)

    @property
    def cost(self) -> Cost:
        """Its changes are told against an order without a unit."""
        return self._found.cost

    @lazy
    def bill(self) -> Bill:
        """The bill, as it is for one set."""
        choices = [joined(choices) for _, choices in sorted(self._found.tail.choices, key=itemgetter(0))]
        bundle = self._found.bundle
        return build_bill(self._found.setup, self._rail, choices, bundle.setups, bundle.limits)


class LayoutChoices:
    """What there is to choose from for a request: its setups before flow is judged, the rest when it is asked for.

    It hangs on no order, so that the next one for such a car finds it as it is.
    """

    def __init__(self, outlines: Sequence[Outline], banks: int, bundles: Callable[[], Sequence[Bundle]]) -> None:
        self.outlines = outlines
        self.banks = banks
        self.bundles = bundles


class Approach:
    """How near the bills of one layout come to an order: a bound at once, the nearest bill when it is asked for."""

    def __init__(self, choices: LayoutChoices, ledger: Ledger, items: Mapping[str, Item]) -> None:
        self._choices = choices
        self._ledger = ledger
        self._items = items
        costs = [NearestSearch(stages, None).least_cost for stages in self._outlined()]
        self.at_least = min([cost for cost in costs if cost is not None], default=None)
        """No bill costs less, against an order without a unit; None where there is no bill."""

    @lazy
    def nearest(self) -> Nearest | None:
        """The nearest bill; of two alike in everything, the one of the earlier placement."""
        searches = [(search, alike) for search, alike in self._searches() if search.least_cost is not None]
        cost = min((search.least_cost for search, _ in searches if search.least_cost is not None), default=None)
        best: NearestFound | None = None
        for search, alike in searches:
            if cost is None or search.least_cost != cost:
                continue
            rails = frozenset(search.cheapest_rails)
            for bundle, setup in alike:
                tail = search.first(rails.intersection(setup.rails), setup.components)
                if tail is not None:
                    found = NearestFound(cost, tail, setup, bundle)
                    if best is None or (found.rank, setup.placement) < (best.rank, best.setup.placement):
                        best = found
        return None if best is None else Nearest(best, self._ledger.order, self._items)

    def _outlined(self) -> Iterator[Stages]:
        """The steps to a bill as if any flow would do, once for all outlines that leave the same to choose."""
        alike: dict[object, list[Outline]] = {}
        for outline in self._choices.outlines:
            alike.setdefault(outline.served, []).append(outline)
        for outlines in alike.values():
            columns: list[ChoiceColumns] = [(one.choices,) for together in outlines[0].served for one in together]
            rails = tuple(dict.fromkeys(rail for outline in outlines for rail in outline.rails))
            if rails and all(choices.size for (choices,) in columns):
                yield Stages(rails, self._choices.banks, columns, (), self._ledger)

    def _searches(self) -> Iterator[tuple[NearestSearch, list[tuple[Bundle, Setup]]]]:
        """A search for all setups that leave the same to choose within the same limits, with these setups."""
        alike: dict[object, list[tuple[Bundle, Setup]]] = {}
        for bundle in self._choices.bundles() if self.at_least is not None else ():
            for setup in bundle.setups:
                key = (bundle.limits.scarce, bundle.limits.max_price, *(x.choices.columns for x in setup.components))
                alike.setdefault(key, []).append((bundle, setup))
        for found in alike.values():
            bundle, first = found[0]
            rails = tuple(dict.fromkeys(rail for _, setup in found for rail in setup.rails))
            columns = [component.choices.columns for component in first.components]
            stages = Stages(rails, first.banks, columns, bundle.limits.scarce, self._ledger)
            yield NearestSearch(stages, bundle.limits.max_price), found


def nearest_first(approaches: Sequence[Approach], wanted: int, most: int | None = None) -> list[tuple[int, Nearest]]:
    """The nearest bills of the `wanted` layouts that come nearest (or more), with the place of their layout; by
    changes, then by price, then as the layouts stand.

    `most`: of layouts that take as few changes as the nearest so many are among them, instead of `wanted`.
    """
    bounded = [(x.at_least, place) for place, x in enumerate(approaches)]
    found: list[tuple[int, Nearest]] = []
    for at_least, place in sorted((at_least, place) for at_least, place in bounded if at_least is not None):
        costs = sorted(nearest.cost for _, nearest in found)
        enough = wanted if most is None or not costs or at_least.changes > costs[0].changes else most
        if len(costs) >= enough and at_least > costs[enough - 1]:
            break
        nearest = approaches[place].nearest
        if nearest is not None:
            found.append((place, nearest))
    return sorted(found, key=lambda one: (one[1].cost, one[0]))
