"""Worlds that may hold the same bill or group: they are counted and ranked together."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from service.domain.work import spend
from service.solver.limits import Limits, merged_limits
from service.solver.options import Choices
from service.solver.picked import Picked
from service.solver.worlds import World


@dataclass(frozen=True, eq=False)
class Bundle:
    """Worlds with the same duties and with rails (grouped: rail families) in common, and what limits their bills."""

    worlds: tuple[World, ...]
    limits: Limits


def bundled(limited: Sequence[tuple[World, Limits]], *, grouped: bool) -> list[Bundle]:
    """Gather the worlds that have a bill: by duties, then by rails in common."""
    by_duties: dict[tuple[str, ...], list[tuple[set[str], list[World], list[Limits]]]] = {}
    for world, limits in limited:
        if not world.alive:
            continue
        rails = {rail.group if grouped else rail.sku for rail in world.rails}
        bundles = by_duties.setdefault((*world.duties, *world.duties.values(), *world.spots), [])
        merged = (rails, [world], [limits])
        for bundle in [bundle for bundle in bundles if bundle[0] & rails]:
            bundles.remove(bundle)
            merged = (bundle[0] | merged[0], bundle[1] + merged[1], bundle[2] + merged[2])
        bundles.append(merged)
    return [
        Bundle(_without_repeats(worlds), merged_limits(limits))
        for bundles in by_duties.values()
        for _, worlds, limits in bundles
    ]


def _without_repeats(worlds: Sequence[World]) -> tuple[World, ...]:
    """The same bills, each in the world of the first placement that has it."""
    if len(worlds) == 1:
        return tuple(worlds)
    whole = sorted(worlds, key=lambda world: world.placement)
    found: list[World] = []
    for index, world in enumerate(whole):
        pieces = [world]
        for earlier in whole[:index]:
            pieces = [rest for piece in pieces for rest in _beyond(piece, earlier)]
        found += pieces
    return tuple(found)


def _beyond(world: World, earlier: World) -> list[World]:
    """The bills of a world that an earlier one does not have, as worlds without a bill in common."""
    repeated = tuple(rail for rail in world.rails if rail in earlier.rails)
    if not repeated:
        return [world]
    new = tuple(rail for rail in world.rails if rail not in repeated)
    pieces = [replace(world, rails=new)] if new else []
    components = list(world.components)
    for index, (own, known) in enumerate(zip(world.components, earlier.components, strict=True)):
        inside, outside = _parted(own.choices, known.choices)
        if outside.size:
            elsewhere = (*components[:index], replace(own, choices=outside), *components[index + 1 :])
            pieces.append(replace(world, rails=repeated, components=elsewhere))
        if not inside.size:
            break
        components[index] = replace(own, choices=inside)
    return pieces


def _parted(own: Choices, known: Choices) -> tuple[Choices, Choices]:
    """Those of the choices that stand among the known ones, and the others."""
    if own is known:
        return own, Choices(())
    if isinstance(own, Picked) and isinstance(known, Picked) and own.table is known.table:
        return own.within(known.mask), own.within(~known.mask)
    spend(own.size + known.size, "bills")
    inside = [choice for choice in own.all if choice.texts in known.by_text]
    outside = [choice for choice in own.all if choice.texts not in known.by_text]
    return Choices(inside), Choices(outside)
