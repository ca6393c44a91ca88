"""The bills that may be among the best where cost goes first: which they are hangs on no flow, only their order does.

So they are kept from one power to the next, for as long as the same parts are within policy.
"""

from collections.abc import Callable, Iterable, Sequence

from service.domain.chains import Runs
from service.domain.work import spend
from service.solver.flow_judge import STEPS_OF_A_SHARE
from service.solver.judge.components import Component
from service.solver.judge.options import Choices
from service.solver.judge.options import joined as taken_together
from service.solver.search.beginnings import NOTHING, Rails, join, of_rail
from service.solver.search.bill_orders import BillOrder
from service.solver.search.frontier import SORT_KEY, CostKey, Kept, Ranked, cheapest, could_be_wanted, in_order
from service.solver.search.limits import Limits
from service.solver.search.offers import apart

_MOST = 64
"""Of more bills that cost as much the usual ranking, which goes by the drop as well, has fewer to look at."""

Offered = tuple[Choices, bool]
"""The choices of a component, and whether anything flows through them."""
Together = Callable[[Choices, Limits, BillOrder, int, bool], tuple[Kept, ...]]


def shortlist(
    together: Together, components: tuple[Offered, ...], limits: Limits, order: BillOrder, wanted: int, grouped: bool
) -> tuple[Kept, ...] | None:
    """What stands on a rail in the bills than which fewer than `wanted` others (grouped: groups) surely come before,
    whatever is lost and on whichever rail; None where such beginnings are many. For an order by cost, where nothing is
    limited. `together`: gives the choices of a component."""
    begun = [Kept(0, NOTHING)]
    flowing: list[int] = []
    for place, (choices, flows) in enumerate(components):
        flowing += [place] if flows else []
        offered = together(choices, limits, order, wanted, grouped)
        begun = _longer(begun, _told_apart(offered, [0] if flows else [], wanted, grouped), wanted, grouped)
        begun = _told_apart(begun, flowing, wanted, grouped)
        if len(begun) > _MOST:
            return None
    return tuple(begun)


def on_rails(
    rails: Rails, shortlisted: Sequence[Kept], limits: Limits, order: BillOrder, wanted: int, grouped: bool
) -> list[Ranked]:
    """The bills of these rails that may be among the best."""
    begun = [Kept(0, of_rail(rail, spent, limits, order)) for rail, spent in rails]
    whole = _longer(cheapest(begun, wanted, grouped=grouped), shortlisted, wanted, grouped)
    return [one.ranked for one in whole]


def cheapest_together(
    choices: Choices, limits: Limits, order: BillOrder, wanted: int, grouped: bool
) -> tuple[Kept, ...]:
    """The choices of a component that may be among the cheapest, each as one."""
    first, *others = [apart(column, limits, order, wanted, grouped) for column in choices.columns]
    for column in others:
        first = _longer(first, column, wanted, grouped)
    found = [Kept(0, one._replace(choices=(taken_together(one.choices),))) for _, one in first]
    return tuple(cheapest(found, wanted, grouped=grouped))


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
        before = alike.setdefault((ranked.cost, *[ranked.choices[place].runs for place in flowing]), set())
        own = ranked.group if grouped else (ranked.rail, ranked.texts)
        is_lowest = lowest.setdefault(own, ranked.cost) == ranked.cost
        if is_lowest and own not in before and one.beaten_by + len(before) < wanted:
            before.add(own)
            found.append(one)
    return found


def _in_order(kept: Kept) -> tuple[object, ...]:
    key: tuple[object, ...] = SORT_KEY(kept.ranked)
    return key


def with_drops(ranked: Iterable[Ranked], components: Sequence[Component]) -> list[Ranked]:
    """Bills in the order of telling, once it is known what each loses."""
    flowing = [(place, x, dict[Runs, float]()) for place, x in enumerate(components) if x.flowing]
    found = []
    for one in ranked:
        drop_kpa = 0.0
        for place, component, known in flowing:
            runs = one.choices[place].runs
            lost_kpa = known.get(runs)
            if lost_kpa is None:
                spend(1 if component.is_judged else STEPS_OF_A_SHARE, "feeds")
                lost_kpa = known[runs] = component.drop_kpa(runs)
            drop_kpa = max(drop_kpa, lost_kpa)
        found.append(one._replace(drop_kpa=drop_kpa))
    return in_order(found)
