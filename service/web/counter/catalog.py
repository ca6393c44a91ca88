"""Catalog: the parts by name or SKU, and one part with what meets it and the cars that it stands in."""

from typing import Annotated

from fastapi import APIRouter, Path, Request
from starlette.responses import Response

from service.documents.catalog import Item
from service.documents.nearest import nearest
from service.domain.parts import Opening
from service.usecases.browse import find_item, list_items
from service.usecases.library import Edition, Library
from service.web.counter.showing import PageRoute, shown
from service.web.resources import AppResources

router = APIRouter(include_in_schema=False, route_class=PageRoute)

MOST_ITEMS = 100
_MOST_MATES = 40


@router.get("/catalog")
async def items(request: Request, resources: AppResources) -> Response:
    return await resources.run(_items, request, resources.library)


@router.get("/catalog/{sku:path}")
async def item(request: Request, resources: AppResources, sku: Annotated[str, Path()]) -> Response:
    return await resources.run(_item, request, resources.library, sku)


def _items(request: Request, library: Library) -> Response:
    edition = library.edition()
    words = request.query_params.get("q", "").strip()
    kind = request.query_params.get("kind", "").strip()
    found = _like(edition, words, list_items(edition, kind=kind or None))
    return shown(
        request,
        "catalog.html",
        items=found[:MOST_ITEMS],
        more=max(len(found) - MOST_ITEMS, 0),
        words=words,
        kind=kind,
        kinds=sorted(edition.skus_by_kind),
        currency=edition.revision.currency,
    )


def _like(edition: Edition, words: str, items: list[Item]) -> list[Item]:
    """The items whose SKU or name holds every word, else those whose SKU is nearest."""
    wanted = words.casefold().split()
    found = [item for item in items if all(word in f"{item.sku} {item.name}".casefold() for word in wanted)]
    return found or [edition.items[sku] for sku in nearest(words, [item.sku for item in items])]


def _item(request: Request, library: Library, sku: str) -> Response:
    edition = library.edition()
    found = find_item(edition, sku)
    ports = []
    for port in found.ports:
        meeting = edition.skus_by_opening.get(Opening(port.standard, port.end), set())
        mates = sorted(meeting, key=edition.positions.__getitem__)
        ports.append((port, edition.revision.standards[port.standard], mates[:_MOST_MATES], len(mates)))
    with_cars = request.query_params.get("cars") == "yes"
    cars = [car for car in edition.revision.chassis.values() if with_cars and sku in edition.skus_fitting(car)]
    return shown(
        request,
        "item.html",
        item=found,
        ports=ports,
        with_cars=with_cars,
        cars=cars,
        materials=[edition.revision.materials[id_] for id_ in found.wetted],
        currency=edition.revision.currency,
    )
