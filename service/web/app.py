"""The application: routers, what goes round every request, and what it works with."""

import asyncio
import gc
import logging
import os
from collections.abc import AsyncIterator, Callable, Collection, Mapping
from contextlib import AbstractAsyncContextManager, asynccontextmanager
from functools import partial
from typing import Annotated, Any

from fastapi import APIRouter, Depends, FastAPI, Request
from pydantic_core import to_json
from starlette.exceptions import HTTPException
from starlette.responses import Response
from starlette.types import ASGIApp

from service.access.roles import without_key
from service.settings import Settings, read_settings
from service.storage.asked_questions import AskedQuestionStore
from service.storage.drafts import DraftStore
from service.storage.engine import Database, open_database
from service.storage.errors import StorageError
from service.storage.impact_sweeps import ImpactSweepStore
from service.storage.inquiries import InquiryStore
from service.storage.keys import KeyStore
from service.storage.migrate import migrate
from service.storage.order_batches import OrderBatchStore
from service.storage.order_checks import OrderCheckStore
from service.storage.order_readings import OrderReadingStore
from service.storage.outbox import OutboxStore
from service.storage.partner_cases import PartnerCaseStore
from service.storage.revisions import RevisionStore
from service.storage.short_links import ShortLinkStore
from service.storage.sweeping import sweep_much
from service.storage.trail import TrailStore
from service.usecases.access_keys import AccessKeys
from service.usecases.drafts import Drafts
from service.usecases.impact_sweeps import Sweeper, Sweeps
from service.usecases.keep_inquiry import Inquiries
from service.usecases.keep_order_check import OrderChecks
from service.usecases.keep_reading import OrderReadings
from service.usecases.library import Library
from service.usecases.order_batches import OrderBatches
from service.usecases.partner_cases import PartnerCases
from service.usecases.short_link import ShortLinks
from service.usecases.standing import KeptQuestions, questions_in
from service.usecases.webhooks import Webhooks
from service.web.access import Access, Doors
from service.web.addresses import Addresses
from service.web.asked_questions import AskedQuestions
from service.web.back import Back
from service.web.back_process import SOCKET, FromFront
from service.web.batch_work import BatchWork
from service.web.batches import BATCH_LIMIT_BYTES, BATCH_PATIENCE
from service.web.bodies import BODY_LIMIT_BYTES, BODY_TIMEOUT_S
from service.web.compressing import Compressed
from service.web.conduct import Conduct, Crowd
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
)
from service.web.counter.refusing import asks_for_page, refusal_response
from service.web.cross_origin import CrossOrigin
from service.web.deprecations import DEPRECATED, Deprecation, Deprecations, policy_text
from service.web.handing import HandOver
from service.web.kept_answers import KeptAnswers
from service.web.lanes import Lanes
from service.web.logs import tell_request
from service.web.metrics import Templates, begin_one, end_one
from service.web.middleware import BodyLimit, HeadAsGet, KnownHosts, OwnCookies, ParameterLimit, Refusals, RequestId
from service.web.news import Sender, send_now_and_then
from service.web.openapi import describe
from service.web.paths import OfPaths
from service.web.probes import Probes
from service.web.process import end_with_parent, give_way, share_processor
from service.web.queries import NoQuery, query_of
from service.web.rate_limits import RateLimits
from service.web.reckonings import Reckonings
from service.web.repeats import Repeats
from service.web.representations import REVALIDATE, represent
from service.web.resources import Resources
from service.web.rights import Rights
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
from service.web.routing import unrouted
from service.web.sandbox import sandbox_router, sandbox_state
from service.web.sharing import announced_here, hear, keep_up
from service.web.site import Site, site_of
from service.web.stopping import Stopping
from service.web.sweep_work import SweepWork
from service.web.sweeper import sweep_now_and_then
from service.web.tracing import Traced, tracer
from service.web.visitors import Visitors
from service.web.watch import Watch

