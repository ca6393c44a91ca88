"""The application: routers, what goes round every request, and what it works with."""

from collections.abc import Callable, Collection, Mapping
from contextlib import AbstractAsyncContextManager
from typing import Any

from fastapi import APIRouter, FastAPI
from starlette.exceptions import HTTPException

from service.usecases.drafts import Drafts
from service.usecases.impact_sweeps import Sweeps
from service.usecases.keep_inquiry import Inquiries
from service.usecases.keep_order_check import OrderChecks
from service.usecases.keep_reading import OrderReadings
from service.usecases.library import Library
from service.usecases.order_batches import OrderBatches
from service.usecases.partner_cases import PartnerCases
from service.usecases.short_link import ShortLinks
from service.usecases.standing import KeptQuestions
from service.usecases.webhooks import Webhooks
from service.web.access import Access, Doors
from service.web.asked_questions import AskedQuestions
from service.web.back import Back
from service.web.batch_work import BatchWork
from service.web.batches import BATCH_LIMIT_BYTES, BATCH_PATIENCE
from service.web.bodies import BODY_LIMIT_BYTES, BODY_TIMEOUT_S
from service.web.compressing import Compressed
from service.web.conduct import Conduct, Crowd
from service.web.counter import order_batches as order_batches_page
from service.web.counter import (
    workshop_tables,
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
from service.web.openapi import describe
from service.web.paths import OfPaths
from service.web.probes import Probes
from service.web.reckonings import Reckonings
from service.web.repeats import Repeats
from service.web.resources import Resources
from service.web.rights import Rights
from service.web.routers import (
    bills,
    draft_tables,
    explain,
    joints,
    order_checks,
)
from service.web.routes import all_routers
from service.web.routing import unrouted
from service.web.sandbox import sandbox_state
from service.web.site import Site
from service.web.stopping import Stopping
from service.web.sweep_work import SweepWork
from service.web.visitors import Visitors
from service.web.watch import Watch

Lifespan = Callable[[FastAPI], AbstractAsyncContextManager[None]]


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
    routers = all_routers()
    app.routers = routers
    app.deprecated = deprecated
    for router in routers:
        app.router.routes.extend(router.routes)  # as they are: to include a router builds all of its routes once more
    app.add_exception_handler(HTTPException, unrouted(routers, refusal_response))
    # The last one added is the outermost.
    own_limits = OfPaths(
        {
            order_checks.BATCH_PATH: BATCH_LIMIT_BYTES,
            order_batches_page.PATH: order_batches_page.UPLOAD_LIMIT_BYTES,
            draft_tables.UPLOAD_PATH: draft_tables.UPLOAD_LIMIT_BYTES,
            workshop_tables.UPLOAD_PATH: draft_tables.UPLOAD_LIMIT_BYTES,
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
    app.state.sandbox = sandbox_state(lanes, crowd)
    inquired = None if kept_inquiries is None else kept_inquiries.store
    app.state.kept_questions = standing or KeptQuestions(inquiries=inquired)
    app.state.asked_questions = asked
    app.state.sweeps = kept_sweeps
    resources = None if library is None else Resources(library, lanes, crowd)
    app.state.resources = resources
    app.state.reckonings = None if resources is None else Reckonings(resources)
    app.state.sweep_work = None if resources is None or kept_sweeps is None else SweepWork(resources, kept_sweeps)
    app.state.batch_work = None if resources is None or batches is None else BatchWork(resources, batches)
    return app


def _nothing_newest() -> None:
    """The number of the newest revision where there is no library."""
