"""Uses of a part: what could it be used for?"""

from typing import Annotated

from fastapi import APIRouter, Depends, Path, Request
from starlette.responses import Response

from service.documents.uses import ItemUses
from service.usecases.browse import find_item
from service.usecases.part_uses import uses_of
from service.web import examples
from service.web.cursors import Cursor
from service.web.negotiation import negotiated
from service.web.operations import answers, query
from service.web.paging import onward, start_of
from service.web.queries import PageQuery, parameters_of, query_of
from service.web.representations import JSON, represent
from service.web.resources import AppResources, Resources
from service.web.routers.sections import ITEMS, caching, represent_detail

_SKU = "the SKU of the item; slashes in it may stand as they are or as %2F, one before `uses` only as %2F"
_LIST = "items/uses"
_PROBLEMS = ("unknown-id", "invalid-request", "not-acceptable", "no-catalog")

router = APIRouter(prefix="/v1/items", tags=["bills"])


@router.get(
    "/{sku:path}/uses",
    operation_id="listItemUses",
    summary="What could this part be used for?",
    description=(
        "Every car and layout with a valid bill that has the part, and the spots where it stands there: at the car's "
        "stock power, on the catalog's first fuel, with a gauge and without. Bills are searched, not only ports "
        "compared. A page may end early where it took the work of one question; `next` goes on."
    ),
    response_model=ItemUses,
    responses=answers("A page.", examples.uses(), *_PROBLEMS, paged=True),
    openapi_extra=query(parameters_of(PageQuery)),
)
async def list_uses(
    request: Request,
    resources: AppResources,
    wanted: Annotated[str, Path(alias="sku", description=_SKU, examples=[examples.uses()["sku"]])],
    given: Annotated[PageQuery, Depends(query_of(PageQuery))],
) -> Response:
    negotiated(request, (JSON,))
    if request.scope["raw_path"].lower().endswith(b"%2fuses"):  # the slash is one of the SKU's own
        return await resources.look(represent_detail, resources, ITEMS, f"{wanted}/uses", given)
    return await resources.run(_represented, request, resources, wanted, given)


def _represented(request: Request, resources: Resources, wanted: str, given: PageQuery) -> Response:
    filters = {"sku": wanted}
    start = start_of(given, _LIST, filters)
    edition = resources.library.edition(start.revision or given.revision)
    sku = find_item(edition, wanted).sku
    found = uses_of(edition, sku, start.offset, given.limit)
    content: ItemUses = {"revision": edition.number, "sku": sku, "results": found.uses}
    cursor = None if found.next is None else Cursor(edition.number, found.next)
    way = onward(request, given, _LIST, cursor, filters)
    more = {"Vary": "Accept"} | way.header
    return represent({**content, **way.field}, caching=caching(given), revision=edition.number, more=more)
