"""Says why a request has no bill: its conflicts with what led to each, and the least changes that help."""

from collections.abc import Callable
from typing import Any

from service.domain.request import Request
from service.domain.revision import Revision
from service.domain.why_not import Names, Repair, Story, WhyNot
from service.domain.wishes import Wishes, measure_of
from service.solver.flow_judge import FlowJudge
from service.solver.judge.spots import SpotJudge
from service.solver.search.setups import Surveyor
from service.solver.why_not.numbers import NumberChanger
from service.solver.why_not.search import ClashFinder
from service.solver.why_not.stories import dead_ends
from service.solver.why_not.truth import Universe
from service.solver.why_not.validity import Validity


class Advisor:
    """Advises on one revision. `count` gives the number of a request's bills, `lowest_price` that of its cheapest."""

    def __init__(
        self,
        revision: Revision,
        spots: SpotJudge,
        flows: FlowJudge,
        count: Callable[[Request], int],
        lowest_price: Callable[[Request], int | None],
    ) -> None:
        self._revision = revision
        self._spots = spots
        self._flows = flows
        self._count = count
        self._lowest_price = lowest_price
        self._clashes = ClashFinder(revision, spots, flows, self.is_valid)
        self._numbers = NumberChanger(revision, spots, flows, self.is_valid)

    def is_valid(self, request: Request) -> bool:
        """Whether a request has any valid bill."""
        wishes = Wishes(request, self._revision)
        fixed = tuple(wishes.values)
        return bool(Validity(self._revision, self._spots, self._flows, wishes, Universe(()), fixed).truth())

    def why_not(self, request: Request) -> WhyNot:
        """The advice on a request without a bill."""
        wishes = Wishes(request, self._revision)
        clash = self._clashes.clash(wishes)
        return WhyNot(
            tuple(self._story(wishes, names) for names in clash.conflicts),
            tuple(self._repair(wishes, names) for names in clash.drops),
            clash.more_conflicts,
            clash.more_drops,
        )

    def _story(self, wishes: Wishes, names: Names) -> Story:
        request = wishes.request_with(names)
        surveyor = Surveyor(self._revision, request, self._spots, self._flows)
        return Story(names, dead_ends(surveyor, request, self._revision))

    def _repair(self, wishes: Wishes, names: Names) -> Repair:
        change: dict[str, Any] = {name: wishes.default(name) for name in names}
        kept = [name for name in wishes.values if name not in names]
        if len(names) == 1:
            value = self._least_change(wishes, names[0], kept)
            change = change if value is None else {names[0]: value}
        given = {name: value for name, value in change.items() if value is not None}
        return Repair(change, self._count(wishes.request_with(kept, given)))

    def _least_change(self, wishes: Wishes, name: str, kept: list[str]) -> float | None:
        measure = measure_of(name)
        if measure is None:
            return None
        if measure == "max_price":
            return self._lowest_price(wishes.request_with(kept))
        return self._numbers.least_change(wishes, name)
