"""Style: every piece that the pages are put together of, on one page; in development only."""

from fastapi import APIRouter, Request
from starlette.responses import Response

from service.usecases.errors import NotFoundError
from service.usecases.library import Library
from service.web.counter.showing import PageRoute, shown
from service.web.pages.pictures import Pictures
from service.web.resources import AppResources

router = APIRouter(include_in_schema=False, route_class=PageRoute)

SIZES = ("small", "hint", "body", "head", "title", "figure")
SPACES = ("s1", "s2", "s3", "s4", "s5", "s6")
COLOURS = ("ink", "faint", "paper", "card", "line", "edge", "soft", "accent", "warn", "good", "tight")
_MOST_ITEMS = 40
_MOST_LAYOUTS = 6


@router.get("/style")
async def style(request: Request, resources: AppResources) -> Response:
    if not request.app.state.style_page:
        raise NotFoundError("page", "/style")
    return await resources.run(_style, request, resources.library)


def _style(request: Request, library: Library) -> Response:
    """The pieces, with a part of each kind and finish, and some layouts."""
    edition = library.edition()
    pictures = Pictures(edition)
    kinds = {(item.kind, item.finish): item for item in edition.catalog.items}
    layouts = list(edition.revision.layouts.values())[:_MOST_LAYOUTS]
    return shown(
        request,
        "style.html",
        sizes=SIZES,
        spaces=SPACES,
        colours=COLOURS,
        items=list(kinds.values())[:_MOST_ITEMS],
        layouts=[(layout, pictures.of_layout(layout)) for layout in layouts],
        pictures=pictures,
    )
