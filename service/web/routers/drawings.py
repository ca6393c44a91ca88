"""What the drawings show, as JSON: a bill's rails and the pressure along its paths; drop against power by layout."""

from typing import Annotated

from fastapi import APIRouter, Depends, Path, Request
from pydantic_core import to_json
from starlette.responses import Response

from service.documents.drawing import BillDrawing, DropCurves
from service.documents.rendering import rendered
from service.usecases.draw_bill import draw_bill
from service.usecases.drop_curves import drop_curves
from service.usecases.errors import NotFoundError
from service.usecases.library import Library
from service.web import examples
from service.web.drawing_queries import CurvesQuery
from service.web.errors import InvalidQueryError, ParameterFault
from service.web.operations import OF_ID, answers, query
from service.web.queries import NothingAsked, parameters_of, query_of
from service.web.representations import LASTING, represent
from service.web.resources import AppResources, Resources
from service.web.routers.sections import CHASSIS, caching, represent_detail

_ID = "the id of the chassis; slashes in it may stand as they are or as %2F, one before `drop-curves` only as %2F"

router = APIRouter(tags=["bills"])


@router.get(
    "/v1/bills/{key}/drawing",
    operation_id="getDrawing",
    summary="A bill's rails to draw, and the pressure along its paths",
    description=(
        "All that a drawing of the bill shows. Each path has its stations as fuel meets them, what each loses (their "
        "sum is the path's `drop_kpa` in the bill) and the gauge pressure behind each. What the regulator "
        "holds is held in the rail where it stands there; behind the return, the rail has what the return loses "
        "besides; at the tank, what the feed leaves. "
        "What is not rated is null."
    ),
    response_model=BillDrawing,
    responses=answers("The drawing.", examples.drawing(), *OF_ID),
)
async def drawing(
    resources: AppResources,
    key: Annotated[str, Path(description="the key of a bill", examples=[examples.drawing()["key"]])],
    _: NothingAsked,
) -> Response:
    return await resources.run(_drawn, resources.library, key)


def _drawn(library: Library, key: str) -> Response:
    told = draw_bill(library, key)
    return represent(to_json(told), caching=LASTING, revision=told["revision"])


@router.get(
    "/v1/chassis/{id:path}/drop-curves",
    operation_id="getDropCurves",
    summary="Drop against power, the layouts of a car side by side",
    description=(
        "For each layout that has a bill at the car's stock power its cheapest bill, at rising demand: of its paths "
        "the one that is nearest to its limit of drop. Each curve ends at what its bill carries: `power`."
    ),
    response_model=DropCurves,
    responses=answers("The curves.", examples.curves(), *OF_ID),
    openapi_extra=query(parameters_of(CurvesQuery)),
)
async def curves(
    request: Request,
    resources: AppResources,
    chassis: Annotated[str, Path(alias="id", description=_ID, examples=[examples.question()["chassis"]])],
    given: Annotated[CurvesQuery, Depends(query_of(CurvesQuery))],
) -> Response:
    if request.scope["raw_path"].lower().endswith(b"%2fdrop-curves"):  # the slash is one of the id's own
        return await resources.look(represent_detail, resources, CHASSIS, f"{chassis}/drop-curves", given)
    return await resources.run(_represented, resources, chassis, given)


def _represented(resources: Resources, chassis: str, given: CurvesQuery) -> Response:
    told = curves_of(resources.library, chassis, given)
    return represent(to_json(told), caching=caching(given), revision=told["revision"])


def curves_of(library: Library, chassis: str, given: CurvesQuery) -> DropCurves:
    """The curves that a query asks for. Raises NotFoundError for the chassis, InvalidQueryError for the fuel."""
    try:
        return drop_curves(library.edition(given.revision), chassis, given.fuel, given.power_kw)
    except NotFoundError as error:
        if error.kind != "fuel":
            raise
        fault = ParameterFault("fuel", rendered(error.value), "the id of a known fuel", error.nearest)
        raise InvalidQueryError(fault) from error
