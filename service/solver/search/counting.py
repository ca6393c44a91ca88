"""Counts every valid bill, or every group of bills, without building them.

Setups with the same duties may hold the same bill or group (rails of one family in two shapes, placements that lead
to one and the same bill). The count goes over the components, carrying for each setup what the cheapest ways so far
take of the limited things; prefixes that take the same are counted together.
"""

from bisect import bisect_right
from collections import Counter
from collections.abc import Hashable, Iterator, Mapping, Sequence
from itertools import accumulate
from math import prod
from typing import TypeVar

import numpy as np

from service.domain.work import spend
from service.solver.judge.arrays import unique_rows
from service.solver.judge.chain_rows import Ints
from service.solver.judge.options import Choices
from service.solver.judge.picked import CHAINS_A_STEP, Picked
from service.solver.search.limits import Limits, Needs, added, least, summed
from service.solver.search.setups import Setup

_KEPT_COUNTS = 4
_STEPS_OF_A_SUM, _NEEDS_A_STEP = 2, 3
"""What it takes to add what two ways need."""
K = TypeVar("K", bound=Hashable)

# For each setup: the least needs of a prefix of the bill; empty where the setup does not have that prefix.
_State = tuple[frozenset[Needs], ...]
_LeastByKey = list[tuple[frozenset[Needs], Ints]]


def count(setups: Sequence[Setup], limits: Limits, *, grouped: bool) -> int:
    """The number of bills, or groups, in the union of setups with the same duties and components."""
    if len(setups) == 1 and (not limits.limiting):
        setup = setups[0]
        rails = len({rail.group for rail in setup.rails}) if grouped else len(setup.rails)
        return rails * prod(x.choices.number_of_groups if grouped else x.choices.size for x in setup.components)
    steps = _steps(setups, limits, grouped=grouped)
    if len(setups) == 1 and limits.max_price is not None and not (limits.scarce or limits.had):
        return _within(limits.max_price, [_by_price(step) for step in steps])
    nothing = limits.nothing
    first, *others = steps
    steps = [first, *sorted(others, key=len)]
    states: Counter[_State] = Counter({(frozenset((nothing,)),) * len(setups): 1})
    for step, harmless in zip(steps, _harmless(steps, limits), strict=True):
        following: Counter[_State] = Counter()
        for state, prefixes in states.items():
            spend(len(step), "bills")
            for needs, keys in step.items():
                reached = tuple(
                    [_joined(so_far, more, limits, harmless) for so_far, more in zip(state, needs, strict=True)]
                )
                if any(reached):
                    following[reached] += prefixes * keys
        states = following
    return states.total()


def _by_price(step: Counter[_State]) -> Counter[int]:
    """The keys of a step by their price, where nothing else counts."""
    return Counter({price: keys for (needs,), keys in step.items() for (price,) in needs})


def _within(max_price: int, steps: list[Counter[int]]) -> int:
    """How many ways to take a key of each step cost no more in all."""
    *others, largest = sorted(steps, key=len)
    states: Counter[int] = Counter({0: 1})
    for step in others:
        spend(len(states) * len(step), "bills")
        following: Counter[int] = Counter()
        for price, prefixes in states.items():
            for more, keys in step.items():
                if price + more <= max_price:
                    following[price + more] += prefixes * keys
        states = following
    spend(len(states) + len(largest), "bills")
    prices = sorted(largest)
    up_to = [0, *accumulate(largest[price] for price in prices)]
    return sum(prefixes * up_to[bisect_right(prices, max_price - price)] for price, prefixes in states.items())


