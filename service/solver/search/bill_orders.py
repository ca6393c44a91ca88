"""The orders in which bills may be asked for: what each reads of rails, choices and flow before the cost."""

from collections.abc import Callable, Iterator, Sequence
from math import inf
from operator import attrgetter
from typing import NamedTuple

import numpy as np

from service.domain.chains import Runs
from service.domain.margins import NOTHING_USED
from service.domain.parts import Item
from service.domain.request import SpotSituation
from service.solver.judge.chain_rows import Floats, Ints
from service.solver.judge.columns import Costs
from service.solver.judge.components import Component
from service.solver.judge.options import Choice
from service.solver.judge.path_losses import PathLosses
from service.solver.judge.picked import Picked
from service.solver.search.carrying import Carrier, PowerBand, by_rating
from service.solver.search.frontier import CostKey
from service.solver.search.limits import Spent
from service.solver.search.margins import Measuring, Tightness
from service.solver.search.setups import Setup


class BillOrder(NamedTuple):
    """How an order of bills reads rails and choices: what goes before the cost, the greatest of all, and the cost."""

    worst_of_rail: Callable[[Item, Spent], float]
    worst_of_choice: Callable[[Choice, Spent], float]
    worst_of_flow: Callable[[Component, Runs], float] | None
    """Where this comes on top of the choices."""
    worst_beyond: Callable[[Spent], float]
    """Of the units beyond those that are had."""
    worst_column: Callable[[Picked, Costs], Floats] | None = None
    """As `worst_of_choice`, of many; None where it is nothing."""
    worst_flow_column: Callable[[PathLosses, Ints], Floats] | None = None
    """As `worst_of_flow`, of chains of one path."""
    pieces_first: bool = False
    by_cost: bool = False
    """Whether nothing goes before the cost."""
    by_drop: bool = False
    """Whether the drop alone goes before the cost."""
    sways: Callable[[Component], bool] | None = None
    """Where the flow comes on top; None: wherever something flows."""
    judged: Callable[[tuple[SpotSituation, ...]], "BillOrder"] | None = None
    """The order of choices whose spots are in these situations, where it goes by them."""

    @property
    def ranks_apart(self) -> bool:
        """Whether what shares its flow with the same can be compared without it."""
        return self.by_cost or self.by_drop

    @property
    def goes_by_flow(self) -> bool:
        """Whether how fuel flows goes before the cost."""
        return self.worst_of_flow is not None or self.judged is not None

    @property
    def is_in_columns(self) -> bool:
        """Whether all that goes before the cost is told in columns."""
        return self.worst_of_flow is None or self.worst_flow_column is not None

    def at(self, component: Component) -> "BillOrder":
        """The order of the choices of a component."""
        if self.judged is not None:
            return self.judged(tuple([served.situation for served in component.served])).at(component)
        is_swayed = component.flowing and (self.sways is None or self.sways(component))
        if is_swayed or self.worst_of_flow is None:
            return self
        return self._replace(worst_of_flow=None, worst_flow_column=None)

    def cost(self, spent: Spent) -> CostKey:
        return (spent.pieces, spent.price) if self.pieces_first else (spent.price, spent.pieces)


def _none(_: Item | Choice, __: Spent) -> float:
    return 0.0


def _lead_days(_: Item | Choice, spent: Spent) -> float:
    return spent.lead_days


def _none_beyond(_: Spent) -> float:
    return 0.0


def _lead_days_of_each(_: Picked, costs: Costs) -> Floats:
    return costs.lead_days.astype(np.float64)


def _drop_kpa(component: Component, runs: Runs) -> float:
    return component.drop_kpa(runs)


ORDERS = {
    "price": BillOrder(_none, _none, None, _none_beyond, by_cost=True),
    "pieces": BillOrder(_none, _none, None, _none_beyond, pieces_first=True, by_cost=True),
    "drop": BillOrder(_none, _none, _drop_kpa, _none_beyond, None, PathLosses.told_kpa, by_drop=True),
    "lead": BillOrder(_lead_days, _lead_days, None, attrgetter("lead_days"), _lead_days_of_each),
}
"""The orders that read nothing of what is asked besides."""
KEPT_ORDERS = (*ORDERS, "margin")
"""The orders whose rankings are kept for the next request, that of most requests first; `power` is ranked anew."""


def _tightest(component: Component, runs: Runs) -> float:
    return -component.relatively_left(runs)


def _tightest_of_each(path: PathLosses, places: Ints) -> Floats:
    return -path.relatively_left(places)


def _nothing_used(_: Spent) -> float:
    return -NOTHING_USED


def by_margin(rules: Measuring, situations: Sequence[SpotSituation] = ()) -> BillOrder:
    """The order by what is relatively left of the tightest limit, most first, by what rules for parts read: of rails,
    and of choices whose spots are in these situations."""
    tightness = Tightness(rules, situations)
    return BillOrder(
        lambda rail, _: -tightness.of_rail(rail),
        lambda choice, _: -tightness.of_choice(choice),
        _tightest,
        _nothing_used,
        lambda choices, _: -tightness.of_each(choices),
        _tightest_of_each,
    )


def to_a_tenth(kw: float) -> float:
    """A power as bills are ordered by it."""
    return round(kw, 1)


def by_power(part: PowerBand, carrier: Carrier) -> Iterator[tuple[Setup, BillOrder]]:
    """The order by what bills carry, most first, among those of a part; what nothing is told of goes last."""
    setup = part.setup
    returns = [place for place, x in enumerate(setup.components) if x.flowing and x.states[0].duty == "return"]

    def kw(component: Component, runs: Runs) -> float:
        return carrier.kw(setup, component, runs)

    def order(level: float) -> BillOrder:
        return BillOrder(
            lambda _, __: -level,
            lambda _, __: -inf,
            lambda component, runs: -to_a_tenth(kw(component, runs)),
            lambda _: -inf,
            sways=lambda component: component.states[0].duty == "return",
        )

    if part.level < inf:
        yield setup, order(part.level)
        return
    for narrowed, is_rated in by_rating(setup, returns, lambda component, runs: kw(component, runs) < inf):
        yield narrowed, order(inf if is_rated else -inf)
