"""Finds the bills of requests: what there is to choose from, how many bills that makes, and the best of them."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import chain
from typing import NamedTuple

from service.domain.answer import Bill
from service.domain.findings import Rejection
from service.domain.parts import Item
from service.domain.request import Request
from service.solver.judge.judges import Judges
from service.solver.judge.options import Choice
from service.solver.search.bills import BillBuilder
from service.solver.search.bundles import Bundle, bundled
from service.solver.search.carrying import Carrier
from service.solver.search.counting import count
from service.solver.search.frontier import SORT_KEY, Ranked
from service.solver.search.limiting import limit
from service.solver.search.limits import FREE
from service.solver.search.ranking import Least, Ranker
from service.solver.search.setups import Setup, Surveyor
from service.solver.search.sifting import Untold, told


class Survey(NamedTuple):
    """What there is to choose from in a request: its bundles within the limits, all its setups, and what stops parts
    besides what their components tell."""

    bundles: Sequence[Bundle]
    setups: Sequence[Setup]
    untold: Callable[[], Iterable[Rejection]]


class Placed(NamedTuple):
    """A bill that was ranked, the setup that it is of, and the bundle that this is in."""

    ranked: Ranked
    setup: Setup
    bundle: Bundle


class BillFinder:
    """Finds bills on one revision."""

    def __init__(self, judges: Judges) -> None:
        self._judges = judges
        self._ranker = Ranker()
        self._builder = BillBuilder()

    def survey(self, request: Request) -> Survey:
        """What there is to choose from."""
        surveyor = Surveyor(self._judges, request)
        setups = surveyor.setups()
        untold: list[Untold] = []
        bundles = self._bundled(setups, request, untold)
        return Survey(bundles, setups, lambda: chain(told(untold), surveyor.rejections))

    def bundles(self, request: Request, sets: int = 1, surveyor: Surveyor | None = None) -> list[Bundle]:
        """The bundles of the survey, where so many sets of a bill are wanted; what has no bill is passed over."""
        surveyor = surveyor or Surveyor(self._judges, request)
        return self._bundled(surveyor.live_setups(), request, [], sets)

    def _bundled(self, setups: Iterable[Setup], request: Request, untold: list[Untold], sets: int = 1) -> list[Bundle]:
        """The bundles of setups within the limits; `untold` gets what these stop."""
        limited = []
        for setup in setups:
            if request.in_stock_only or request.max_price is not None or request.have:
                kept, limits, more = limit(setup, request, self._judges.revision, sets)
                untold += more
                limited.append((kept, limits))
            else:
                limited.append((setup, FREE))
        return bundled(limited, grouped=request.group_variants)

    def count(self, request: Request) -> int:
        """The number of valid bills, or of groups, as the request asks."""
        return counted(request, self.bundles(request))

    def lowest_price(self, request: Request) -> int | None:
        """The price of the cheapest bill, None where there is none."""
        asked = replace(request, order_by="price", limit=1, group_variants=False)
        best = self.best(asked, self.bundles(asked))
        return next((bill.price for bill in self.built(best, grouped=False)), None)

    def best(self, request: Request, bundles: Sequence[Bundle]) -> list[Placed]:
        """The best bills of all bundles in order; of two alike in everything, the earlier placement first."""
        carrier = Carrier(request, self._judges.revision.policies) if request.order_by == "power" else None
        least = [self._ranker.least(bundle, request.order_by) for bundle in bundles if len(bundles) > 1] or [(0.0, 0)]
        by_place: dict[int, list[Placed]] = {}
        lowest: list[Least] = []
        for place in sorted(range(len(bundles)), key=least.__getitem__):
            if len(lowest) == request.limit and least[place] > lowest[-1]:
                break
            bundle = bundles[place]
            ranked = self._ranker.best(
                bundle, request.order_by, request.limit, grouped=request.group_variants, carrier=carrier
            )
            by_place[place] = [Placed(one, setup, bundle) for one, setup in ranked]
            if len(bundles) == 1 and len(bundle.setups) == 1:
                return by_place[place]
            lowest = sorted([*lowest, *[(one.worst, one.cost[0]) for one, _ in ranked]])[: request.limit]
        found = [placed for place in sorted(by_place) for placed in by_place[place]]
        found.sort(key=lambda placed: (SORT_KEY(placed.ranked), placed.setup.placement))
        return found[: request.limit]

    def built(self, best: Iterable[Placed], *, grouped: bool) -> Iterator[Bill]:
        """The bills that were ranked, made whole one by one; `grouped`: with what else would do in each place."""
        for one, setup, bundle in best:
            rail = next(rail for rail in setup.rails if rail.sku == one.rail)
            yield self.build(setup, rail, one.choices, bundle, grouped=grouped)

    def build(self, setup: Setup, rail: Item, choices: Sequence[Choice], bundle: Bundle, *, grouped: bool) -> Bill:
        """The bill of these choices in a setup of a bundle."""
        return self._builder.build(setup, rail, choices, bundle.setups, bundle.limits, grouped=grouped)


def counted(request: Request, bundles: Iterable[Bundle]) -> int:
    """The number of bills, or groups, in these bundles."""
    return sum(count(x.setups, x.limits, grouped=request.group_variants) for x in bundles)
