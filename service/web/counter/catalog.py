"""Catalog: the parts by name or SKU, and one part with what meets it, where it stands and why."""

from itertools import groupby
from operator import itemgetter
from typing import Annotated

from fastapi import APIRouter, Path, Request
from starlette.responses import Response

from service.documents.catalog import Item
from service.documents.explain import ExplainRequest, Explanation
from service.documents.nearest import nearest
from service.documents.packed import Objects
from service.domain.parts import Opening
from service.domain.vehicles import Chassis
from service.usecases.browse import ItemFilter, find_item, list_items
from service.usecases.explain_part import explain_in
from service.usecases.library import Edition, Library
from service.usecases.part_uses import UsesPage, uses_of
from service.web.counter.showing import PageRoute, shown
from service.web.linked_data import product_of
from service.web.pages.cars import car_meant
from service.web.pages.pictures import Pictures
from service.web.resources import AppResources

router = APIRouter(include_in_schema=False, route_class=PageRoute)

MOST_ITEMS = 60
_MOST_OF_KIND = 8
"""So many of each kind are shown where nothing is asked for."""
_MOST_MATES = 40
_MOST_USES = 200
_LONGEST_NUMBER = 10
_LONGEST_WORDS = 120


@router.get("/catalog")
async def items(request: Request, resources: AppResources) -> Response:
    return await resources.look(_items, request, resources.library)


@router.get("/catalog/{sku:path}")
async def item(request: Request, resources: AppResources, sku: Annotated[str, Path()]) -> Response:
    return await resources.run(_item, request, resources.library, sku)


def _items(request: Request, library: Library) -> Response:
    edition = library.edition()
    words = request.query_params.get("q", "").strip()[:_LONGEST_WORDS]
    kind = request.query_params.get("kind", "").strip()[:_LONGEST_WORDS]
    found = _like(edition, words, list_items(edition, ItemFilter(kind or None)))
    of_kinds = {} if words or kind else edition.revision.index.by_kind
    return shown(
        request,
        "catalog.html",
        groups=[(name, len(skus), found.only(skus[:_MOST_OF_KIND])) for name, skus in of_kinds.items()],
        items=found[:MOST_ITEMS],
        more=max(len(found) - MOST_ITEMS, 0),
        words=words,
        kind=kind,
        kinds=sorted(edition.revision.index.by_kind),
        currency=edition.revision.currency,
        pictures=Pictures(edition),
    )


def _like(edition: Edition, words: str, items: Objects[Item]) -> Objects[Item]:
    """The items that the words describe, else those that come nearest."""
    if not words:
        return items
    found = [sku for sku in edition.item_search.found(words) if sku in items.texts]
    near = found or dict.fromkeys((*edition.order_reader.near(words), *nearest(words, items.texts)))
    return items.only(sku for sku in near if sku in items.texts)


def _item(request: Request, library: Library, sku: str) -> Response:
    edition = library.edition()
    found = find_item(edition, sku)
    sku = found.sku
    openings: dict[Opening, list[str]] = {}
    for port in found.ports:
        openings.setdefault(Opening(port.standard, port.end), []).extend([port.spot] if port.spot else [])
    ports = []
    for opening, spots in openings.items():
        mates = edition.revision.index.by_opening.get(opening.mate, ())
        told = [edition.items[mate] for mate in mates[:_MOST_MATES]]
        standard = edition.revision.standards[opening.standard]
        ports.append((opening, spots, standard, told, len(mates)))
    with_cars = request.query_params.get("cars") == "yes"
    used = uses_of(edition, sku, _from(request, edition), _MOST_USES) if with_cars else UsesPage([], None)
    asked = {name: request.query_params.get(name, "").strip()[:_LONGEST_WORDS] for name in ("car", "layout")}
    alike, car = car_meant(edition, asked["car"])
    layouts = edition.revision.layouts
    explained, with_gauge = None, False
    if car and asked["layout"] in layouts:
        explained, with_gauge = _explained(edition, sku, car, asked["layout"])
    return shown(
        request,
        "item.html",
        item=found,
        linked=product_of(edition, found, request.app.state.site.url),
        ports=ports,
        with_cars=with_cars,
        cars=[(name, list(uses)) for name, uses in groupby(used.uses, key=itemgetter("chassis", "chassis_name"))],
        next_uses=used.next,
        asked=asked,
        alike=alike,
        car=car,
        layouts=[(layout.id, layout.name) for layout in layouts.values()],
        explained=explained,
        verdicts=[] if explained is None else sorted(explained["verdicts"], key=lambda one: not one["stands"]),
        with_gauge=with_gauge,
        materials=[edition.revision.materials[id_] for id_ in found.wetted],
        currency=edition.revision.currency,
        tax=edition.revision.tax,
        pictures=Pictures(edition),
    )


def _from(request: Request, edition: Edition) -> int:
    """The place of the first use that a page shows; nonsense counts as none."""
    told = request.query_params.get("from", "")
    most = len(edition.revision.chassis) * len(edition.revision.layouts)
    return min(int(told), most) if told.isascii() and told.isdecimal() and len(told) < _LONGEST_NUMBER else 0


def _explained(edition: Edition, sku: str, car: Chassis, layout: str) -> tuple[Explanation, bool]:
    """Why a part is, or is not, in the bills of a car and a layout; and whether a gauge was asked for.

    As the cars are listed, bills with a gauge and without count; where none has the part, those tell that are nearer.
    """
    told = []
    for gauge in ("any", "none") if edition.items[sku].kind == "gauge" else ("none", "any"):
        asked = {"chassis": car.id, "layout": layout, "gauge": gauge}
        question = ExplainRequest.model_validate({"request": asked, "sku": sku})
        told.append((explain_in(edition, question), gauge == "any"))
        if told[-1][0]["in_bills"]:
            return told[-1]
    return told[0]
