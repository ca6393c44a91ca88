"""The assembly sheet as a PDF under an address of its own, for links and for browsers that ask for anything."""

from typing import Annotated

from fastapi import APIRouter, Depends, Request
from starlette.responses import Response

from service.usecases.library import Library
from service.web.counter.showing import PageRoute
from service.web.errors import NotAcceptableError
from service.web.handing import go_elsewhere
from service.web.pages.pdf import missing
from service.web.pages.rendering import Units
from service.web.queries import query_of
from service.web.representations import HTML, JSON, PDF
from service.web.resources import AppResources
from service.web.routers.sheets import SheetQuery, written_sheet

router = APIRouter(include_in_schema=False, route_class=PageRoute)


@router.get("/bills/{key}/sheet.pdf")
async def sheet_pdf(
    request: Request, resources: AppResources, key: str, given: Annotated[SheetQuery, Depends(query_of(SheetQuery))]
) -> Response:
    go_elsewhere()
    return await resources.run(_pdf, request, resources.library, key, given.units)


def _pdf(request: Request, library: Library, key: str, units: Units) -> Response:
    lacking = missing()
    if lacking is not None:
        raise NotAcceptableError("a PDF", (HTML, JSON), lacking)
    response = written_sheet(request, library, key, PDF, units)
    response.headers["Content-Disposition"] = 'inline; filename="assembly-sheet.pdf"'
    return response
