"""What the rails and choices of a world cost against an order, step by step.

Units of a SKU that is ordered or had count for what all components need of them together. So the choices of each
component are taken apart by what they need of these; where several components need the same, a beginning of a bill
carries the count on (`Shared`) until the last of them is settled.
"""

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

from service.domain.orders import NOTHING, Cost, Order, plus
from service.domain.parts import OWN_RAIL, Item
from service.solver.components import Component
from service.solver.limits import Limits
from service.solver.options import Choices
from service.solver.tables import Mask
from service.solver.unit_tables import Counts, UnitTable
from service.solver.worlds import World

Units = tuple[int, ...]
"""So many of each of what is shared; what no later step needs is cut off the end."""

TableOf = Callable[[Choices], UnitTable]


class Shared(NamedTuple):
    """A SKU of which several steps may need some. `most`: of what is scarce, at most so many (at these spots, None:
    anywhere); None where it is ordered or had. `price` of one unit, 0 where it is not sold."""

    sku: str
    price: int
    most: int | None = None
    spots: frozenset[str] | None = None


class Offer(NamedTuple):
    """Alike ways to settle a step: what they need of what is shared, and cost besides it."""

    units: Units
    cost: Cost
    ways: Mask


class _Group(NamedTuple):
    """Choices that need the same of all that is ordered, had or scarce; `extra`: what they cost for the units that no
    other step needs, beyond what others of as many pieces cost."""

    units: Units
    extra: Cost
    mask: Mask


@dataclass(frozen=True, eq=False)
class Step:
    """The choice of a rail (`component` None), or in a component. `live`: how much of what is shared later steps
    need."""

    component: Component | None
    table: UnitTable | None
    rails: tuple[Item, ...]
    groups: tuple[_Group, ...]
    live: int


