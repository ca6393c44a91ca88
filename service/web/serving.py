"""The application of a process that serves: its database and all that it keeps are those that the settings name."""

import asyncio
import gc
import logging
import os
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager, suppress
from functools import partial

from fastapi import FastAPI
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
from service.usecases.standing import questions_in
from service.usecases.webhooks import Webhooks
from service.web.access import Doors
from service.web.addresses import Addresses
from service.web.app import create_app
from service.web.asked_questions import AskedQuestions
from service.web.back import Back
from service.web.back_process import SOCKET, FromFront
from service.web.kept_answers import KeptAnswers
from service.web.lanes import Lanes
from service.web.metrics import Templates
from service.web.news import Sender, send_now_and_then
from service.web.process import end_with_parent, give_way, share_processor
from service.web.rate_limits import RateLimits
from service.web.sharing import announced_here, hear, keep_up
from service.web.site import Site, site_of
from service.web.stopping import Stopping
from service.web.sweeper import note_uses_now_and_then, sweep_now_and_then
from service.web.tracing import Traced, tracer

_MB = 1024 * 1024
_log = logging.getLogger(__name__)
FRESH_S = {"sqlite": 0.5, "postgresql": 0.9}
"""So much later than its publishing a new revision is noticed at most; on a busy machine looking takes a while."""
_LOOK_EVERY_S = {"sqlite": 0.1, "postgresql": 0.6}
"""PostgreSQL tells of a new revision by itself; looking is for a word that was missed."""


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
    async def lifespan(_: FastAPI) -> AsyncIterator[None]:
        end_with_parent()
        library.open_newest()
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
        noting = None if doors is None else asyncio.create_task(note_uses_now_and_then(lanes, doors.keys.note_uses))
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
        if noting is not None:
            noting.cancel()
        if doors is not None:
            with suppress(StorageError):
                doors.keys.note_uses()
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
