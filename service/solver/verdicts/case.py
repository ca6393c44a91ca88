"""The case that is explained: one item in one request, and what is worked out for it, each thing once."""

from functools import lru_cache

from service.domain.explanation import Role
from service.domain.lazy import lazy
from service.domain.parts import Item
from service.domain.request import Request
from service.domain.revision import Revision
from service.solver.judge.judges import Judges
from service.solver.search.finder import BillFinder, Survey
from service.solver.verdicts.places import ItemPlaces, PlaceFinder, cheapest_with

_KEPT_SURVEYS = 8


class Case:
    """An item in a request; requests with a wish changed are looked at as they come up."""

    def __init__(self, judges: Judges, finder: BillFinder, request: Request, item: Item) -> None:
        self.judges = judges
        self.request = request
        self.item = item
        self.count = finder.count
        self._place_finder = PlaceFinder(judges.revision, item)
        self._survey_of = lru_cache(_KEPT_SURVEYS)(finder.survey)
        self.places_in = lru_cache(None)(self._places_in)

    @property
    def revision(self) -> Revision:
        return self.judges.revision

    @property
    def survey(self) -> Survey:
        return self._survey_of(self.request)

    @lazy
    def places(self) -> ItemPlaces:
        """Where the item is in the bills of the request itself."""
        return self.places_in(self.request)

    def _places_in(self, request: Request) -> ItemPlaces:
        """Where the item is in the bills of another request."""
        return self._place_finder.places(request, self._survey_of(request).bundles)

    def prices(self, request: Request, spot: str | None, role: Role | None) -> list[int]:
        """What the cheapest bills of a request cost that have the item there, the lowest first; of an item that may be
        anywhere, on each rail."""
        bundles = self._survey_of(request).bundles
        if spot is not None or role is not None:
            found = [cheapest_with(bundles, self.item, spot)]
        else:
            rails = {rail for bundle in bundles for setup in bundle.setups for rail in setup.rails}
            found = [cheapest_with(bundles, rail, None) for rail in rails]
        return sorted({one.bill.price for one in found if one is not None})
