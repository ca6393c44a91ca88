"""Says why a request has no bill: its conflicts with what led to each, and the least changes that help."""

from functools import partial
from typing import Any

from service.domain.request import Request
from service.domain.why_not import Names, Repair, Story, WhyNot
from service.domain.wishes import Wishes, measure_of
from service.solver.judge.judges import Judges
from service.solver.search.finder import BillFinder
from service.solver.search.setups import Surveyor
from service.solver.why_not.numbers import NumberChanger
from service.solver.why_not.search import clash
from service.solver.why_not.stories import dead_ends
from service.solver.why_not.validity import is_valid


class Advisor:
    """Advises on one revision."""

    def __init__(self, judges: Judges, finder: BillFinder) -> None:
        self._judges = judges
        self._revision = judges.revision
        self._finder = finder
        self._numbers = NumberChanger(judges, partial(is_valid, judges))

    def why_not(self, request: Request) -> WhyNot:
        """The advice on a request without a bill."""
        wishes = Wishes(request, self._revision)
        found = clash(self._judges, wishes)
        return WhyNot(
            tuple(self._story(wishes, names) for names in found.conflicts),
            tuple(self._repair(wishes, names) for names in found.drops),
            found.more_conflicts,
            found.more_drops,
        )

    def _story(self, wishes: Wishes, names: Names) -> Story:
        request = wishes.request_with(names)
        return Story(names, lambda: dead_ends(Surveyor(self._judges, request), request, self._revision))

    def _repair(self, wishes: Wishes, names: Names) -> Repair:
        change: dict[str, Any] = {name: wishes.default(name) for name in names}
        kept = [name for name in wishes.values if name not in names]
        if len(names) == 1:
            value = self._least_change(wishes, names[0], kept)
            change = change if value is None else {names[0]: value}
        given = {name: value for name, value in change.items() if value is not None}
        return Repair(change, self._finder.count(wishes.request_with(kept, given)))

    def _least_change(self, wishes: Wishes, name: str, kept: list[str]) -> float | None:
        measure = measure_of(name)
        if measure is None:
            return None
        if measure == "max_price":
            return self._finder.lowest_price(wishes.request_with(kept))
        return self._numbers.least_change(wishes, name)
