"""The sections of the catalog: for each a list by page, and one document by its id."""

from collections.abc import Sequence
from dataclasses import dataclass
from types import GenericAlias
from typing import Annotated, Any, get_type_hints

from fastapi import APIRouter, Depends, Path, Request
from pydantic import BaseModel, Field, create_model
from starlette.responses import Response

from service.documents import catalog
from service.documents.fields import Document
from service.documents.money import InMoney, money_of
from service.documents.packed import Objects
from service.documents.rendering import rendered
from service.usecases.browse import ItemFilter, find, find_item, list_chassis, list_items
from service.usecases.errors import NotFoundError
from service.usecases.library import Edition
from service.web import examples
from service.web.cursors import Cursor
from service.web.errors import InvalidQueryError, ParameterFault
from service.web.linked_data import product_of
from service.web.negotiation import negotiated
from service.web.operations import answers, query
from service.web.paging import onward, start_of
from service.web.queries import (
    ChassisQuery,
    ItemsQuery,
    PageQuery,
    RevisionAsked,
    RevisionQuery,
    parameters_of,
    query_of,
)
from service.web.representations import CSV, JSON, JSON_LD, LASTING, REVALIDATE, represent
from service.web.resources import AppResources, Resources
from service.web.tabular import items_csv


@dataclass(frozen=True)
class Section:
    """A section of the catalog: its path, its field in the document, and what one of its things is called."""

    path: str
    field: str
    kind: str
    model: type[Document]
    id: str = "id"


ITEMS = Section("items", "items", "item", catalog.Item, "sku")
CHASSIS = Section("chassis", "chassis", "chassis", catalog.Chassis)
SECTIONS = (
    ITEMS,
    CHASSIS,
    Section("layouts", "layouts", "layout", catalog.Layout),
    Section("addons", "addons", "add-on", catalog.Addon),
    Section("fuels", "fuels", "fuel", catalog.Fuel),
    Section("materials", "materials", "material", catalog.Material),
    Section("port-standards", "port_standards", "port standard", catalog.PortStandard),
)


_QUERIES: dict[str, type[PageQuery]] = {ITEMS.path: ItemsQuery, CHASSIS.path: ChassisQuery}


_LINKED = "the item as a Product of schema.org, with its Offer and what it is an accessory or a spare part for"
NotFound = Annotated[list[str] | None, Field(description="of the SKUs that were asked for those that are none")]


def section_router(section: Section) -> APIRouter:
    """The two operations of a section."""
    router = APIRouter(prefix=f"/v1/{section.path}", tags=["catalog"])
    asked = _QUERIES.get(section.path, PageQuery)
    name = "".join(word.title() for word in section.path.split("-"))
    described = f"the {section.id} of the {section.kind}; slashes in it may stand as they are or as %2F"
    example = examples.documents(section.field)[0][section.id]

    @router.get(
        "",
        operation_id=f"list{name}",
        summary=f"The {section.path.replace('-', ' ')} of a revision, by page",
        response_model=_page_model(section.model),
        responses=answers(
            "A page.",
            examples.page(section.field),
            *("invalid-request", "unknown-id", "not-acceptable", "no-catalog"),
            paged=True,
            also={form: {"type": "string"} for form in _forms(section) if form != JSON},
        ),
        openapi_extra=query(parameters_of(asked)),
    )
    async def list_section(
        request: Request, resources: AppResources, given: Annotated[PageQuery, Depends(query_of(asked))]
    ) -> Response:
        media_type = negotiated(request, _forms(section))
        run = resources.run if _is_searched(given) else resources.look
        return await run(_page, request, resources, section, given, media_type)

    @router.get(
        f"/{{{section.id}:path}}",
        operation_id=f"get{name}",
        summary=f"One {section.kind} by its {section.id}",
        response_model=_detail_model(section.model),
        responses=answers(
            "The document.",
            examples.detail(section.field),
            *("unknown-id", "invalid-request", "not-acceptable", "no-catalog"),
            also={JSON_LD: {"type": "object", "description": _LINKED}} if section is ITEMS else {},
        ),
        openapi_extra=query(parameters_of(RevisionQuery)),
    )
    async def get_one(
        request: Request,
        resources: AppResources,
        wanted: Annotated[str, Path(alias=section.id, description=described, examples=[example])],
        given: RevisionAsked,
    ) -> Response:
        if negotiated(request, (JSON, JSON_LD) if section is ITEMS else (JSON,)) == JSON_LD:
            return await resources.run(_linked, request, resources, wanted, given)
        return await resources.look(represent_detail, resources, section, wanted, given)

    return router