class Plan:
    """The steps to a bill of a world, and what they cost against an order."""

    def __init__(
        self, world: World, limits: Limits, order: Order, items: Mapping[str, Item], table_of: TableOf
    ) -> None:
        self.world = world
        self.order = order
        self._items = items
        parts = sorted(world.components, key=lambda part: -len(part.choices.all))
        tables = [table_of(part.choices) for part in parts]
        own = [[sku for sku in (*order.units, *order.had) if sku in table.holding] for table in tables]
        needing = Counter(sku for skus in own for sku in dict.fromkeys(skus))
        self.shared = self._shared(tables, needing, limits)
        alone = [[sku for sku in dict.fromkeys(skus) if needing[sku] == 1] for skus in own]
        rails = Step(None, None, world.rails, (), len(self.shared))
        self.steps = [rails] + [
            Step(part, table, (), tuple(self._groups(table, skus)), self._live_after(index, tables))
            for index, (part, table, skus) in enumerate(zip(parts, tables, alone, strict=True))
        ]

    def _shared(self, tables: Sequence[UnitTable], needing: Mapping[str, int], limits: Limits) -> tuple[Shared, ...]:
        """What several steps need, what the later ones need first."""
        found = [Shared(sku, self._price(sku)) for sku, steps in needing.items() if steps > 1]
        found += [
            Shared(scarce.sku, 0, scarce.most, scarce.spots)
            for scarce in limits.scarce
            if any(scarce.sku in table.holding for table in tables)
        ]
        return tuple(sorted(found, key=lambda shared: -_last(shared, tables)))

    def _live_after(self, index: int, tables: Sequence[UnitTable]) -> int:
        return sum(_last(shared, tables) > index for shared in self.shared)

    def _price(self, sku: str) -> int:
        item = self._items[sku]
        return item.price if item.sold else 0

    def _groups(self, table: UnitTable, alone: Iterable[str]) -> Iterator[_Group]:
        parts = [((), NOTHING, table.whole)]
        for sku in alone:
            price = self._price(sku)
            extra = {units: self.order.beyond_plain(sku, price, units) for units in (0, *table.holding[sku])}
            parts = [((), plus(cost, extra[n]), hit) for _, cost, mask in parts for n, hit in _by(table.holding[sku], mask)]
        whole: list[tuple[Units, Cost, Mask]] = list(parts)
        for shared in self.shared:
            counts = table.at_spots(shared.sku, shared.spots)
            whole = [((*units, n), cost, hit) for units, cost, mask in whole for n, hit in _by(counts, mask)]
        yield from (_Group(*part) for part in whole)

    # --- what a step costs -------------------------------------------------------------------------------------

    def fewest_changes(self, step: Step) -> dict[Units, int]:
        """By what a step needs of what is shared, the changes that it costs besides at the least."""
        if step.table is None:
            return {(0,) * len(self.shared): min(self.of_rail(rail).changes for rail in step.rails)}
        found: dict[Units, int] = {}
        for group in step.groups:
            pieces, _ = step.table.fewest_pieces(group.mask)
            changes = self.order.sets * pieces + group.extra.changes
            found[group.units] = min(changes, found.get(group.units, changes))
        return found

    def offers(self, step: Step, *, nearest_only: bool) -> list[Offer]:
        """The ways to settle a step; `nearest_only`: those of the fewest changes for what they need of the shared."""
        if step.table is None:
            return self._rail_offers(step, nearest_only=nearest_only)
        fewest = self.fewest_changes(step) if nearest_only else {}
        found: dict[tuple[Units, Cost], Mask] = {}
        sets = self.order.sets
        for units, extra, mask in step.groups:
            for pieces, price, hit in step.table.priced(mask):
                cost = plus(extra, Cost(sets * pieces, sets * price, price, pieces))
                if cost.changes <= fewest.get(units, cost.changes):
                    found[units, cost] = found.get((units, cost), 0) | hit
        return [Offer(units, cost, ways) for (units, cost), ways in found.items()]

    def _rail_offers(self, step: Step, *, nearest_only: bool) -> list[Offer]:
        costs: dict[Cost, Mask] = {}
        for place, rail in enumerate(step.rails):
            cost = self.of_rail(rail)
            costs[cost] = costs.get(cost, 0) | 1 << place
        fewest = min(cost.changes for cost in costs)
        none = (0,) * len(self.shared)
        return [Offer(none, x, ways) for x, ways in costs.items() if x.changes == fewest or not nearest_only]

    def of_rail(self, rail: Item) -> Cost:
        """What the rails of a bill cost."""
        if rail.sku == OWN_RAIL:
            return NOTHING
        price, banks, sets = rail.price if rail.sold else 0, self.world.banks, self.order.sets
        plain = Cost(sets * banks, sets * banks * price, banks * price, banks)
        return plus(plain, self.order.beyond_plain(rail.sku, price, banks))

    # --- what is shared ----------------------------------------------------------------------------------------

    @cached_property
    def _settled_from(self) -> tuple[int, ...]:
        return tuple(
            self.order.settled_from(shared.sku) if shared.most is None else shared.most + 1 for shared in self.shared
        )

    def added(self, units: Units, more: Units, live: int) -> tuple[Units, Cost] | None:
        """Both together: what later steps have to know of it, and what the rest costs; None where it is too much."""
        extra = NOTHING
        left = []
        for place, had in enumerate(units):
            count = min(had + more[place], self._settled_from[place])
            shared = self.shared[place]
            if shared.most is not None:
                if count > shared.most:
                    return None
            elif place >= live:
                extra = plus(extra, self.order.beyond_plain(shared.sku, shared.price, count))
            if place < live:
                left.append(count)
        return tuple(left), extra

    def changes_so_far(self, units: Units) -> int:
        """The changes for units of what later steps may need more of."""
        pairs = zip(units, self.shared, strict=False)
        return sum(self.order.beyond_plain(x.sku, x.price, n).changes for n, x in pairs if x.most is None)

    def changes_at_least(self, units: Units) -> int:
        """The changes for these units of what is shared, whatever stands in other steps."""
        found = 0
        for units_here, shared in zip(units, self.shared, strict=True):
            if units_here and shared.most is None:
                needed = self.order.sets * units_here
                ordered = min(needed, self.order.units.get(shared.sku, 0))
                found -= 2 * ordered + min(needed - ordered, self.order.had.get(shared.sku, 0))
        return found

    def spared(self, live: int) -> int:
        """By how much prices may go down yet for had units of what is shared."""
        return sum(x.price * self.order.had.get(x.sku, 0) for x in self.shared[:live] if x.most is None)


def _last(shared: Shared, tables: Sequence[UnitTable]) -> int:
    return max(index for index, table in enumerate(tables) if shared.sku in table.holding)


def _by(counts: Counts, mask: Mask) -> Iterator[tuple[int, Mask]]:
    """A mask taken apart by how many units its choices need."""
    for units, having in counts.items():
        if mask & having:
            yield units, mask & having
            mask &= ~having
    if mask:
        yield 0, mask
