"""The application: routers, what goes round every request, and what it works with."""

from collections.abc import AsyncIterator, Callable
from contextlib import AbstractAsyncContextManager, asynccontextmanager
from typing import Annotated, Any

from fastapi import APIRouter, Depends, FastAPI, Request
from pydantic_core import to_json
from starlette.exceptions import HTTPException
from starlette.responses import Response

from service.settings import Settings
from service.storage.engine import open_database
from service.storage.migrate import migrate
from service.storage.order_checks import OrderCheckStore
from service.storage.revisions import RevisionStore
from service.usecases.keep_order_check import OrderChecks
from service.usecases.library import Library
from service.web.batches import BATCH_LIMIT_BYTES
from service.web.bodies import BODY_LIMIT_BYTES, BODY_TIMEOUT_S
from service.web.gate import Gate
from service.web.middleware import BodyLimit, HeadAsGet, Refusals, RequestId
from service.web.openapi import describe
from service.web.queries import NoQuery, query_of
from service.web.representations import REVALIDATE, represent
from service.web.resources import Resources
from service.web.routers import (
    bills,
    chassis_layouts,
    descriptions,
    drawing_pages,
    drawings,
    explain,
    health,
    joints,
    order_checks,
    sheets,
    static,
)
from service.web.routers.sections import SECTIONS, section_router
from service.web.routing import unrouted

Lifespan = Callable[[FastAPI], AbstractAsyncContextManager[None]]

_document = APIRouter(include_in_schema=False)


@_document.get("/openapi.json")
async def openapi_document(request: Request, _: Annotated[NoQuery, Depends(query_of(NoQuery))]) -> Response:
    return represent(request, to_json(request.app.openapi()), caching=REVALIDATE)


class Application(FastAPI):
    """FastAPI with our own description of it."""

    routers: tuple[APIRouter, ...] = ()

    def openapi(self) -> dict[str, Any]:
        if self.openapi_schema is None:
            self.openapi_schema = describe(self, self.routers)
        return self.openapi_schema


def create_app(
    library: Library | None = None,
    checks: OrderChecks | None = None,
    *,
    gate: Gate | None = None,
    body_timeout_s: float = BODY_TIMEOUT_S,
    lifespan: Lifespan | None = None,
) -> FastAPI:
    """The application over a library and what keeps order checks of it.

    What is not given is described all the same, and answered as if there were no catalog.
    """
    app = Application(
        title="Portwright",
        openapi_url=None,
        docs_url=None,
        redoc_url=None,
        redirect_slashes=False,
        lifespan=lifespan,
    )
    routers = [bills.router, sheets.router, explain.router, order_checks.router, chassis_layouts.router, joints.router]
    routers += [drawings.router, drawing_pages.router]  # before the sections, whose ids may hold slashes
    routers += [*map(section_router, SECTIONS), descriptions.router, health.router, static.router, _document]
    app.routers = tuple(routers)
    for router in routers:
        app.include_router(router)
    app.add_exception_handler(HTTPException, unrouted(routers))
    # The last one added is the outermost.
    app.add_middleware(BodyLimit, limit_bytes=BODY_LIMIT_BYTES, own_limits={order_checks.BATCH_PATH: BATCH_LIMIT_BYTES})
    app.add_middleware(Refusals)
    app.add_middleware(HeadAsGet)
    app.add_middleware(RequestId)
    app.state.body_timeout_s = body_timeout_s
    app.state.order_checks = checks
    app.state.resources = None if library is None else Resources(library, gate or Gate())
    return app


def app_from_environment() -> FastAPI:
    """The application of a worker: its database is the one that the settings name, its tables up to date."""
    database = open_database(Settings().database_url.get_secret_value())
    migrate(database)

    @asynccontextmanager
    async def lifespan(_: FastAPI) -> AsyncIterator[None]:
        yield
        database.close()

    library = Library(RevisionStore(database))
    return create_app(library, OrderChecks(library, OrderCheckStore(database)), lifespan=lifespan)