def _steps(setups: Sequence[Setup], limits: Limits, *, grouped: bool) -> list[Counter[_State]]:
    """For rails and each component: how many keys take the same needs in each setup."""
    steps = [_alike([_rail_needs(setup, limits, grouped=grouped) for setup in setups])]
    for components in zip(*(setup.components for setup in setups), strict=True):
        for by_setup in _columns([component.choices for component in components]):
            picked = [choices for choices in by_setup if isinstance(choices, Picked)]
            if len(picked) == len(by_setup) and len({choices.table for choices in picked}) == 1:
                spend(sum(1 + choices.size // CHAINS_A_STEP for choices in picked), "bills")
                steps.append(_alike_in(picked, limits, grouped=grouped))
                continue
            spend(sum(choices.size for choices in by_setup), "bills")
            needs = []
            for choices in by_setup:
                by_key = choices.by_group if grouped else choices.by_text
                needs.append({key: least(map(limits.of, found)) for key, found in by_key.items()})
            steps.append(_alike(needs))
    return steps


def _alike_in(by_setup: Sequence[Picked], limits: Limits, *, grouped: bool) -> Counter[_State]:
    """As `_alike`, of choices from one table in each setup."""
    chains = by_setup[0].figures
    keys = chains.groups if grouped else np.arange(len(chains.rows))
    kinds: list[dict[frozenset[Needs], int]] = []
    columns = []
    for choices in by_setup:
        known: dict[frozenset[Needs], int] = {frozenset(): 0}
        column = np.zeros(int(keys.max(initial=-1)) + 1, np.int64)
        for needs, places in _counted(choices, limits, keys, grouped=grouped):
            column[places] = known.setdefault(needs, len(known))
        kinds.append(known)
        columns.append(column)
    rows, alike = unique_rows(np.array(columns).T)
    named = [list(known) for known in kinds]
    found: Counter[_State] = Counter()
    for row, size in zip(rows.tolist(), np.bincount(alike).tolist(), strict=True):
        if any(row):
            found[tuple([names[kind] for names, kind in zip(named, row, strict=True)])] += size
    return found


def _counted(choices: Picked, limits: Limits, keys: Ints, *, grouped: bool) -> _LeastByKey:
    found = choices.counted.get((limits, grouped))
    if found is None:
        if len(choices.counted) >= _KEPT_COUNTS:
            choices.counted.clear()
        found = choices.counted[limits, grouped] = list(_least_by_key(keys[choices.places], choices.needs(limits)))
    return found


def _least_by_key(keys: Ints, needs: Ints) -> Iterator[tuple[frozenset[Needs], Ints]]:
    """For each set of least needs the keys that have it."""
    if needs.shape[1] == 1:
        order = np.lexsort((needs[:, 0], keys))
        keys, needs = keys[order], needs[order]
        first = np.append(True, keys[1:] != keys[:-1])[: len(keys)]
        keys, needs = keys[first], needs[first]
    rows, kinds = unique_rows(needs)
    told = [tuple(row) for row in rows.tolist()]
    pairs, _ = unique_rows(np.stack((keys, kinds), axis=1))
    ends = np.flatnonzero(np.append(pairs[1:, 0] != pairs[:-1, 0], True)[: len(pairs)]) + 1
    by_kinds: dict[bytes, list[int]] = {}
    start = 0
    for end in ends.tolist():
        by_kinds.setdefault(pairs[start:end, 1].tobytes(), []).append(start)
        start = end
    for own, starts in by_kinds.items():
        kinds_here = np.frombuffer(own, np.int64).tolist()
        yield least([told[kind] for kind in kinds_here]), pairs[starts, 0]


def _columns(by_setup: Sequence[Choices]) -> Iterator[Sequence[Choices]]:
    """Choices that are made apart from each other, in each setup; as they are, where not all setups have the same."""
    columns = [choices.columns for choices in by_setup]
    return zip(*columns, strict=True) if len(set(map(len, columns))) == 1 else iter([by_setup])


def _rail_needs(setup: Setup, limits: Limits, *, grouped: bool) -> dict[str, frozenset[Needs]]:
    needs: dict[str, list[Needs]] = {}
    for rail in setup.rails:
        needs.setdefault(rail.group if grouped else rail.sku, []).append(limits.of_rail(setup.rail_price(rail)))
    return {key: least(found) for key, found in needs.items()}


def _alike(by_setup: Sequence[Mapping[K, frozenset[Needs]]]) -> Counter[_State]:
    keys = {key for needs in by_setup for key in needs}
    return Counter(tuple(needs.get(key, frozenset()) for needs in by_setup) for key in keys)


def _joined(so_far: frozenset[Needs], more: frozenset[Needs], limits: Limits, harmless: Needs) -> frozenset[Needs]:
    """What is taken with a further step; it is held to its limit, and what does no harm any more is forgotten."""
    spend(len(so_far) * len(more) * (_STEPS_OF_A_SUM + len(harmless) // _NEEDS_A_STEP), "bills")
    return summed(so_far, more, limits, harmless)


def _harmless(steps: Sequence[Counter[_State]], limits: Limits) -> list[Needs]:
    """For each step, of each thing that is limited so much that what later steps take at most cannot break a limit."""
    most = [_most_of(step, limits) for step in steps]
    beyond = limits.beyond(tuple(map(sum, zip(*most, strict=True)))).price
    allowed = limits.allowed(beyond)
    found, later = [], limits.nothing
    for own in reversed(most):
        found.append(tuple(map(int.__sub__, allowed, later)))
        later = added(own, later)
    return found[::-1]


def _most_of(step: Counter[_State], limits: Limits) -> Needs:
    """The most that a step takes of each thing that is limited."""
    taken = [need for state in step for each in state for need in each]
    return tuple(map(max, zip(*taken, strict=True))) if taken else limits.nothing