def _linked(request: Request, resources: Resources, wanted: str, given: RevisionQuery) -> Response:
    """An item as JSON-LD. Raises NotFoundError."""
    edition = resources.library.edition(given.revision)
    before = request.url.path.partition("/v1/")[0]
    content = product_of(edition, find_item(edition, wanted), request.app.state.site.url, before)
    return represent(
        content, caching=caching(given), revision=edition.number, media_type=JSON_LD, more={"Vary": "Accept"}
    )


_MONEY = {name: (told, ...) for name, told in get_type_hints(InMoney, include_extras=True).items()}


def _page_model(model: type[Document]) -> type[BaseModel]:
    """One page of a list; `next` is where it goes on, absent on the last page."""
    results: Any = GenericAlias(list, (model,))
    more: dict[str, Any] = {**_MONEY, "not_found": (NotFound, None)} if model is catalog.Item else {}
    name = f"{model.__name__}Page"
    return create_model(name, revision=(int, ...), results=(results, ...), next=(str | None, None), **more)


def _detail_model(model: type[Document]) -> type[BaseModel]:
    """One document with the revision that it stands in."""
    money: dict[str, Any] = _MONEY if model is catalog.Item else {}
    return create_model(f"{model.__name__}Detail", revision=(int, ...), **money, result=(model, ...))


def represent_detail(resources: Resources, section: Section, wanted: str, given: RevisionQuery) -> Response:
    """One document of a section by its id. Raises NotFoundError."""
    edition = resources.library.edition(given.revision)
    documents: Objects[Any] = getattr(edition.catalog, section.field)
    found = find_item(edition, wanted) if section.field == "items" else find(documents, section.kind, wanted)
    content = {"revision": edition.number, **_money(section, edition), "result": found}
    return represent(content, caching=caching(given), revision=edition.number, more={"Vary": "Accept"})


def _money(section: Section, edition: Edition) -> dict[str, Any]:
    """What is told of the money of a section that has prices."""
    return {**money_of(edition.revision)} if section is ITEMS else {}


def _forms(section: Section) -> tuple[str, ...]:
    return (JSON, CSV) if section is ITEMS else (JSON,)


def _is_searched(given: PageQuery) -> bool:
    """Whether it takes a search: among all bills, or among all words."""
    if isinstance(given, ItemsQuery):
        return given.fits is not None or given.q is not None
    return isinstance(given, ChassisQuery) and given.q is not None


def _page(request: Request, resources: Resources, section: Section, given: PageQuery, media_type: str) -> Response:
    start = start_of(given, section.path)
    edition = resources.library.edition(start.revision or given.revision)
    documents = _documents(edition, section, given)
    end = start.offset + given.limit
    listed = documents[start.offset : end]
    content: dict[str, Any] = {"revision": edition.number, **_money(section, edition), "results": listed}
    if isinstance(given, ItemsQuery) and given.sku is not None:
        content["not_found"] = [sku for sku in given.skus() if edition.revision.sku_of(sku) not in edition.items]
    way = onward(request, given, section.path, Cursor(edition.number, end) if end < len(documents) else None)
    body = items_csv(edition, content["results"]) if media_type == CSV else content | way.field
    more = {"Vary": "Accept"} | way.header
    return represent(body, caching=caching(given), revision=edition.number, media_type=media_type, more=more)


def _documents(edition: Edition, section: Section, given: PageQuery) -> Sequence[Any]:
    if isinstance(given, ItemsQuery):
        return _items(edition, given)
    if isinstance(given, ChassisQuery):
        return list_chassis(edition, given.q)
    documents: Sequence[Any] = getattr(edition.catalog, section.field)
    return documents


def _items(edition: Edition, given: ItemsQuery) -> Sequence[Document]:
    skus = None if given.sku is None else frozenset(map(edition.revision.sku_of, given.skus()))
    wanted = ItemFilter(given.kind, given.mating_end(), given.fits, given.q, skus, given.status, given.sold)
    try:
        return list_items(edition, wanted)
    except NotFoundError as error:
        parameter, part = ("fits", "") if error.kind == "chassis" else ("mates", ", then :male or :female")
        expected = f"the id of a known {error.kind}{part}"
        raise InvalidQueryError(ParameterFault(parameter, rendered(error.value), expected, error.nearest)) from error


def caching(given: RevisionQuery) -> str:
    """A revision that is named lasts; the newest has to be asked for again."""
    pinned = given.revision is not None or (isinstance(given, PageQuery) and given.cursor is not None)
    return LASTING if pinned else REVALIDATE
