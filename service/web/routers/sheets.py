"""The assembly sheet of a bill: how its parts go together, step by step."""

from collections.abc import Callable, Mapping
from typing import Annotated

from fastapi import APIRouter, Depends, Path, Request
from pydantic_core import to_json
from starlette.responses import Response

from service.documents.sheet import Sheet
from service.drawing.shapes import PartShape
from service.usecases.assembly_sheet import assembly_sheet
from service.usecases.library import Library
from service.web import examples
from service.web.handing import go_elsewhere
from service.web.negotiation import negotiated
from service.web.operations import answers
from service.web.pages.pdf import missing, pdf_of
from service.web.pages.pictures import shapes_in
from service.web.pages.rendering import POLICY
from service.web.pages.sheet import sheet_page
from service.web.queries import NoQuery, query_of
from service.web.representations import HTML, JSON, LASTING, PDF, represent
from service.web.resources import AppResources
from service.web.site import Site

router = APIRouter(prefix="/v1/bills", tags=["bills"])


Shapes = Mapping[str, PartShape]
_WRITERS: dict[str, Callable[[Sheet, str, Shapes], bytes]] = {
    JSON: lambda sheet, _, __: to_json(sheet),
    HTML: lambda sheet, link, shapes: sheet_page(sheet, link=link, shapes=shapes).encode(),
    PDF: lambda sheet, link, shapes: pdf_of(sheet_page(sheet, link=link, stylesheet=None, shapes=shapes)),
}
_ALSO = {HTML: {"type": "string"}, PDF: {"type": "string", "contentMediaType": PDF}}
_OWN_HEADERS = {HTML: {"Content-Security-Policy": POLICY}}


@router.get(
    "/{key}/sheet",
    operation_id="getSheet",
    summary="How the parts of a bill go together",
    description=(
        "The assembly sheet of a bill: cautions, tools and consumables, a plan of the rail, then the steps in working "
        "order, each with its part, spot, method, torque or turns, what to look for, how to tell that it went wrong "
        "and what then; as a page for text/html, and for application/pdf where the "
        "extra `pdf` is installed. What the makers of vehicle and parts say comes first, and local codes "
        "decide."
    ),
    response_model=Sheet,
    responses=answers(
        "The sheet.", examples.sheet(), "unknown-id", "not-acceptable", "invalid-request", "no-catalog", also=_ALSO
    ),
)
async def sheet(
    request: Request,
    resources: AppResources,
    key: Annotated[str, Path(description="the key of a bill", examples=[examples.sheet()["key"]])],
    _: Annotated[NoQuery, Depends(query_of(NoQuery))],
) -> Response:
    return await resources.run(written_sheet, request, resources.library, key, _media_type(request))


def written_sheet(request: Request, library: Library, key: str, media_type: str) -> Response:
    """The sheet of a bill in a media type of `_WRITERS`. Raises NotFoundError.

    Its link is the whole address of the sheet, which takes no writing and is the same for ever.
    """
    told = assembly_sheet(library, key)
    site: Site = request.app.state.site
    link = f"{site.url}{router.prefix}/{key}/sheet"
    return represent(
        _WRITERS[media_type](told, link, shapes_in(library.edition(told["revision"]), told["rails"])),
        caching=LASTING,
        revision=told["revision"],
        media_type=media_type,
        more={"Vary": "Accept", **_OWN_HEADERS.get(media_type, {})},
    )


def _media_type(request: Request) -> str:
    """The one to answer in. A PDF is for the back process; whether it can be made is looked up for who asks for one."""
    wanted = negotiated(request, tuple(_WRITERS))
    if wanted == PDF:
        go_elsewhere()
    lacking = missing() if wanted == PDF else None
    if lacking is None:
        return wanted
    return negotiated(request, tuple(media_type for media_type in _WRITERS if media_type != PDF), {PDF: lacking})
