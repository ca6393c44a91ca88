"""All of a catalog that the answer to one question hangs on. Where it is the same in two catalogs, so is the answer.

It may hold more than is needed, never less: then a question is asked for nothing, but none is left out.
"""

from collections.abc import Hashable, Iterator

from pydantic import BaseModel

from service.documents.catalog import IN_TRADE, Catalog
from service.domain.lazy import lazy
from service.domain.request import Request
from service.domain.revision import Revision
from service.impact.reach import Reach

_SILENT = {
    "item": {"name", "aliases", "mass_g", "superseded_by", "ring", "screw", "spacer", "seats", "hex_mm", "drive"}
    | {"injector_positions_mm", "spot_positions_mm", "outlet_deg", "min_bend_mm"}
    | IN_TRADE,
    "chassis": {"name", "engine", "aliases", "manifold", "tank"},
    "addon": {"name", "aliases", "raises_seat_mm", "fasteners"},
    "layout": {"name", "summary", "aliases"},
    "fuel": {"name", "source", "aliases", "cautions", "vapour", "heat_capacity_j_kg_k", "stoich_afr", "lhv_mj_kg"},
    "policies": {"vapour_margin_kpa", "seal_insertion_mm", "squeeze", "max_gland_fill", "max_proof_part"}
    | {"max_spread_percent", "power_reserve"},
}
"""By kind the fields that sway neither a bill, nor its price, nor the power that it carries."""


class Texts:
    """The objects of catalogs as texts of what sways an answer; each is written once, in however many catalogs it
    stands."""

    def __init__(self) -> None:
        self._known: dict[int, tuple[BaseModel, str]] = {}

    def of(self, kind: str, one: BaseModel) -> str:
        """Return the text of an object."""
        found = self._known.get(id(one))
        if found is None:
            found = one, one.model_dump_json(exclude_none=True, exclude=_SILENT[kind])
            self._known[id(one)] = found
        return found[1]


class Footprints:
    """Finds the footprints of questions in one catalog."""

    def __init__(self, catalog: Catalog, revision: Revision, texts: Texts) -> None:
        self._catalog = catalog
        self._revision = revision
        self._texts = texts
        self._reach = Reach(revision)

    def of(self, request: Request) -> Hashable:
        """Return the footprint of a resolved request."""
        texts = self._texts
        shapes = self._reach.shapes(request)
        rails = {rail.sku for shape in shapes for rail in shape.rails}
        skus = sorted((self._reach.of(request) | rails) & self._items.keys())
        wetted = sorted({material for sku in skus for material in self._revision.items[sku].wetted})
        return (
            texts.of("chassis", self._chassis[request.chassis.id]),
            texts.of("layout", self._layouts[request.layout.id]),
            texts.of("fuel", self._fuels[request.fuel.id]),
            tuple(texts.of("addon", self._addons[addon.id]) for addon in request.addons),
            texts.of("policies", self._catalog.policies),
            tuple(texts.of("item", self._items[sku]) for sku in skus),
            tuple((name, self._revision.materials[name].ratings[request.fuel.id]) for name in wetted),
            tuple(self._finished(request, skus)),
            (request.exclude, request.have, request.finish in self._revision.index.finishes),
        )

    def _finished(self, request: Request, skus: list[str]) -> Iterator[str]:
        """The families that offer the finish that is asked for: other parts of a family sway which of it will do."""
        if request.finish is not None:
            families, offers = {self._revision.items[sku].family for sku in skus}, self._revision.index.offers
            yield from sorted(x for x in families if x is not None and (x, request.finish) in offers)

    @lazy
    def _items(self) -> dict[str, BaseModel]:
        return {item.sku: item for item in self._catalog.items}

    @lazy
    def _chassis(self) -> dict[str, BaseModel]:
        return {one.id: one for one in self._catalog.chassis}

    @lazy
    def _layouts(self) -> dict[str, BaseModel]:
        return {one.id: one for one in self._catalog.layouts}

    @lazy
    def _fuels(self) -> dict[str, BaseModel]:
        return {one.id: one for one in self._catalog.fuels}

    @lazy
    def _addons(self) -> dict[str, BaseModel]:
        return {one.id: one for one in self._catalog.addons}
