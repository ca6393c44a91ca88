"""The smallest change of one wish that lets a part into a bill: tried, not guessed."""

from collections.abc import Iterable, Iterator
from typing import Any

from service.domain.explanation import Change, Role
from service.domain.lazy import lazy
from service.domain.request import Request
from service.domain.wishes import FLOW_NUMBERS, NUMBERS, Wishes, measure_of
from service.solver.verdicts.case import Case
from service.solver.why_not.numbers import NumberChanger
from service.solver.why_not.relevance import relevant


class ChangeFinder:
    """Finds the smallest change of the request of a case for its item."""

    def __init__(self, case: Case) -> None:
        self._case = case
        self._wishes = Wishes(case.request, case.revision)

    def smallest(self, spot: str | None, role: Role | None) -> Change | None:
        """The change with which the item is at the spot, in the role, or (both None) anywhere; None where no single one
        does. Of numbers that help the one that changes relatively least; only where none does, what is no number."""
        numbers = [(self._relative(name, value), name, value) for name, value in self._numbers(spot, role)]
        if numbers:
            _, name, value = min(numbers)
            return self._change(name, value)
        for name, value in self._others(spot):
            if self._case.places_in(self._with(name, value)).holds(spot, role):
                return self._change(name, value)
        return None

    def _change(self, name: str, value: Any) -> Change:
        return Change(name, value, self._case.count(self._with(name, value)))

    def _with(self, name: str, value: Any) -> Request:
        """The request with a wish at another value, None: without it."""
        kept = [other for other in self._wishes.values if other != name]
        return self._wishes.request_with(kept, {} if value is None else {name: value})

    def _relative(self, name: str, value: float) -> float:
        given: float = self._wishes.values[name]
        return abs(value - given) / max(value, given)

    def _numbers(self, spot: str | None, role: Role | None) -> Iterator[tuple[str, float]]:
        for name in self._wishes.values:
            measure = measure_of(name)
            value = None if measure is None else self._least(name, measure, spot, role)
            if value is not None:
                yield name, value

    def _least(self, name: str, measure: str, spot: str | None, role: Role | None) -> float | None:
        """The value nearest to the given one that lets the item in."""

        def lets_in(request: Request) -> bool:
            return self._case.places_in(request).holds(spot, role)

        if measure == "max_price":
            prices = self._case.prices(self._with(name, None), spot, role)
            return next((price for price in prices if lets_in(self._with(name, price))), None)
        # The less flows the better; and elsewhere than at the spot itself more room never hurts.
        easiest = NUMBERS[measure].least if measure in FLOW_NUMBERS else None
        is_here = spot is not None and name.startswith(f"clearances/{spot}/")
        if (measure in FLOW_NUMBERS or not (is_here or measure == "boost_kpa")) and not lets_in(
            self._with(name, easiest)
        ):
            return None
        return NumberChanger(self._case.judges, lets_in).least_change(self._wishes, name)

    def _others(self, spot: str | None) -> Iterator[tuple[str, Any]]:
        """Changes of wishes that are no numbers, the lighter ones first."""
        values = self._wishes.values
        own = f"exclude/{self._case.item.sku}"
        yield from ((own, None),) if own in values else ()
        yield from self._changed("finish", (self._case.item.finish, None)) if "finish" in values else ()
        yield from self._changed("gauge", (spot, "any", "none"))
        for name in ("max_price", "in_stock_only", "allow_unsold"):
            yield from ((name, self._wishes.default(name)),) if name in values else ()
        yield from ((name, None) for name in self._excluded if name != own)
        yield from ((name, None) for name in values if name.startswith("addons/"))
        yield from self._changed("fuel", self._case.revision.fuels.values())

    @lazy
    def _excluded(self) -> list[str]:
        """The exclusions that could make a difference at all."""
        if not any(name.startswith("exclude/") for name in self._wishes.values):
            return []
        found = relevant(self._case.judges, self._wishes)
        return [name for name in found if name.startswith("exclude/")]

    def _changed(self, name: str, others: Iterable[Any]) -> Iterator[tuple[str, Any]]:
        """A wish at each of these values but the one that it has; None counts where it drops the wish."""
        has = self._wishes.values.get(name, self._wishes.default(name))
        return ((name, other) for other in others if other != has and (other is not None or name == "finish"))