_MB = 1024 * 1024
_log = logging.getLogger(__name__)
FRESH_S = {"sqlite": 0.5, "postgresql": 0.9}
"""So much later than its publishing a new revision is noticed at most; on a busy machine looking takes a while."""
_LOOK_EVERY_S = {"sqlite": 0.1, "postgresql": 0.6}
"""PostgreSQL tells of a new revision by itself; looking is for a word that was missed."""

Lifespan = Callable[[FastAPI], AbstractAsyncContextManager[None]]

_document = APIRouter(include_in_schema=False)


@_document.get("/openapi.json")
async def openapi_document(request: Request, _: Annotated[NoQuery, Depends(query_of(NoQuery))]) -> Response:
    return represent(to_json(request.app.openapi()), caching=REVALIDATE)


class Application(FastAPI):
    """FastAPI with our own description of it."""

    routers: tuple[APIRouter, ...] = ()
    deprecated: Mapping[str, Deprecation] = DEPRECATED

    def openapi(self) -> dict[str, Any]:
        if self.openapi_schema is None:
            self.openapi_schema = describe(self, self.routers, self.deprecated)
        return self.openapi_schema


def create_app(
    library: Library | None = None,
    checks: OrderChecks | None = None,
    *,
    kept_inquiries: Inquiries | None = None,
    links: ShortLinks | None = None,
    batches: OrderBatches | None = None,
    readings: OrderReadings | None = None,
    kept_drafts: Drafts | None = None,
    partner_cases: PartnerCases | None = None,
    kept_sweeps: Sweeps | None = None,
    kept_webhooks: Webhooks | None = None,
    standing: KeptQuestions | None = None,
    asked: AskedQuestions | None = None,
    deprecated: Mapping[str, Deprecation] = DEPRECATED,
    doors: Doors | None = None,
    lanes: Lanes | None = None,
    back: Back | None = None,
    kept: KeptAnswers | None = None,
    allowed_origins: Collection[str] = (),
    style_page_shown: bool = False,
    site: Site | None = None,
    body_timeout_s: float = BODY_TIMEOUT_S,
    stopping: Stopping | None = None,
    is_watched: bool = True,
    json_log: bool = False,
    lifespan: Lifespan | None = None,
) -> Application:
    """The application over a library and what keeps order checks, inquiries, links, batches, readings and drafts of it.

    What is not given is described all the same, and answered as if there were no catalog. `standing`: the standing
    questions that are kept beside the catalogs, `asked`: what is asked and not counted yet. `back`: the process that
    what takes long is handed on to. `kept`: the answers that were given before. `allowed_origins`: whose pages may call
    the API. `style_page_shown`: whether the page of all pieces is served.
    `stopping`: whether it has been told to stop.
    `is_watched`: whether its requests are counted, and not by who hands them on; `json_log`: and logged as JSON.
    `deprecated`: the operations that are to go. `doors`: the keys that are asked for; None: nobody is asked for one.
    `site`: the address of its links and the hosts that it answers for; None: those of loopback.
    """
    site = site or Site()
    asked = asked or AskedQuestions(None)
    app = Application(
        title="Portwright",
        openapi_url=None,
        docs_url=None,
        redoc_url=None,
        redirect_slashes=False,
        lifespan=lifespan,
    )
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
    routers += [workshop_publishing.router, workshop_objects.router, workshop.router]  # whose paths are of any draft
    app.routers = tuple(routers)
    app.deprecated = deprecated
    for router in routers:
        app.include_router(router)
    app.add_exception_handler(HTTPException, unrouted(routers, refusal_response))
    # The last one added is the outermost.
    own_limits = OfPaths(
        {
            order_checks.BATCH_PATH: BATCH_LIMIT_BYTES,
            order_batches_page.PATH: order_batches_page.UPLOAD_LIMIT_BYTES,
            draft_tables.UPLOAD_PATH: draft_tables.UPLOAD_LIMIT_BYTES,
        }
    )
    lanes = lanes or Lanes()
    crowd = Crowd(begin_one, end_one) if is_watched else Crowd()
    app.add_middleware(
        HandOver,
        back=back,
        crowd=crowd,
        is_long=lanes.is_known_as_long,
        files=own_limits,
        work=f"{order_batches_page.PATH}/",
        explanations=(explain.router.prefix,),
        timeouts_s=OfPaths(
            {
                order_checks.BATCH_PATH: body_timeout_s * BATCH_PATIENCE,
                draft_tables.UPLOAD_PATH: body_timeout_s * draft_tables.UPLOAD_PATIENCE,
            }
        ),
        timeout_s=body_timeout_s,
    )
    app.add_middleware(Visitors)
    app.add_middleware(BodyLimit, limit_bytes=BODY_LIMIT_BYTES, own_limits=own_limits)
    app.add_middleware(ParameterLimit)
    app.add_middleware(OwnCookies)
    app.add_middleware(Probes)
    app.add_middleware(KnownHosts, site=site)
    app.add_middleware(Refusals, respond=refusal_response)
    app.add_middleware(Compressed)
    app.add_middleware(HeadAsGet)
    app.add_middleware(Conduct, crowd=crowd)
    app.add_middleware(
        Repeats,
        kept=kept or KeptAnswers(0),
        newest=_nothing_newest if library is None else library.newest_at_hand,
        posted=(bills.router.prefix, explain.router.prefix, joints.router.prefix),
        counted=bills.router.prefix,
        asked_again=asked.note_again,
    )
    if doors is not None:
        app.add_middleware(Access, doors=doors, rights=Rights(routers), asks_for_page=asks_for_page)
        app.add_middleware(Refusals, respond=refusal_response)
    if deprecated:
        app.add_middleware(Deprecations, routers=routers, deprecated=deprecated)
    if allowed_origins:
        app.add_middleware(CrossOrigin, origins=frozenset(allowed_origins))
    app.add_middleware(RequestId)
    if is_watched:
        app.add_middleware(Watch, templates=Templates(routers), tell=tell_request if json_log else None)
    app.state.site = site
    app.state.deprecated_told = policy_text(routers, deprecated)
    app.state.back = back
    app.state.stopping = stopping or Stopping()
    app.state.body_timeout_s = body_timeout_s
    app.state.doors = doors
    app.state.order_checks = checks
    app.state.short_links = links
    app.state.order_batches = batches
    app.state.order_readings = readings
    app.state.style_page = style_page_shown
    app.state.inquiries = kept_inquiries
    app.state.drafts = kept_drafts
    app.state.partner_cases = partner_cases
    app.state.webhooks = kept_webhooks
    app.state.sandbox = sandbox_state(lanes)
    inquired = None if kept_inquiries is None else kept_inquiries.store
    app.state.kept_questions = standing or KeptQuestions(inquiries=inquired)
    app.state.asked_questions = asked
    app.state.sweeps = kept_sweeps
    resources = None if library is None else Resources(library, lanes)
    app.state.resources = resources
    app.state.reckonings = None if resources is None else Reckonings(resources)
    app.state.sweep_work = None if resources is None or kept_sweeps is None else SweepWork(resources, kept_sweeps)
    app.state.batch_work = None if resources is None or batches is None else BatchWork(resources, batches)
    return app


