"""The valid bill nearest to an order: exact, and without building every bill.

Nearest is what takes the fewest changes, then the least change of price, then what comes first by price, pieces, drop,
chains and rail.
"""

from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from functools import cached_property, lru_cache

from service.domain.answer import Bill
from service.domain.orders import Order
from service.domain.parts import OWN_RAIL, Item
from service.solver.bills import build_bill
from service.solver.bundles import Bundle
from service.solver.orders.distance import Plan, fewest_changes
from service.solver.orders.ledger import Ledger
from service.solver.orders.search import Found, Search
from service.solver.orders.unit_tables import UnitTable
from service.solver.worlds import Outline

_KEPT_TABLES = 2048


class Approacher:
    """Tells how near bills come to orders; what choices need is worked out once."""

    def __init__(self, items: Mapping[str, Item]) -> None:
        self._items = items
        self._table_of = lru_cache(_KEPT_TABLES)(UnitTable)

    def ledger(self, order: Order) -> Ledger:
        """What an order is compared by, in any layout."""
        return Ledger(order, self._items, self._table_of)


class Nearest:
    """The valid bill of a layout that is nearest to an order; `rank` sorts the nearest first."""

    def __init__(self, found: Found, bundle: Bundle, plan: Plan, order: Order) -> None:
        self.rank = found.rank
        self._found, self._bundle, self._plan, self._order = found, bundle, plan, order
        self._rail = next(rail for rail in plan.world.rails if rail.sku == found.tail.rail)

    @cached_property
    def needed(self) -> Counter[str]:
        """The units by SKU that one bill needs beyond what is supplied."""
        chosen = [item.sku for _, choice in self._found.tail.choices for x in choice.options for item in x.needed]
        needed = Counter(chosen)
        if self._rail.sku != OWN_RAIL:
            needed[self._rail.sku] += self._plan.world.banks
        return needed

    @cached_property
    def added(self) -> Counter[str]:
        """The units to add to the order."""
        return self._got - Counter(self._order.units)

    @cached_property
    def removed(self) -> Counter[str]:
        """The units to remove from the order."""
        return Counter(self._order.units) - self._got

    @cached_property
    def _got(self) -> Counter[str]:
        return Counter({sku: self._order.to_get(sku, units) for sku, units in self.needed.items()})

    @property
    def changes(self) -> int:
        return self.added.total() + self.removed.total()

    @property
    def net_changes(self) -> int:
        """The changes against an order without a unit."""
        return self._found.cost.changes

    @property
    def price_change(self) -> int:
        """The price of all sets less that of what is ordered, minor units."""
        return self._found.cost.total - self._order.list_price

    @cached_property
    def bill(self) -> Bill:
        """The bill, as it is for one set."""
        world, bundle = self._plan.world, self._bundle
        chosen = {step.component: choice for step, choice in self._found.tail.choices}
        choices = [chosen[component] for component in world.components]
        return build_bill(world, self._rail, choices, bundle.worlds, bundle.limits, grouped=False)


class Ground:
    """What there is to choose from for a request: its worlds before flow is judged, the rest when it is asked for.

    It hangs on no order, so that the next one for such a car finds it as it is.
    """

    def __init__(self, outlines: Sequence[Outline], banks: int, bundles: Callable[[], Sequence[Bundle]]) -> None:
        self.outlines = outlines
        self.banks = banks
        self._bundles = bundles

    @cached_property
    def bundles(self) -> Sequence[Bundle]:
        return self._bundles()


class Approach:
    """How near the bills of one layout come to an order: a bound at once, the nearest bill when it is asked for."""

    def __init__(self, ground: Ground, ledger: Ledger) -> None:
        self._ground = ground
        self._ledger = ledger
        bounds = [fewest_changes(outline, ground.banks, ledger) for outline in ground.outlines]
        self.at_least = min([changes for changes in bounds if changes is not None], default=None)
        """No bill takes fewer changes, against an order without a unit; None where there is no bill."""

    @cached_property
    def nearest(self) -> Nearest | None:
        """The nearest bill; of two alike in everything, the one of the earlier placement."""
        order = self._ledger.order
        best: tuple[tuple[object, ...], Found, Bundle, Plan] | None = None
        for fewest, bundle, plan in self._plans() if self.at_least is not None else ():
            most = None if best is None else best[1].cost.changes
            if most is not None and fewest > most:
                break
            found = _nearest_of(plan, order, bundle.limits.max_price, most)
            if found is not None:
                rank = (*found.rank, plan.world.placement)
                if best is None or rank < best[0]:
                    best = (rank, found, bundle, plan)
        return None if best is None else Nearest(*best[1:], order)

    def _plans(self) -> list[tuple[int, Bundle, Plan]]:
        """All worlds that have a bill, those with the fewest changes first."""
        plans = [
            (bundle, Plan(world, bundle.limits, self._ledger))
            for bundle in self._ground.bundles
            for world in bundle.worlds
        ]
        bounded = [(plan.fewest_changes, bundle, plan) for bundle, plan in plans]
        found = [(changes, bundle, plan) for changes, bundle, plan in bounded if changes is not None]
        return sorted(found, key=lambda one: one[0])


def _nearest_of(plan: Plan, order: Order, max_price: int | None, most: int | None) -> Found | None:
    """The nearest bill of a world. Mostly the nearest of all is not too dear; only else the price makes work."""
    found = Search(plan, order.list_price, None).nearest(most)
    if found is None or max_price is None or found.cost.price <= max_price:
        return found
    return Search(plan, order.list_price, max_price).nearest(most)


def nearest_first(approaches: Sequence[Approach], wanted: int) -> list[tuple[int, Nearest]]:
    """The nearest bills of the `wanted` layouts that come nearest (or more), with the place of their layout; by
    changes, then by the change of price, then as the layouts stand."""
    bounded = [(x.at_least, place) for place, x in enumerate(approaches)]
    found: list[tuple[int, Nearest]] = []
    for at_least, place in sorted((at_least, place) for at_least, place in bounded if at_least is not None):
        if len(found) >= wanted and at_least > sorted(nearest.net_changes for _, nearest in found)[wanted - 1]:
            break
        nearest = approaches[place].nearest
        if nearest is not None:
            found.append((place, nearest))
    return sorted(found, key=lambda one: (one[1].changes, abs(one[1].price_change), one[0]))
