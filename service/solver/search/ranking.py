"""The best bills of a setup, in order, without sorting all.

The components are joined one by one, and of the beginnings so far only those are kept that can still become one of
the best.
"""

from collections.abc import Callable
from functools import lru_cache, partial
from math import inf

from service.domain.work import kept, spend
from service.solver.judge.components import Component
from service.solver.judge.options import Choices
from service.solver.judge.picked import Picked
from service.solver.search import beginnings, offers
from service.solver.search.beginnings import Rails
from service.solver.search.best_first import best_first
from service.solver.search.bill_orders import ORDERS, BillOrder, by_margin, by_power, to_a_tenth
from service.solver.search.bundles import Bundle
from service.solver.search.carrying import Carrier
from service.solver.search.frontier import SORT_KEY, Kept, Ranked, in_order
from service.solver.search.limits import Limits
from service.solver.search.margins import Measuring, measuring
from service.solver.search.setups import Setup
from service.solver.search.shortlists import Offered, Shortlists, cheapest_together, shortlist, with_drops
from service.solver.search.thinning import FEW

Least = tuple[float, int]
"""What goes before the cost of a bill, and what comes first of the cost."""


class Ranker:
    """Ranks bills; what an order ranks alike in several setups is ranked once."""

    def __init__(self) -> None:
        self._free_beginnings = kept(1024, partial(_beginnings, kept(2048, offers.resting)))
        self._free_singles = kept(2048, offers.singles_by_runs)
        self._free_flowing = kept(1024, partial(offers.flowing, kept(2048, offers.alike_on_a_path)))
        self._shortlists: Shortlists = kept(2048, self._shortlist)
        self._together = kept(2048, cheapest_together)
        self._by_margin = lru_cache(16)(self._margins_at)
        self._least_worst = kept(1024, offers.least_worst)

    def best(
        self, bundle: Bundle, order_by: str, wanted: int, *, grouped: bool, carrier: Carrier | None = None
    ) -> list[tuple[Ranked, Setup]]:
        """The best bills of a bundle, at most `wanted` (grouped: of different groups), in order, with their setups.

        `carrier`: given, they are ordered by what they carry.
        """
        ranked = partial(self._by_order, order_by) if carrier is None else partial(self._by_power, carrier)
        found = [(one, setup) for setup in bundle.setups for one in ranked(setup, bundle.limits, wanted, grouped)]
        if len(bundle.setups) > 1:
            found.sort(key=lambda ranked: SORT_KEY(ranked[0]))
        first: dict[tuple[object, ...], tuple[Ranked, Setup]] = {}
        for one, setup in found:
            first.setdefault(one.group if grouped else (one.rail, one.texts), (one, setup))
        return list(first.values())[:wanted]

    def least(self, bundle: Bundle, order_by: str) -> Least:
        """No bill of a bundle comes before this, as far as that is told without ranking."""
        if bundle.limits.had or bundle.limits.free or order_by == "power":
            return -inf, 0
        alive = [setup for setup in bundle.setups if setup.alive]
        return min([self._least_of(setup, self._order(order_by, setup)) for setup in alive], default=(inf, 0))

    def _least_of(self, setup: Setup, order: BillOrder) -> Least:
        rails = setup.priced_rails
        worst = min([order.worst_of_rail(*one) for one in rails])
        if not order.by_cost:
            many = [x for x in setup.components if x.choices.size > FEW]
            worst = max([worst, *[self._least_worst(x.choices, x.path, order.at(x)) for x in many]])
        if order.pieces_first:
            return worst, 0
        return worst, min([spent.price for _, spent in rails]) + sum([x.choices.lowest_price for x in setup.components])

    def _by_order(self, order_by: str, setup: Setup, limits: Limits, wanted: int, grouped: bool) -> list[Ranked]:
        return self._of_setup(setup, limits, self._order(order_by, setup), wanted, grouped, free=True)

    def _order(self, order_by: str, setup: Setup) -> BillOrder:
        return ORDERS.get(order_by) or self._by_margin(measuring(setup.parts))

    def _margins_at(self, rules: Measuring) -> BillOrder:
        """The order by margin, one object wherever it ranks alike."""
        judged = lru_cache(128)(partial(by_margin, rules))
        return by_margin(rules)._replace(judged=judged)

    def _by_power(self, carrier: Carrier, setup: Setup, limits: Limits, wanted: int, grouped: bool) -> list[Ranked]:
        """What carries most first; parts of the setup are looked at while they can hold one of the best."""
        found: list[Ranked] = []
        for part in carrier.parts(setup, to_a_tenth):
            before = (one for one in found if one.worst < -part.level)
            if len({one.group if grouped else (one.rail, one.texts) for one in before}) >= wanted:
                break
            for narrowed, order in by_power(part, carrier):
                found += self._of_setup(narrowed, limits, order, wanted, grouped, free=False)
        return in_order(found)

    def _of_setup(
        self, setup: Setup, limits: Limits, order: BillOrder, wanted: int, grouped: bool, *, free: bool
    ) -> list[Ranked]:
        """`free`: orders that rank alike are the same."""
        if limits.had:
            return _by_search(setup, limits, order, wanted, grouped)
        free = free and not setup.have
        rails = setup.priced_rails
        if free and not (order.goes_by_flow or limits.watching):
            choices = tuple([(component.choices, component.flowing) for component in setup.components])
            few = self._shortlists(rails, choices, limits, order, wanted, grouped)
            if few is not None:
                return with_drops(few, setup.components)
        begin = self._free_beginnings if free else partial(_beginnings, offers.resting)
        at_rest = tuple([(x.choices, order.at(x)) for x in setup.components if not x.flowing])
        begun = begin(rails, at_rest, limits, order, wanted, grouped)
        whole = [one.ranked for one in begun]
        for component in setup.components:
            if component.flowing:
                flowing = self._flowing(component, limits, order.at(component), wanted, grouped, free=free)
                begun = begun or offers.still_promising(whole, limits, order, wanted, grouped)
                whole, begun = beginnings.joined(begun, flowing, wanted), []
        return in_order(one for one in whole if limits.allow(one.needs)) if limits.watching else in_order(whole)

    def _shortlist(
        self,
        rails: Rails,
        components: tuple[Offered, ...],
        limits: Limits,
        order: BillOrder,
        wanted: int,
        grouped: bool,
    ) -> tuple[Kept, ...] | None:
        return shortlist(self._shortlists, self._together, rails, components, limits, order, wanted, grouped)

    def _flowing(
        self, component: Component, limits: Limits, order: BillOrder, wanted: int, grouped: bool, *, free: bool
    ) -> list[Kept]:
        """The promising choices of a component through which something flows."""
        if component.path is not None and isinstance(component.choices, Picked) and order.is_in_columns:
            alone = self._free_flowing if free else partial(offers.flowing, offers.alike_on_a_path)
            return alone(component.choices, component.path, limits, order, wanted, grouped)
        if len(component.choices.columns) > 1 and order.ranks_apart:
            together = offers.together(component, limits, order, wanted, grouped)
            return offers.still_promising(together, limits, order, wanted, grouped)
        singles = self._free_singles if free else offers.singles_by_runs
        by_runs = singles(component.choices, limits, order, wanted, grouped)
        return offers.with_flow(by_runs, component, limits, order, wanted, grouped)


