"""The stylesheets of the pages."""

from typing import Annotated

from fastapi import APIRouter, Depends, Request
from starlette.responses import Response

from service.web.pages.rendering import DRAWING_STYLES_PATH, STYLESHEET_PATH, drawing_styles, stylesheet
from service.web.queries import NoQuery, query_of
from service.web.representations import CSS, REVALIDATE, represent

router = APIRouter(include_in_schema=False)


@router.get(STYLESHEET_PATH)
async def sheet_css(request: Request, _: Annotated[NoQuery, Depends(query_of(NoQuery))]) -> Response:
    return represent(request, stylesheet(), caching=REVALIDATE, media_type=CSS)


@router.get(DRAWING_STYLES_PATH)
async def drawing_css(request: Request, _: Annotated[NoQuery, Depends(query_of(NoQuery))]) -> Response:
    return represent(request, drawing_styles(), caching=REVALIDATE, media_type=CSS)
