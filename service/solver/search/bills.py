"""Builds the bills that are shown: totals, paths, and what else would do in each place."""

from collections.abc import Collection, Hashable, Mapping, Sequence
from dataclasses import replace
from functools import partial
from itertools import accumulate, compress
from operator import attrgetter

from service.domain.answer import Bill, BillParts
from service.domain.flows import PathFlow
from service.domain.lazy import Newest
from service.domain.parts import Item
from service.domain.work import spend
from service.solver.judge.options import Choice, Choices, placed, skus_by_place
from service.solver.search.limits import FREE, Limits, Needs, added, least, spent_in_all, summed
from service.solver.search.margins import margins_of_bill
from service.solver.search.needs import needs_of
from service.solver.search.setups import Setup

_UNRATED_DUTIES = ("feed", "link")
_NO_SKUS: frozenset[str] = frozenset()
_KEPT_PARTS = 8_000
_SPOT = attrgetter("spot")


class BillBuilder:
    """Builds the bills that are shown; those that differ in nothing but what flows share their parts."""

    def __init__(self) -> None:
        self._parts = Newest(_KEPT_PARTS)

    def build(
        self,
        setup: Setup,
        rail: Item,
        choices: Sequence[Choice],
        alike: Sequence[Setup],
        limits: Limits,
        *,
        grouped: bool,
    ) -> Bill:
        """The bill of these choices; `alike`: the setups that may hold other bills of its group."""
        find = partial(_parts_of, setup, rail, choices, alike, limits, grouped=grouped)
        if limits is not FREE:
            return _filled(find(), setup, choices)
        # Parts keep the duties alive, so that the number stands for no others; they tell the outline of the setup.
        key: list[Hashable] = [id(setup.duties), rail, setup.bought(rail), *choices]
        for other in alike if grouped else ():
            key += [other.rails, *[component.choices for component in other.components]]
        return _filled(self._parts.once(tuple(key), find), setup, choices)


def build_bill(setup: Setup, rail: Item, choices: Sequence[Choice], alike: Sequence[Setup], limits: Limits) -> Bill:
    """One bill by itself, which does not tell what else would do."""
    return _filled(_parts_of(setup, rail, choices, alike, limits, grouped=False), setup, choices)


def _parts_of(
    setup: Setup,
    rail: Item,
    choices: Sequence[Choice],
    alike: Sequence[Setup],
    limits: Limits,
    *,
    grouped: bool,
) -> BillParts:
    if not grouped:
        rails = _NO_SKUS
        chains = [option.placed_alone for choice in choices for option in choice.options]
    elif len(alike) == 1 and not limits.limiting:
        group = rail.group
        rails = frozenset([other.sku for other in setup.rails if other.group == group])
        parts = zip(setup.components, choices, strict=True)
        chains = [chain for component, choice in parts for chain in component.choices.placed(choice)]
    else:
        rails, others = _alternatives(rail, choices, alike, limits)
        chains = [placed(option, others) for choice in choices for option in choice.options]
    spent = spent_in_all(limits, setup.spent_on(rail), choices)
    return BillParts(
        rail=rail,
        rail_choices=tuple(sorted(rails - {rail.sku})),
        banks=setup.banks,
        placement=setup.placement,
        duties=setup.duties,
        chains=tuple(sorted(chains, key=_SPOT)),
        situations=setup.situations,
        price=spent.price,
        pieces=spent.pieces,
        lead_days=spent.lead_days,
    )


def _filled(parts: BillParts, setup: Setup, choices: Sequence[Choice]) -> Bill:
    """The bill of these parts with what flows in a setup."""
    pairs = zip(setup.components, choices, strict=True)
    paths = [path for component, choice in pairs if component.flowing for path in component.paths(choice)]
    rail = parts.rail
    if rail.passage is None:
        paths = [_with_rail(path, rail) for path in paths]
    return Bill(parts, setup.carried, tuple(paths), partial(margins_of_bill, setup, rail, choices, paths))


def _with_rail(path: PathFlow, rail: Item) -> PathFlow:
    """A rail without flow data stands last among the unrated of its feed and link paths."""
    if path.duty not in _UNRATED_DUTIES:
        return path
    return replace(path, unrated=(*path.unrated, rail.sku))


def _alternatives(
    rail: Item, choices: Sequence[Choice], alike: Sequence[Setup], limits: Limits
) -> tuple[frozenset[str], dict[tuple[str, int], frozenset[str]]]:
    """The rails, and by (spot, index in the chain) the SKUs, that stand there in any valid bill of the group."""
    rails = _NO_SKUS
    found: dict[tuple[str, int], frozenset[str]] = {}
    for setup in alike:
        parts = list(zip(setup.components, choices, strict=True))
        kin = [other for other in setup.rails if other.group == rail.group]
        if not kin or not all(part.choices.has_group(choice.group) for part, choice in parts):
            continue
        if limits.limiting:
            columns = [part.choices.of_group(choice.group) for part, choice in parts]
            kin, left = feasible(setup, kin, columns, limits)
            by_place: list[Mapping[tuple[str, int], frozenset[str]]] = [skus_by_place(column) for column in left]
        else:
            by_place = [part.choices.skus_of(choice.group) for part, choice in parts]
        rails |= {other.sku for other in kin}
        for place, skus in (pair for places in by_place for pair in places.items()):
            found[place] = found.get(place, _NO_SKUS) | skus
    return rails, found


def feasible(
    setup: Setup, rails: list[Item], columns: list[tuple[Choice, ...]], limits: Limits
) -> tuple[list[Item], list[list[Choice]]]:
    """Those rails and choices that some completion within the limits takes in."""
    needs = [[limits.of_rail(setup.rail_price(rail)) for rail in rails]]
    needs += [[limits.of(choice) for choice in column] for column in columns]
    fits = _fits([dict.fromkeys(own) for own in needs], limits)
    left = [[need in fit for need in own] for own, fit in zip(needs, fits, strict=True)]
    return list(compress(rails, left[0])), [
        list(compress(column, fit)) for column, fit in zip(columns, left[1:], strict=True)
    ]


def feasible_choices(setup: Setup, limits: Limits) -> tuple[list[Item], list[Choices]]:
    """Of a setup those rails and choices that some completion within the limits takes in."""
    rails = {rail: limits.of_rail(setup.rail_price(rail)) for rail in setup.rails}
    tables = [needs_of(component.choices, limits) for component in setup.components]
    fits = _fits([dict.fromkeys(rails.values()), *(table.places for table in tables)], limits)
    left = [table.having(fit) for table, fit in zip(tables, fits[1:], strict=True)]
    return [rail for rail, need in rails.items() if need in fits[0]], left


def _fits(needs: Sequence[Collection[Needs]], limits: Limits) -> list[set[Needs]]:
    """Of each column of needs those that some completion within the limits takes in."""
    lowest = [least(own) for own in needs]

    def joined(so_far: frozenset[Needs], more: frozenset[Needs]) -> frozenset[Needs]:
        spend(len(so_far) * len(more), "bills")
        return summed(so_far, more, limits)

    nothing = frozenset({limits.nothing})
    before = accumulate(lowest, joined, initial=nothing)
    behind = list(accumulate(reversed(lowest), joined, initial=nothing))[-2::-1]
    rests = map(joined, before, behind)
    return [
        {need for need in own if any(limits.allow(added(need, more)) for more in rest)}
        for own, rest in zip(needs, rests, strict=True)
    ]
