"""Of many choices for a spot those that could stand in one of the best bills, found in columns of figures.

What goes is beaten, whatever both are completed with, by as many others (grouped: of other groups, or by one of its
own) as are wanted. What is left may be a few more than that: the rest of the ranking looks at them one by one.
"""

from bisect import insort
from collections.abc import Iterator
from typing import NamedTuple

import numpy as np

from service.domain.work import spend
from service.solver.chain_rows import Floats, Ints
from service.solver.limits import Limits
from service.solver.picked import CHAINS_A_STEP, Picked

_BLOCK = 64
FEW = 24
"""So few choices are not worth thinning."""


class Standing(NamedTuple):
    """What choices are ranked by: columns. `worst`: None where nothing goes before the cost."""

    worst: Floats | None
    cost: Ints
    drop_kpa: Floats | None
    text: Ints
    group: Ints


def worth_ranking(
    choices: Picked, limits: Limits, standing: Standing, wanted: int, *, grouped: bool, pieces_first: bool
) -> list[int]:
    """The places among these choices of those that may stand in one of the `wanted` best bills within the limits."""
    if choices.size <= FEW:
        return list(range(choices.size))
    spend(choices.size // CHAINS_A_STEP, "bills")
    found: list[int] = []
    for places in _comparable(choices, limits, pieces_first=pieces_first):
        found += _best_of(places, standing, wanted, grouped=grouped)
    return sorted(found)


def _comparable(choices: Picked, limits: Limits, *, pieces_first: bool) -> Iterator[Ints]:
    """Choices taken apart by all that is limited and does not grow with their cost: of those together what costs no
    more is allowed wherever the other is."""
    places = np.arange(choices.size)
    needs = choices.needs(limits)
    if limits.max_price is not None:
        needs[:, 0] = choices.spent(limits).pieces if pieces_first else 0
    if not needs.shape[1]:
        yield places
        return
    _, kinds = np.unique(needs, axis=0, return_inverse=True)
    kinds = kinds.reshape(-1)
    for kind in range(kinds.max(initial=-1) + 1):
        yield places[kinds == kind]


def _best_of(places: Ints, standing: Standing, wanted: int, *, grouped: bool) -> Iterator[int]:
    """Of choices that are only told apart by their standing."""
    worst, cost, drop_kpa, text, group = standing
    if worst is None:
        places = cheap(places, cost, group, wanted, grouped=grouped)
    keys = [text[places], *([] if drop_kpa is None else [drop_kpa[places]]), cost[places]]
    left = places[np.lexsort([*keys, *([] if worst is None else [worst[places]])])]
    is_told = worst is None and drop_kpa is None
    costs: list[int] = []
    lowest: dict[int, int] = {}
    while len(left):
        for place in left[:_BLOCK].tolist():
            own, kind = int(cost[place]), int(group[place]) if grouped else place
            known = lowest.get(kind)
            if len(costs) >= wanted and (own > costs[wanted - 1] or is_told):
                continue
            if known is not None and (known < own or is_told):
                continue
            yield place
            if known is None or own < known:
                if known is not None:
                    costs.remove(known)
                lowest[kind] = own
                insort(costs, own)
        left = left[_BLOCK:]
        if len(costs) >= wanted:
            left = left[:0] if is_told else left[cost[left] <= costs[wanted - 1]]


def cheap(places: Ints, cost: Ints, group: Ints, wanted: int, *, grouped: bool) -> Ints:
    """Those than which fewer than `wanted` others (grouped: groups) cost less."""
    most = wanted
    while most < len(places):
        own = cost[places]
        found: Ints = places[own <= np.partition(own, most - 1)[most - 1]]
        if not grouped or len(np.unique(group[found])) >= wanted:
            return found
        most *= 4
    return places
