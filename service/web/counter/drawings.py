"""Draw: the rails of a bill with the pressure along its paths, and drop against power for the layouts of a car."""

from typing import Annotated

from fastapi import APIRouter, Depends, Request
from starlette.responses import Response

from service.usecases.draw_bill import draw_bill
from service.usecases.library import Library
from service.web.counter.showing import PageRoute, shown
from service.web.counter.visits import visit_of
from service.web.drawing_queries import CurvesPageQuery
from service.web.pages.drawing import BILL_TEMPLATE, CURVES_TEMPLATE, curves_values, drawing_values
from service.web.pages.pictures import Pictures, shapes_in
from service.web.queries import NothingAsked, query_of
from service.web.resources import AppResources
from service.web.routers.drawings import curves_of

router = APIRouter(include_in_schema=False, route_class=PageRoute)


@router.get("/bills/{key}/drawing")
async def bill_drawing(request: Request, resources: AppResources, key: str, _: NothingAsked) -> Response:
    return await resources.run(_bill, request, resources.library, key)


def _bill(request: Request, library: Library, key: str) -> Response:
    drawing = draw_bill(library, key)
    shapes = shapes_in(Pictures(library.edition(drawing["revision"])), drawing["rails"])
    return shown(request, BILL_TEMPLATE, **drawing_values(drawing, shapes, inch=visit_of(request).units == "inch"))


@router.get("/drop-curves")
async def curves(
    request: Request, resources: AppResources, given: Annotated[CurvesPageQuery, Depends(query_of(CurvesPageQuery))]
) -> Response:
    return await resources.run(_curves, request, resources.library, given)


def _curves(request: Request, library: Library, given: CurvesPageQuery) -> Response:
    curves = curves_of(library, given.chassis, given)
    fuels = {fuel.id: fuel.name for fuel in library.edition(curves["revision"]).revision.fuels.values()}
    return shown(
        request, CURVES_TEMPLATE, **curves_values(curves, fuels, given.power_kw, inch=visit_of(request).units == "inch")
    )
