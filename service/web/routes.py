"""Every router of the application, in the order in which paths are matched."""

from typing import Annotated

import anyio.to_thread
from fastapi import APIRouter, Depends, Request
from pydantic_core import to_json
from starlette.responses import Response

from service.web.counter import ask as ask_page
from service.web.counter import bill as bill_page
from service.web.counter import catalog as catalog_page
from service.web.counter import drawings as drawings_page
from service.web.counter import inquiries as inquiries_page
from service.web.counter import order as order_page
from service.web.counter import order_batches as order_batches_page
from service.web.counter import policy as policy_page
from service.web.counter import said as said_page
from service.web.counter import sheet as sheet_page
from service.web.counter import sign_in as sign_in_page
from service.web.counter import style as style_page
from service.web.counter import units as units_page
from service.web.counter import (
    workshop,
    workshop_inquiries,
    workshop_next_parts,
    workshop_objects,
    workshop_publishing,
    workshop_revisions,
    workshop_tables,
)
from service.web.queries import NoQuery, query_of
from service.web.representations import REVALIDATE, represent
from service.web.routers import (
    bills,
    chassis_layouts,
    contract,
    descriptions,
    draft_objects,
    draft_tables,
    drafts,
    drawings,
    explain,
    health,
    inquiries,
    item_uses,
    joints,
    metrics,
    next_parts,
    order_checks,
    order_reading,
    publishing,
    questions,
    revisions,
    sheets,
    short_links,
    static,
    sweeps,
    webhooks,
)
from service.web.routers.sections import SECTIONS, section_router
from service.web.sandbox import sandbox_router

_document = APIRouter(include_in_schema=False)


@_document.get("/openapi.json")
async def openapi_document(request: Request, _: Annotated[NoQuery, Depends(query_of(NoQuery))]) -> Response:
    return represent(to_json(await anyio.to_thread.run_sync(request.app.openapi)), caching=REVALIDATE)


def all_routers() -> tuple[APIRouter, ...]:
    """The routers of the API and of the pages."""
    routers = [
        bills.router,
        sheets.router,
        short_links.router,
        explain.router,
        questions.router,
        order_reading.router,
        order_checks.router,
    ]
    routers += [inquiries.router, chassis_layouts.router, joints.router]
    routers += [revisions.router, next_parts.router, sweeps.router, webhooks.router]
    routers += [
        drafts.router,
        publishing.router,
        draft_tables.router,
        draft_objects.router,
    ]  # whose keys may hold slashes
    routers += [drawings.router, item_uses.router]  # before the sections, whose ids may hold slashes
    routers += [
        *map(section_router, SECTIONS),
        sandbox_router(),
        contract.router,
        descriptions.router,
        health.router,
        metrics.router,
        static.router,
        _document,
    ]
    routers += [
        ask_page.router,
        bill_page.router,
        said_page.router,
        order_batches_page.router,
        order_page.router,
        drawings_page.router,
        sheet_page.router,
        inquiries_page.router,
        catalog_page.router,
        style_page.router,
        policy_page.router,
        units_page.router,
        sign_in_page.router,
    ]
    routers += [workshop_inquiries.router, workshop_next_parts.router, workshop_revisions.router]
    routers += [
        workshop_publishing.router,
        workshop_tables.router,
        workshop_objects.router,
        workshop.router,
    ]  # whose paths are of any draft
    return tuple(routers)
