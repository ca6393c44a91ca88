"""Every router of the application, in the order in which paths are matched."""

import anyio.to_thread
from fastapi import APIRouter, Request
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
from service.web.queries import NothingAsked
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
async def openapi_document(request: Request, _: NothingAsked) -> Response:
    return represent(to_json(await anyio.to_thread.run_sync(request.app.openapi)), caching=REVALIDATE)


_API = (
    *(bills, sheets, short_links, explain, questions, order_reading, order_checks),
    *(inquiries, chassis_layouts, joints, revisions, next_parts, sweeps, webhooks),
    *(drafts, publishing, draft_tables, draft_objects),  # the last one's keys may hold slashes
    *(drawings, item_uses),  # before the sections, whose ids may hold slashes
)
_AROUND = (contract, descriptions, health, metrics, static)
_PAGES = (
    *(ask_page, bill_page, said_page, order_batches_page, order_page, drawings_page, sheet_page, inquiries_page),
    *(catalog_page, style_page, policy_page, units_page, sign_in_page),
    *(workshop_inquiries, workshop_next_parts, workshop_revisions),
    *(workshop_publishing, workshop_tables, workshop_objects, workshop),  # whose paths are of any draft
)


def all_routers() -> tuple[APIRouter, ...]:
    """The routers of the API and of the pages."""
    return (
        *(module.router for module in _API),
        *(section_router(section) for section in SECTIONS),
        sandbox_router(),
        *(module.router for module in _AROUND),
        _document,
        *(module.router for module in _PAGES),
    )
