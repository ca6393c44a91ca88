"""The layouts of a car, at once: how many bills each has, from what price, or the rule that rules it out."""

from typing import Annotated

from fastapi import APIRouter, Depends, Path, Request
from starlette.responses import Response
from typing_extensions import TypedDict

from service.documents.answer import LayoutChoice
from service.usecases.browse import chassis_layouts
from service.web import examples
from service.web.operations import answers, query
from service.web.queries import RevisionQuery, parameters_of, query_of
from service.web.representations import represent
from service.web.resources import AppResources
from service.web.routers.sections import CHASSIS, caching, represent_detail

_ID = "the id of the chassis; slashes in it may stand as they are or as %2F, one before `layouts` only as %2F"

router = APIRouter(prefix="/v1/chassis", tags=["bills"])


class ChassisLayouts(TypedDict):
    """Every layout of the catalog for one chassis, at its stock power on the first fuel, without other wishes."""

    revision: int
    currency: str
    chassis: str
    layouts: list[LayoutChoice]


@router.get(
    "/{id:path}/layouts",
    operation_id="listChassisLayouts",
    summary="What each layout costs for a car, or what rules it out",
    response_model=ChassisLayouts,
    responses=answers("The layouts.", examples.layouts(), "unknown-id", "invalid-request", "no-catalog"),
    openapi_extra=query(parameters_of(RevisionQuery)),
)
async def list_chassis_layouts(
    request: Request,
    resources: AppResources,
    chassis: Annotated[str, Path(alias="id", description=_ID, examples=[examples.question()["chassis"]])],
    given: Annotated[RevisionQuery, Depends(query_of(RevisionQuery))],
) -> Response:
    if request.scope["raw_path"].lower().endswith(b"%2flayouts"):  # the slash is one of the id's own
        return await resources.run(represent_detail, request, resources, CHASSIS, f"{chassis}/layouts", given)
    return await resources.run(_represented, request, resources, chassis, given)


def _represented(request: Request, resources: AppResources, chassis: str, given: RevisionQuery) -> Response:
    edition = resources.library.edition(given.revision)
    content: ChassisLayouts = {
        "revision": edition.number,
        "currency": edition.catalog.maker.currency,
        "chassis": chassis,
        "layouts": chassis_layouts(edition, chassis),
    }
    return represent(request, content, caching=caching(given), revision=edition.number)
