"""Takes choices that break a limit by themselves out of a component, and tells of the parts that are then in none."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass, replace
from typing import NamedTuple

import numpy as np

from service.domain.findings import Finding, Rejection
from service.domain.work import spend
from service.solver.judge.chain_rows import Bools
from service.solver.judge.components import Component
from service.solver.judge.options import Choice, Choices, Paired, joined
from service.solver.judge.picked import CHAINS_A_STEP, Picked

Heads = AbstractSet[tuple[str, str | None]]
"""SKUs with the spots that they meet; rails without."""


@dataclass(frozen=True)
class Sieve:
    """`broken`: what a choice breaks of `rule`; `breaking`: of choices made apart from each other which break it, each
    whatever it is taken with; None where this can't be told of each alone."""

    rule: str
    broken: Callable[[Choice], Finding | None]
    breaking: Callable[[Sequence[Picked]], list[Bools] | None]


class Untold(NamedTuple):
    """Parts that a rule stops, looked for only where somebody asks; `tell` leaves out those that are known."""

    rule: str
    tell: Callable[[Heads], Iterable[Rejection]]


def told(untold: Iterable[Untold]) -> Iterator[Rejection]:
    """What stops parts; of one part at one spot what is found first for a rule."""
    known: dict[str, set[tuple[str, str | None]]] = {}
    for one in untold:
        heads = known.setdefault(one.rule, set())
        found = list(one.tell(heads))
        heads.update((rejection.sku, rejection.spot) for rejection in found)
        yield from found


def sifted(component: Component, sieve: Sieve, untold: list[Untold]) -> Component:
    """The component without the choices that break a limit; heads that are in no other choice are stopped by it."""
    columns = [column for column in component.choices.columns if isinstance(column, Picked)]
    if len(columns) == len(component.choices.columns) and component.choices.size:
        spend(1 + sum(column.size for column in columns) // CHAINS_A_STEP, "bills")
        breaks = sieve.breaking(columns)
        if breaks is not None:
            return _apart(component, columns, breaks, sieve, untold)
    spend(component.choices.size, "bills")
    found = [(choice, sieve.broken(choice)) for choice in component.choices.all]
    kept = Choices(choice for choice, finding in found if finding is None)
    if len(kept.all) == len(found):
        return component

    def tell(known: Heads) -> Iterator[Rejection]:
        for choice, finding in found:
            for option in choice.options if finding is not None else ():
                if finding is not None and option.head not in kept.heads and option.head not in known:
                    yield Rejection(*option.head, finding)

    untold.append(Untold(sieve.rule, tell))
    return replace(component, choices=kept)


def _apart(
    component: Component, columns: Sequence[Picked], breaks: Sequence[Bools], sieve: Sieve, untold: list[Untold]
) -> Component:
    if not any(each.any() for each in breaks):
        return component
    kept = [column.at_indices(~each) for column, each in zip(columns, breaks, strict=True)]
    is_left = all(column.size for column in kept)

    def tell(known: Heads) -> Iterator[Rejection]:
        first, cheapest = ([column.at(place(column)) for column in columns] for place in (_first, _cheapest))
        for place, (column, each) in enumerate(zip(columns, breaks, strict=True)):
            lost = column.at_indices(each) if is_left else column
            heads = lost.heads - kept[place].heads if is_left else lost.heads
            for choice in lost.telling(heads - known):
                for others in (first, cheapest) if len(columns) > 1 else (first,):
                    finding = sieve.broken(joined([*others[:place], choice, *others[place + 1 :]]))
                    if finding is not None:
                        yield Rejection(*choice.options[0].head, finding)

    untold.append(Untold(sieve.rule, tell))
    if not is_left:
        return replace(component, choices=Choices(()))
    return replace(component, choices=kept[0] if len(kept) == 1 else Paired(tuple(kept)))


def _first(_: Picked) -> int:
    return 0


def _cheapest(choices: Picked) -> int:
    return int(np.argmin(choices.costs.price))