def _nothing_newest() -> None:
    """The number of the newest revision where there is no library."""


def build_routes(app: FastAPI) -> None:
    """Have all routes built, which FastAPI leaves to the first request: it would hold up everybody for a while."""
    scope = {"type": "http", "method": "GET", "path": "/", "root_path": "", "headers": [], "app": app}
    for route in app.router.routes:
        route.matches(scope)


def app_from_environment() -> FastAPI:
    """The application of a worker: its database is the one that the settings name, its tables up to date."""
    socket = os.environ.get(SOCKET)
    return _from_environment(None if socket is None else Back(socket))


def back_app_from_environment() -> ASGIApp:
    """The same application for the back process, which has nobody to hand anything on to."""
    try:
        return FromFront(_from_environment(None, is_behind=True))
    except StorageError as error:
        _log.error("the back process cannot start: %s", error)
        raise SystemExit(1) from None


def _from_environment(back: Back | None, *, is_behind: bool = False) -> FastAPI:
    settings = read_settings()
    logging.captureWarnings(settings.log == "json")
    share_processor()
    database = open_database(settings.database_url.get_secret_value())
    migrate(database)
    stopping = Stopping(0.0 if is_behind else settings.stop_pause_s)
    kind = "sqlite" if database.is_sqlite else "postgresql"
    keeping = settings.keeping
    sweep_much(database, keeping)

    @asynccontextmanager
    async def lifespan(app: FastAPI) -> AsyncIterator[None]:
        end_with_parent()
        library.open_newest()
        build_routes(app)
        gc.collect()
        gc.freeze()  # what is loaded stays, and is not looked through in the midst of a request
        if is_behind:
            give_way()  # only now, as whoever waits for it to start waits for long enough
        sweep = partial(sweep_much, database, keeping)
        beside = asyncio.create_task(sweep_now_and_then(lanes, sweep) if back is None else back.watch_for_it())
        keeping_up = asyncio.create_task(keep_up(library, _LOOK_EVERY_S[kind]))
        hearing = asyncio.create_task(hear(library, database))
        counting = asyncio.create_task(asked.count_now_and_then(lanes))
        sending = asyncio.create_task(send_now_and_then(lanes, sender)) if back is None else None
        with stopping.noticed():
            yield
        beside.cancel()
        if sending is not None:
            sending.cancel()
        counting.cancel()
        asked.count_the_last()
        keeping_up.cancel()
        hearing.cancel()
        if back is not None:
            back.close()
        if doors is not None:
            await doors.limits.close()
        database.close()

    outbox = OutboxStore(database)
    sender = Sender(outbox, to_private=settings.webhooks_to_private)
    site = site_of(settings.public_url, settings.allowed_hosts)
    doors = None if is_behind else _doors(settings, database, site)
    lanes = Lanes(settings.work_limit, work_limits=settings.work_limits)
    asked = AskedQuestions(AskedQuestionStore(database) if settings.keep_asked_questions else None)
    library = Library(RevisionStore(database), opens_beside=True, fresh_s=FRESH_S[kind], announced=announced_here())
    kept_drafts = Drafts(library, DraftStore(database, keeping), TrailStore(database))
    standing = questions_in(database, keeping)
    app = create_app(
        library,
        OrderChecks(library, OrderCheckStore(database, keeping)),
        kept_inquiries=Inquiries(library, InquiryStore(database, keeping)),
        links=ShortLinks(library, ShortLinkStore(database, keeping)),
        batches=OrderBatches(library, OrderBatchStore(database, keeping)),
        readings=OrderReadings(OrderReadingStore(database, keeping)),
        kept_drafts=kept_drafts,
        kept_sweeps=Sweeps(library, kept_drafts, Sweeper(ImpactSweepStore(database), standing)),
        partner_cases=PartnerCases(library, PartnerCaseStore(database)),
        kept_webhooks=Webhooks(outbox, to_private=settings.webhooks_to_private),
        standing=standing,
        asked=asked,
        lanes=lanes,
        back=back,
        kept=KeptAnswers(0 if is_behind else settings.kept_answers_mb * _MB),
        allowed_origins=settings.allowed_origins,
        style_page_shown=settings.style_page,
        site=site,
        doors=doors,
        stopping=stopping,
        is_watched=not is_behind,
        json_log=settings.log == "json",
        lifespan=lifespan,
    )
    made_by = None if is_behind else tracer()
    if made_by is not None:
        app.add_middleware(Traced, tracer=made_by, templates=Templates(app.routers))
    return app


def _doors(settings: Settings, database: Database, site: Site) -> Doors:
    """What is asked for keys; a site that others reach, be it through a proxy, knows nobody as of this machine."""
    elsewhere = without_key(frozenset(settings.without_key_from_elsewhere))
    here = without_key(frozenset(settings.without_key)) if site.is_of_loopback else elsewhere
    url = None if settings.limits_url is None else settings.limits_url.get_secret_value()
    return Doors(
        AccessKeys(KeyStore(database)),
        here,
        elsewhere,
        is_alone=site.is_of_loopback,
        limits=RateLimits(settings.requests_a_minute, url),
        addresses=Addresses(settings.proxies),
    )
