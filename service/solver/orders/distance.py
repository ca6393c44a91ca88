"""The steps to a bill of a world against an order, and the fewest changes that any bill of it takes.

A tie is charged with the last step that may need it, and forgotten then.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from service.domain.orders import Cost
from service.domain.parts import Item
from service.solver.components import Component
from service.solver.limits import Limits, Scarce
from service.solver.options import Choices
from service.solver.orders.ledger import Ledger, Ties, Toll, Units
from service.solver.orders.unit_tables import UnitTable
from service.solver.worlds import Outline, World

Part = tuple[Choices, Component | None]


@dataclass(eq=False)
class Step:
    """The choice of a rail (then there is no component), or of a component.

    `tied`: what ties it to other steps; `ends`: the fields of the ties that no later step needs.
    """

    toll: Toll
    rails: tuple[Item, ...] = ()
    component: Component | None = None
    table: UnitTable | None = None
    tied: Ties = 0
    ends: Units = 0


class Steps:
    """Rails, and choices that are made apart from each other: those that are tied first, the largest before others."""

    def __init__(
        self, rails: tuple[Item, ...], banks: int, parts: Sequence[Part], scarce: Sequence[Scarce], ledger: Ledger
    ) -> None:
        self._ledger = ledger
        owning = [ledger.own(choices) for choices, _ in parts]
        once: Ties = 0
        shared: Ties = 0
        for own in owning:
            shared |= once & own
            once |= own
        self.tied: list[Step] = []
        self.free = [Step(ledger.of_rails(rails, banks), rails)]
        self._scarce: Units = 0
        for (choices, component), own in zip(parts, owning, strict=True):
            tied = own & shared
            if scarce:
                tied |= ledger.scarce(choices, scarce)
            step = Step(ledger.of_choices(choices, own & ~shared, tied), (), component, ledger.table_of(choices), tied)
            (self.tied if tied else self.free).append(step)
        if self.tied:
            self._end_ties()

    def _end_ties(self) -> None:
        self.tied.sort(key=lambda step: -len(step.toll.fewest))
        later: Units = 0
        for step in reversed(self.tied):
            needed = self._ledger.fields(step.tied)
            step.ends = needed & ~later
            later |= needed
        self._scarce = self._ledger.scarce_fields & later

    def joined(self, step: Step, units: Units) -> tuple[Units, Cost] | None:
        """After a step in which this was reached: what later steps have to know of it, and what the ties that end
        there cost; None where it is more than there may be."""
        if self._scarce & units and not self._ledger.allows(units & self._scarce):
            return None
        ending = units & step.ends
        return units ^ ending, self._ledger.extra_of(ending)

    @cached_property
    def fewest_changes(self) -> int | None:
        """The fewest changes of any bill, whatever its price; None without a bill."""
        changes = sum([step.toll.fewest_of_all for step in self.free])
        if not self.tied:
            return changes
        ends = self.levels[-1]
        return changes + ends[0] if ends else None

    @cached_property
    def levels(self) -> list[dict[Units, int]]:
        """Before the first tied step and after each: by what is needed of the ties, the fewest changes so far."""
        levels: list[dict[Units, int]] = [{0: 0}]
        for step in self.tied:
            following: dict[Units, int] = {}
            for units, changes in levels[-1].items():
                for left, further in self._onwards(step, units):
                    known = following.get(left)
                    if known is None or changes + further < known:
                        following[left] = changes + further
            levels.append(following)
        return levels

    @cached_property
    def on_the_way(self) -> list[dict[Units, int]]:
        """Of these levels, only what some bill of the fewest changes begins with."""
        wanted = self.levels[-1]
        found = [wanted]
        for step, level in zip(reversed(self.tied), reversed(self.levels[:-1]), strict=True):
            wanted = {
                units: changes
                for units, changes in level.items()
                if any(wanted.get(left) == changes + more for left, more in self._onwards(step, units))
            }
            found.append(wanted)
        return found[::-1]

    def _onwards(self, step: Step, units: Units) -> list[tuple[Units, int]]:
        """What a step leads to, and the fewest changes that it takes."""
        found = []
        for more, changes in step.toll.fewest.items():
            joined = self.joined(step, units + more)
            if joined is not None:
                found.append((joined[0], changes + joined[1][0]))
        return found

    def may_save(self, units: Units) -> int:
        """By how many changes at most these units of the ties pay for themselves, whatever stands in other steps."""
        order, found = self._ledger.order, 0
        for tie, count in self._ledger.counts(units):
            if tie.most is None:
                needed = order.sets * count
                ordered = min(needed, order.units.get(tie.sku, 0))
                found += 2 * ordered + min(needed - ordered, order.had.get(tie.sku, 0))
        return found

    def changes_so_far(self, units: Units) -> int:
        """The changes for units of what later steps may need more of."""
        return self._ledger.extra_of(units).changes

    def may_spare(self, step: Step) -> int:
        """By how much totals may go down from this step on, for had units of ties that have not ended before."""
        if not (step.tied and self._ledger.order.had):
            return 0
        ending = sum(later.ends for later in self.tied[self.tied.index(step) :])
        skus = [tie.sku for tie, _ in self._ledger.counts(ending) if tie.most is None]
        return sum(self._ledger.price(sku) * self._ledger.order.had.get(sku, 0) for sku in skus)


class Plan(Steps):
    """The steps to a bill of a world."""

    def __init__(self, world: World, limits: Limits, ledger: Ledger) -> None:
        parts = [(part.choices, part) for part in world.components]
        super().__init__(world.rails, world.banks, parts, limits.scarce, ledger)
        self.world = world


def fewest_changes(outline: Outline, banks: int, ledger: Ledger) -> int | None:
    """The fewest changes of any bill, and of more that would be ones if any flow would do; None without a bill."""
    parts = [(one.choices, None) for together in outline.served for one in together]
    if not all(choices.all for choices, _ in parts):
        return None
    return Steps(outline.rails, banks, parts, (), ledger).fewest_changes
