"""The bills that may be among the best where no flow goes before their cost: it decides but between some of them.

So they are kept from one power to the next, for as long as the same parts are within policy.
"""

from collections.abc import Callable, Iterable, Sequence

from service.domain.work import spend
from service.solver.flow_judge import STEPS_OF_A_SHARE
from service.solver.judge.components import Component
from service.solver.judge.options import Choices
from service.solver.judge.options import joined as taken_together
from service.solver.search.beginnings import Rails, dropping, join, of_rail
from service.solver.search.bill_orders import BillOrder
from service.solver.search.frontier import SORT_KEY, CostKey, Kept, Ranked, cheapest, could_be_wanted, in_order
from service.solver.search.limits import Limits
from service.solver.search.offers import apart

_MOST = 64
"""Of more bills that cost as much the usual ranking, which goes by the drop as well, has fewer to look at."""

Offered = tuple[Choices, bool]
"""The choices of a component, and whether anything flows through them."""
Together = Callable[[Choices, bool, Limits, BillOrder, int, bool], tuple[Kept, ...]]
Shortlists = Callable[[Rails, tuple[Offered, ...], Limits, BillOrder, int, bool], tuple[Kept, ...] | None]


def shortlist(
    shorter: Shortlists,
    together: Together,
    rails: Rails,
    components: tuple[Offered, ...],
    limits: Limits,
    order: BillOrder,
    wanted: int,
    grouped: bool,
) -> tuple[Kept, ...] | None:
    """The bills before which fewer than `wanted` others (grouped: groups) surely come, whatever is lost; None where
    beginnings of them are many. For an order that goes by no flow, where nothing is limited. `shorter`: gives the
    shortlist without the last component; `together`: the choices of a component."""
    if not components:
        whole = [Kept(0, of_rail(rail, spent, limits, order)) for rail, spent in rails]
        return tuple(_told_apart(cheapest(whole, wanted, grouped=grouped), (), wanted, grouped))
    begun = shorter(rails, components[:-1], limits, order, wanted, grouped)
    if begun is None:
        return None
    offered = together(*components[-1], limits, order, wanted, grouped)
    longer = _longer(begun, offered, wanted, grouped)
    flowing = [place for place, (_, flows) in enumerate(components) if flows]
    found = _told_apart(longer, flowing, wanted, grouped)
    return tuple(found) if len(found) <= _MOST else None


def cheapest_together(
    choices: Choices, flows: bool, limits: Limits, order: BillOrder, wanted: int, grouped: bool
) -> tuple[Kept, ...]:
    """The choices of a component that may be among the best, each as one."""
    first, *others = [apart(column, limits, order, wanted, grouped) for column in choices.columns]
    for column in others:
        first = _longer(first, column, wanted, grouped)
    found = [Kept(0, one._replace(choices=(taken_together(one.choices),))) for _, one in first]
    return tuple(_told_apart(cheapest(found, wanted, grouped=grouped), [0] if flows else [], wanted, grouped))


def _longer(begun: Iterable[Kept], offered: Sequence[Kept], wanted: int, grouped: bool) -> list[Kept]:
    """The cheapest beginnings with a further choice."""
    longer = []
    for one in begun:
        spend(1 + len(offered), "bills")
        longer += [Kept(0, join(one.ranked, other.ranked)) for other in offered if could_be_wanted(one, other, wanted)]
    return cheapest(longer, wanted, grouped=grouped)


def _told_apart(kept: Iterable[Kept], flowing: Sequence[int], wanted: int, grouped: bool) -> list[Kept]:
    """Without those before which `wanted` others (grouped: groups, or one of the same group) surely come: they cost
    less, or as much and are the same to the fuel where it flows, so that nothing but the names decides."""
    found: list[Kept] = []
    lowest: dict[object, CostKey] = {}
    alike: dict[object, set[object]] = {}
    for one in sorted(kept, key=_in_order):
        ranked = one.ranked
        key = (ranked.worst, ranked.cost, *[ranked.choices[place].runs for place in flowing])
        before = alike.setdefault(key, set())
        own = ranked.group if grouped else (ranked.rail, ranked.texts)
        known = lowest.get(own)
        if known is not None and known < ranked.cost:
            continue
        lowest[own] = ranked.cost
        if own not in before and one.beaten_by + len(before) < wanted:
            before.add(own)
            found.append(one)
    return found


def _in_order(kept: Kept) -> tuple[object, ...]:
    key: tuple[object, ...] = SORT_KEY(kept.ranked)
    return key


def with_drops(listed: Sequence[Kept], components: Sequence[Component]) -> list[Ranked]:
    """Bills in the order of telling, once it is known what each loses."""
    drops_kpa = [0.0] * len(listed)
    for place, component in enumerate(components):
        if component.flowing:
            runs = [ranked.choices[place].runs for _, ranked in listed]
            known = {own: component.drop_kpa(own) for own in set(runs)}
            spend(len(known) * (1 if component.is_judged else STEPS_OF_A_SHARE), "feeds")
            drops_kpa = list(map(max, drops_kpa, map(known.__getitem__, runs)))
    return in_order(dropping(ranked, drop_kpa, None) for (_, ranked), drop_kpa in zip(listed, drops_kpa, strict=True))
