"""The assembly sheet of a bill: how its parts go together, step by step."""

from collections.abc import Callable
from typing import Annotated

from fastapi import APIRouter, Depends, Path, Request
from pydantic import Field
from pydantic_core import to_json
from starlette.responses import Response

from service.documents.sheet import Sheet
from service.usecases.assembly_sheet import sheet_of, sheet_today
from service.usecases.library import Library
from service.usecases.recall_bill import Recalled, recall
from service.web import examples
from service.web.handing import go_elsewhere
from service.web.negotiation import negotiated
from service.web.operations import answers, query
from service.web.pages.pdf import missing, pdf_of
from service.web.pages.pictures import Pictures
from service.web.pages.rendering import POLICY, Units
from service.web.pages.sheet import Beside, sheet_page
from service.web.pages.today import told_today
from service.web.queries import NoQuery, parameters_of, query_of
from service.web.representations import HTML, JSON, LASTING, PDF, REVALIDATE, represent
from service.web.resources import AppResources
from service.web.site import Site

router = APIRouter(prefix="/v1/bills", tags=["bills"])


class SheetQuery(NoQuery):
    """How a sheet is told to people."""

    units: Annotated[
        Units, Field(description="which stand first on page and PDF; JSON has both as figures", examples=["metric"])
    ] = "metric"


_WRITERS: dict[str, Callable[[Sheet, str, Beside], bytes]] = {
    HTML: lambda sheet, link, beside: sheet_page(sheet, link=link, beside=beside).encode(),
    PDF: lambda sheet, link, beside: pdf_of(sheet_page(sheet, link=link, stylesheet=None, beside=beside)),
}
_FORMS = (JSON, *_WRITERS)
_ALSO = {HTML: {"type": "string"}, PDF: {"type": "string", "contentMediaType": PDF}}
_OWN_HEADERS = {HTML: {"Content-Security-Policy": POLICY}}


@router.get(
    "/{key}/sheet",
    operation_id="getSheet",
    summary="How the parts of a bill go together",
    description=(
        "The assembly sheet of a bill: cautions, tools and consumables, a plan of the rail, then the steps in working "
        "order, each with its part, spot, method, torque or turns, what to look for, how to tell that it went wrong "
        "and what then; as a page for text/html, and for application/pdf where the extra `pdf` is installed. Page and "
        "PDF tell as well what the newest revision makes of the bill. What the makers of vehicle and parts say comes "
        "first, and local codes decide."
    ),
    response_model=Sheet,
    responses=answers(
        "The sheet.", examples.sheet(), "unknown-id", "not-acceptable", "invalid-request", "no-catalog", also=_ALSO
    ),
    openapi_extra=query(parameters_of(SheetQuery)),
)
async def sheet(
    request: Request,
    resources: AppResources,
    key: Annotated[str, Path(description="the key of a bill", examples=[examples.sheet()["key"]])],
    given: Annotated[SheetQuery, Depends(query_of(SheetQuery))],
) -> Response:
    return await resources.run(written_sheet, request, resources.library, key, _media_type(request), given.units)


def written_sheet(request: Request, library: Library, key: str, media_type: str, units: Units) -> Response:
    """The sheet of a bill as JSON or in a media type of `_WRITERS`. Raises NotFoundError.

    JSON is the same for ever. What people look at tells how things stand today, so it is asked for anew each time.
    """
    recalled = recall(library, key)
    told = sheet_of(recalled)
    if media_type == JSON:
        return represent(to_json(told), caching=LASTING, revision=told["revision"], more={"Vary": "Accept"})
    site: Site = request.app.state.site
    path = f"{router.prefix}/{key}/sheet"
    beside = _beside(library, recalled, key, told, units, each_whole=media_type == PDF)
    return represent(
        _WRITERS[media_type](told, f"{site.url}{path}{_INCH if units == 'inch' else ''}", beside),
        caching=REVALIDATE,
        revision=told["revision"],
        media_type=media_type,
        more={"Vary": "Accept", **_OWN_HEADERS.get(media_type, {})},
    )


_INCH = "?units=inch"


def _beside(library: Library, recalled: Recalled, key: str, told: Sheet, units: Units, *, each_whole: bool) -> Beside:
    pictures = Pictures(recalled.edition, each_whole=each_whole)
    found = sheet_today(library, recalled, key, told)
    return Beside(
        pictures,
        pictures.of_layout(recalled.request.layout, recalled.bill.duties),
        None if found is None else told_today("sheet", told["revision"], found.current, reads_alike=found.reads_alike),
        units,
        f"{router.prefix}/{key}/sheet{'' if units == 'inch' else _INCH}",
    )


def _media_type(request: Request) -> str:
    """The one to answer in. A PDF is for the back process; whether it can be made is looked up for who asks for one."""
    wanted = negotiated(request, _FORMS)
    if wanted == PDF:
        go_elsewhere()
    lacking = missing() if wanted == PDF else None
    if lacking is None:
        return wanted
    return negotiated(request, tuple(media_type for media_type in _FORMS if media_type != PDF), {PDF: lacking})
