"""Counts every valid bill, or every group of bills, without building them.

Worlds with the same duties may hold the same bill or group (rails of one family in two shapes, placements that lead
to one and the same bill). The count goes over the components, carrying for each world what the cheapest ways so far
take of the limited things; prefixes that take the same are counted together.
"""

from collections import Counter
from collections.abc import Hashable, Iterator, Mapping, Sequence
from math import prod
from typing import TypeVar

from service.domain.work import spend
from service.solver.limits import Limits, Needs, added, least
from service.solver.options import Choices
from service.solver.worlds import World

K = TypeVar("K", bound=Hashable)

# For each world: the least needs of a prefix of the bill; empty where the world does not have that prefix.
_State = tuple[frozenset[Needs], ...]


def count(worlds: Sequence[World], limits: Limits, *, grouped: bool) -> int:
    """The number of bills, or groups, in the union of worlds with the same duties and components."""
    if len(worlds) == 1 and (not limits.limiting):
        world = worlds[0]
        rails = len({rail.group for rail in world.rails}) if grouped else len(world.rails)
        return rails * prod(x.choices.number_of_groups if grouped else x.choices.size for x in world.components)
    nothing = limits.nothing
    states: Counter[_State] = Counter({(frozenset((nothing,)),) * len(worlds): 1})
    for step in _steps(worlds, limits, grouped=grouped):
        following: Counter[_State] = Counter()
        spend(len(states) * len(step), "bills")
        for state, prefixes in states.items():
            for needs, keys in step.items():
                reached = tuple(_joined(so_far, more, limits) for so_far, more in zip(state, needs, strict=True))
                if any(reached):
                    following[reached] += prefixes * keys
        states = following
    return states.total()


def _steps(worlds: Sequence[World], limits: Limits, *, grouped: bool) -> list[Counter[_State]]:
    """For rails and each component: how many keys take the same needs in each world."""
    steps = [_alike([_rail_needs(world, limits, grouped=grouped) for world in worlds])]
    for components in zip(*(world.components for world in worlds), strict=True):
        for by_world in _columns([component.choices for component in components]):
            spend(sum(choices.size for choices in by_world), "bills")
            needs = []
            for choices in by_world:
                by_key = choices.by_group if grouped else choices.by_text
                needs.append({key: least(map(limits.of, found)) for key, found in by_key.items()})
            steps.append(_alike(needs))
    return steps


def _columns(by_world: Sequence[Choices]) -> Iterator[Sequence[Choices]]:
    """Choices that are made apart from each other, in each world; as they are, where not all worlds have the same."""
    columns = [choices.columns for choices in by_world]
    return zip(*columns, strict=True) if len(set(map(len, columns))) == 1 else iter([by_world])


def _rail_needs(world: World, limits: Limits, *, grouped: bool) -> dict[str, frozenset[Needs]]:
    needs: dict[str, list[Needs]] = {}
    for rail in world.rails:
        needs.setdefault(rail.group if grouped else rail.sku, []).append(limits.of_rail(world.rail_price(rail)))
    return {key: least(found) for key, found in needs.items()}


def _alike(by_world: Sequence[Mapping[K, frozenset[Needs]]]) -> Counter[_State]:
    keys = {key for needs in by_world for key in needs}
    return Counter(tuple(needs.get(key, frozenset()) for needs in by_world) for key in keys)


def _joined(so_far: frozenset[Needs], more: frozenset[Needs], limits: Limits) -> frozenset[Needs]:
    spend(len(so_far) * len(more), "bills")
    joined = (added(one, other) for one in so_far for other in more)
    return least(needs for needs in joined if limits.allow(needs))
