"""Worlds that may hold the same bill or group: they are counted and ranked together."""

from collections.abc import Sequence
from dataclasses import dataclass

from service.solver.limits import Limits, merged_limits
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
        Bundle(tuple(worlds), merged_limits(limits)) for bundles in by_duties.values() for _, worlds, limits in bundles
    ]
