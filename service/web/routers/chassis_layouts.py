"""The layouts of a car, at once: how many bills each has, from what price, or the rule that rules it out."""

from typing import Annotated

from fastapi import APIRouter, Depends, Path, Request
from pydantic_core import to_json
from starlette.responses import Response

from service.documents.answer import ChassisLayouts, LayoutChoice
from service.documents.money import money_of
from service.usecases.browse import chassis_layouts, find_chassis
from service.usecases.errors import RequestFaultsError
from service.usecases.library import Edition
from service.web import examples
from service.web.languages import ACCEPT_LANGUAGE, PARAMETER, AppLanguages, worded
from service.web.negotiation import negotiated
from service.web.operations import answers, query
from service.web.queries import parameters_of, query_of
from service.web.question_query import WishesQuery, of_query
from service.web.representations import JSON, represent
from service.web.resources import AppResources, Resources
from service.web.routers.sections import CHASSIS, caching, represent_detail

_ID = "the id of the chassis; slashes in it may stand as they are or as %2F, one before `layouts` only as %2F"

_PROBLEMS = ("unknown-id", "invalid-request", "not-acceptable", "no-catalog")
_ANY_LAYOUT = "any"
"""Stands for the layout while the other fields are read."""

router = APIRouter(prefix="/v1/chassis", tags=["bills"])


@router.get(
    "/{id:path}/layouts",
    operation_id="listChassisLayouts",
    summary="What each layout carries and costs for a car, or what rules it out",
    description=(
        "Each layout is asked for with the wishes and facts of the query, which are those of GET /v1/bills. `power` is "
        "what its best bill carries, in the order asked for. `limit` makes no difference here."
    ),
    response_model=ChassisLayouts,
    responses=answers("The layouts.", examples.layouts(), *_PROBLEMS, worded=True),
    openapi_extra=query([*parameters_of(WishesQuery), PARAMETER]),
)
async def list_chassis_layouts(
    request: Request,
    resources: AppResources,
    chassis: Annotated[str, Path(alias="id", description=_ID, examples=[examples.question()["chassis"]])],
    given: Annotated[WishesQuery, Depends(query_of(WishesQuery))],
    languages: AppLanguages,
) -> Response:
    negotiated(request, (JSON,))
    if request.scope["raw_path"].lower().endswith(b"%2flayouts"):  # the slash is one of the id's own
        return await resources.look(represent_detail, resources, CHASSIS, f"{chassis}/layouts", given)
    return await resources.run(_represented, resources, chassis, given, languages)


def _represented(resources: Resources, chassis: str, given: WishesQuery, languages: str) -> Response:
    edition = resources.library.edition(given.revision)
    with worded(languages, edition.revision) as told:
        content: ChassisLayouts = {
            "revision": edition.number,
            **money_of(edition.revision),
            "chassis": chassis,
            "layouts": _layouts(edition, chassis, given),
        }
    body = to_json(content, exclude_none=True)
    more = told(body) | {"Vary": f"Accept, {ACCEPT_LANGUAGE}"}
    return represent(body, caching=caching(given), revision=edition.number, more=more)


def _layouts(edition: Edition, chassis: str, given: WishesQuery) -> list[LayoutChoice]:
    find_chassis(edition, chassis)
    wishes = given.question_on(chassis, _ANY_LAYOUT).model_dump(exclude_unset=True, exclude={"chassis", "layout"})
    try:
        return chassis_layouts(edition, chassis, wishes)
    except RequestFaultsError as error:
        raise of_query(error) from error
