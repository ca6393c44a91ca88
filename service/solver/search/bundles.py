"""Setups that may hold the same bill or group: they are counted and ranked together."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from service.domain.work import spend
from service.solver.judge.options import Choices
from service.solver.judge.picked import Picked
from service.solver.search.limits import Limits, merged_limits
from service.solver.search.setups import Setup


@dataclass(frozen=True, eq=False)
class Bundle:
    """Setups with the same duties and with rails (grouped: rail families) in common, and what limits their bills."""

    setups: tuple[Setup, ...]
    limits: Limits


def bundled(limited: Sequence[tuple[Setup, Limits]], *, grouped: bool) -> list[Bundle]:
    """Gather the setups that have a bill: by duties, then by rails in common."""
    by_duties: dict[tuple[str, ...], list[tuple[set[str], list[Setup], list[Limits]]]] = {}
    for setup, limits in limited:
        if not setup.alive:
            continue
        rails = {rail.group if grouped else rail.sku for rail in setup.rails}
        bundles = by_duties.setdefault((*setup.duties, *setup.duties.values(), *setup.spots), [])
        merged = (rails, [setup], [limits])
        for bundle in [bundle for bundle in bundles if bundle[0] & rails]:
            bundles.remove(bundle)
            merged = (bundle[0] | merged[0], bundle[1] + merged[1], bundle[2] + merged[2])
        bundles.append(merged)
    return [
        Bundle(_without_repeats(setups), merged_limits(limits))
        for bundles in by_duties.values()
        for _, setups, limits in bundles
    ]


def _without_repeats(setups: Sequence[Setup]) -> tuple[Setup, ...]:
    """The same bills, each in the setup of the first placement that has it."""
    if len(setups) == 1:
        return tuple(setups)
    whole = sorted(setups, key=lambda setup: setup.placement)
    found: list[Setup] = []
    for index, setup in enumerate(whole):
        pieces = [setup]
        for earlier in whole[:index]:
            pieces = [rest for piece in pieces for rest in _beyond(piece, earlier)]
        found += pieces
    return tuple(found)


def _beyond(setup: Setup, earlier: Setup) -> list[Setup]:
    """The bills of a setup that an earlier one does not have, as setups without a bill in common."""
    repeated = tuple(rail for rail in setup.rails if rail in earlier.rails)
    if not repeated:
        return [setup]
    new = tuple(rail for rail in setup.rails if rail not in repeated)
    pieces = [replace(setup, rails=new)] if new else []
    components = list(setup.components)
    for index, (own, known) in enumerate(zip(setup.components, earlier.components, strict=True)):
        inside, outside = _parted(own.choices, known.choices)
        if outside.size:
            elsewhere = (*components[:index], replace(own, choices=outside), *components[index + 1 :])
            pieces.append(replace(setup, rails=repeated, components=elsewhere))
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
