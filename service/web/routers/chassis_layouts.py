"""The layouts of a car, at once: how many bills each has, from what price, or the rule that rules it out."""

from typing import Annotated

from fastapi import APIRouter, Depends, Path, Request
from starlette.responses import Response

from service.documents.answer import ChassisLayouts, LayoutChoice
from service.documents.rendering import rendered
from service.usecases.browse import chassis_layouts
from service.usecases.errors import NotFoundError
from service.usecases.library import Edition
from service.web import examples
from service.web.errors import InvalidQueryError, ParameterFault
from service.web.operations import answers, query
from service.web.queries import LayoutsQuery, parameters_of, query_of
from service.web.representations import represent
from service.web.resources import AppResources
from service.web.routers.sections import CHASSIS, caching, represent_detail

_ID = "the id of the chassis; slashes in it may stand as they are or as %2F, one before `layouts` only as %2F"

router = APIRouter(prefix="/v1/chassis", tags=["bills"])


@router.get(
    "/{id:path}/layouts",
    operation_id="listChassisLayouts",
    summary="What each layout costs for a car, or what rules it out",
    response_model=ChassisLayouts,
    responses=answers("The layouts.", examples.layouts(), "unknown-id", "invalid-request", "no-catalog"),
    openapi_extra=query(parameters_of(LayoutsQuery)),
)
async def list_chassis_layouts(
    request: Request,
    resources: AppResources,
    chassis: Annotated[str, Path(alias="id", description=_ID, examples=[examples.question()["chassis"]])],
    given: Annotated[LayoutsQuery, Depends(query_of(LayoutsQuery))],
) -> Response:
    if request.scope["raw_path"].lower().endswith(b"%2flayouts"):  # the slash is one of the id's own
        return await resources.look(represent_detail, request, resources, CHASSIS, f"{chassis}/layouts", given)
    return await resources.run(_represented, request, resources, chassis, given)


def _represented(request: Request, resources: AppResources, chassis: str, given: LayoutsQuery) -> Response:
    edition = resources.library.edition(given.revision)
    content: ChassisLayouts = {
        "revision": edition.number,
        "currency": edition.catalog.maker.currency,
        "chassis": chassis,
        "layouts": _layouts(edition, chassis, given.fuel),
    }
    return represent(request, content, caching=caching(given), revision=edition.number)


def _layouts(edition: Edition, chassis: str, fuel: str | None) -> list[LayoutChoice]:
    try:
        return chassis_layouts(edition, chassis, fuel)
    except NotFoundError as error:
        if error.kind != "fuel":
            raise
        fault = ParameterFault("fuel", rendered(error.value), "the id of a known fuel", error.nearest)
        raise InvalidQueryError(fault) from error
