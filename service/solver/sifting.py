"""Takes choices that break a limit by themselves out of a component, and tells of the parts that are then in none."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from service.domain.findings import Finding, Rejection
from service.domain.work import spend
from service.solver.chain_rows import Bools
from service.solver.components import Component
from service.solver.options import Choice, Choices, Paired, joined
from service.solver.picked import CHAINS_A_STEP, Picked


@dataclass(frozen=True)
class Sieve:
    """`broken`: what a choice breaks; `breaking`: of choices made apart from each other which break it, each whatever
    it is taken with; None where this can't be told of each alone."""

    broken: Callable[[Choice], Finding | None]
    breaking: Callable[[Sequence[Picked]], list[Bools] | None]


def sifted(component: Component, sieve: Sieve, rejections: list[Rejection]) -> Component:
    """The component without the choices that break a limit; heads that are in no other choice are rejected for it."""
    columns = [column for column in component.choices.columns if isinstance(column, Picked)]
    if len(columns) == len(component.choices.columns) and component.choices.size:
        spend(1 + sum(column.size for column in columns) // CHAINS_A_STEP, "bills")
        breaks = sieve.breaking(columns)
        if breaks is not None:
            return _apart(component, columns, breaks, sieve, rejections)
    spend(component.choices.size, "bills")
    found = [(choice, sieve.broken(choice)) for choice in component.choices.all]
    kept = Choices(choice for choice, finding in found if finding is None)
    if len(kept.all) == len(found):
        return component
    rejections += [
        Rejection(*option.head, finding)
        for choice, finding in found
        if finding is not None
        for option in choice.options
        if option.head not in kept.heads
    ]
    return replace(component, choices=kept)


def _apart(
    component: Component, columns: Sequence[Picked], breaks: Sequence[Bools], sieve: Sieve, rejections: list[Rejection]
) -> Component:
    if not any(each.any() for each in breaks):
        return component
    kept = [column.at_indices(~each) for column, each in zip(columns, breaks, strict=True)]
    is_left = all(column.size for column in kept)
    for place, (column, each) in enumerate(zip(columns, breaks, strict=True)):
        lost = column.at_indices(each) if is_left else column
        heads = lost.heads - kept[place].heads if is_left else lost.heads
        for choice in lost.telling(heads):
            for together in _with_others(columns, place, choice):
                finding = sieve.broken(together)
                if finding is not None:
                    rejections.append(Rejection(*choice.options[0].head, finding))
    if not is_left:
        return replace(component, choices=Choices(()))
    return replace(component, choices=kept[0] if len(kept) == 1 else Paired(tuple(kept)))


def _with_others(columns: Sequence[Picked], place: int, choice: Choice) -> Iterator[Choice]:
    """A choice with the first and with the cheapest of each of the others."""
    if len(columns) == 1:
        yield choice
        return
    for others in ([0] * len(columns), [int(np.argmin(column.costs.price)) for column in columns]):
        yield joined([choice if at == place else column.at(others[at]) for at, column in enumerate(columns)])
