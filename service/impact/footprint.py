"""All of a catalog that the answer to one question hangs on. Where it is the same in two catalogs, so is the answer.

It may hold more than is needed, never less: then a question is asked for nothing, but none is left out.
"""

import json
from collections.abc import Hashable, Iterable, Iterator
from functools import lru_cache

from service.documents.catalog import IN_TRADE
from service.documents.packed import PackedCatalog
from service.domain.request import Request
from service.domain.revision import Revision
from service.impact.reach import End, Reach, ends

_SILENT = {
    "item": {"name", "second_name", "aliases", "mass_g", "superseded_by", "ring", "screw", "spacer", "seats", "hex_mm"}
    | {"drive", "injector_positions_mm", "spot_positions_mm", "outlet_deg", "min_bend_mm"}
    | IN_TRADE,
    "chassis": {"name", "second_name", "engine", "aliases", "manifold", "tank"},
    "addon": {"name", "second_name", "aliases", "raises_seat_mm", "fasteners"},
    "layout": {"name", "second_name", "summary", "second_summary", "aliases"},
    "fuel": {"name", "second_name", "source", "aliases", "cautions", "second_cautions", "vapour"}
    | {"heat_capacity_j_kg_k", "stoich_afr", "lhv_mj_kg"},
    "policies": {"vapour_margin_kpa", "seal_insertion_mm", "squeeze", "max_gland_fill", "max_proof_part"}
    | {"max_spread_percent", "power_reserve"},
}
"""By kind the fields that sway neither a bill, nor its price, nor the power that it carries."""


_KEPT_TEXTS = 20_000


class Footprints:
    """Finds the footprints of questions in one catalog."""

    def __init__(self, catalog: PackedCatalog, revision: Revision) -> None:
        self._texts = catalog.texts
        self._revision = revision
        self._reach = Reach(revision)
        self._parts = lru_cache(None)(self._parts_of)

    def of(self, request: Request) -> Hashable:
        """Return the footprint of a resolved request."""
        texts, revision = self._texts, self._revision
        shapes = self._reach.shapes(request)
        rails = tuple(rail.sku for shape in shapes for rail in shape.rails)
        skus, items, wetted = self._parts(rails, frozenset(end for shape in shapes for end in ends(shape, request)))
        return (
            _swaying("chassis", texts["chassis"][request.chassis.id]),
            _swaying("layout", texts["layouts"][request.layout.id]),
            _swaying("fuel", texts["fuels"][request.fuel.id]),
            tuple(_swaying("addon", texts["addons"][addon.id]) for addon in request.addons),
            _swaying("policies", texts["policies"][""]),
            items,
            tuple((name, revision.materials[name].ratings[request.fuel.id]) for name in wetted),
            tuple(self._finished(request, skus)),
            (request.exclude, request.have),
        )

    def _parts_of(
        self, rails: Iterable[str], chains: Iterable[End]
    ) -> tuple[tuple[str, ...], tuple[str, ...], tuple[str, ...]]:
        """The rails and what is within reach of such ends: SKUs, texts, materials."""
        known = self._texts["items"]
        skus = tuple(sorted(known.keys() & {*rails, *(sku for end in chains for sku in self._reach.at(end))}))
        wetted = sorted({material for sku in skus for material in self._revision.items[sku].wetted})
        return skus, tuple(_swaying("item", known[sku]) for sku in skus), tuple(wetted)

    def _finished(self, request: Request, skus: Iterable[str]) -> Iterator[str]:
        """The families that offer the finish that is asked for: other parts of a family sway which of it will do."""
        if request.finish is not None:
            families, offers = {self._revision.items[sku].family for sku in skus}, self._revision.index.offers
            yield from sorted(x for x in families if x is not None and (x, request.finish) in offers)


@lru_cache(_KEPT_TEXTS)
def _swaying(kind: str, text: str) -> str:
    """The text of an object without what sways no answer."""
    return json.dumps({name: value for name, value in json.loads(text).items() if name not in _SILENT[kind]})