def _by_search(setup: Setup, limits: Limits, order: BillOrder, wanted: int, grouped: bool) -> list[Ranked]:
    """Where some of what is needed is had but perhaps not all, only the whole bill tells what it costs."""
    steps = [[beginnings.of_rail(rail, spent, limits, order) for rail, spent in setup.priced_rails]]
    for component in setup.components:
        own = order.at(component)
        thinned = own.is_in_columns or not component.flowing
        left = list(
            offers.foremost(component.choices, component.path, limits, own, wanted, grouped)
            if thinned
            else component.choices.all
        )
        spend(len(left), "bills")
        singles = [beginnings.of_choice(choice, limits, own) for choice in left]
        if component.flowing:
            singles = [beginnings.with_its_flow(one, component, own) for one in singles]
        steps.append(singles)
    return best_first(
        steps,
        limits,
        wanted,
        grouped=grouped,
        join=beginnings.join,
        settle=lambda one: beginnings.settled(one, limits, order),
    )


def _beginnings(
    resting: Callable[[Choices, Limits, BillOrder, int, bool], list[Kept]],
    rails: Rails,
    at_rest: tuple[tuple[Choices, BillOrder], ...],
    limits: Limits,
    order: BillOrder,
    wanted: int,
    grouped: bool,
) -> list[Kept]:
    """The promising ways to choose a rail and for the components where nothing flows."""
    starts = (beginnings.of_rail(rail, spent, limits, order) for rail, spent in rails)
    begun = offers.still_promising(starts, limits, order, wanted, grouped)
    for choices, own in at_rest:
        joined = beginnings.joined(begun, resting(choices, limits, own, wanted, grouped), wanted)
        begun = offers.still_promising(joined, limits, order, wanted, grouped)
    return begun
