"""Health: whether the process answers, and whether it can answer questions.

Neither waits at the gate: a service that is busy is not to be taken for one that is dead.
"""

import asyncio
from time import monotonic
from typing import Annotated

import anyio
import anyio.to_thread
from fastapi import APIRouter, Depends, Request
from starlette.responses import Response

from service.documents.health import Live, Ready
from service.web.back import Back
from service.web.errors import NotReadyError
from service.web.operations import answers
from service.web.queries import NoQuery, query_of
from service.web.representations import NEVER, represent
from service.web.resources import AppResources, Look, Resources

router = APIRouter(prefix="/v1/health", tags=["health"])

_PATIENCE_S = 2.0
_STANDS_S = 10.0
_FRESH_S = 0.2
"""So long after it was begun, what a look finds is told to others too."""
_THREADS = anyio.CapacityLimiter(2)


@router.get(
    "/live",
    operation_id="getLiveness",
    summary="Does the process answer?",
    response_model=Live,
    responses=answers("It does.", {"live": True}, "invalid-request", revision=False, conditional=False),
)
async def live(_: Annotated[NoQuery, Depends(query_of(NoQuery))]) -> Response:
    return represent({"live": True}, caching=NEVER)


_READY = answers(
    "It can.",
    {"live": True, "ready": True, "revision": 1},
    "invalid-request",
    "no-catalog",
    revision=False,
    conditional=False,
)


@router.get("", operation_id="getHealth", summary="Live and ready?", response_model=Ready, responses=_READY)
@router.get(
    "/ready",
    operation_id="getReadiness",
    summary="Can it answer questions?",
    description="What a question would find: 503 while the database does not answer in time, is not the one of the "
    "start any more, or holds no catalog; and from when the service is told to stop.",
    response_model=Ready,
    responses=_READY,
)
async def ready(
    request: Request, resources: AppResources, _: Annotated[NoQuery, Depends(query_of(NoQuery))]
) -> Response:
    back: Back | None = request.app.state.back
    if request.app.state.stopping.has_begun or (back is not None and await back.is_lost()):
        raise NotReadyError
    return represent({"live": True, "ready": True, "revision": await _newest(resources)}, caching=NEVER)


async def _newest(resources: Resources) -> int:
    """The revision that a question would be answered from, opened if it is the first.

    Who asks soon after another learns what the look for that one finds; where it was a while ago, a new one is begun
    for who asks next: a crowd of probes costs little, and seldom waits.

    Raises NotReadyError where that takes long, or where a question stands for longer than its steps can take: it waits
    for something that does not come, and all others wait behind it.
    """
    if max(resources.lanes.questions.stands_s(), resources.lanes.browsing.stands_s()) > _STANDS_S:
        raise NotReadyError
    latest = resources.latest_look
    if latest is None or latest.age_s > _FRESH_S or not latest.may_be_told:
        latest = resources.latest_look = _begin_look(resources)
    elif latest.age_s > _FRESH_S / 2 and latest.found.done():
        resources.latest_look = _begin_look(resources)
    return await asyncio.shield(latest.found)


def _begin_look(resources: Resources) -> Look:
    look = Look(monotonic(), asyncio.ensure_future(_looked(resources)))
    look.found.add_done_callback(_seen)
    return look


def _seen(look: asyncio.Future[int]) -> None:
    if not look.cancelled():
        look.exception()  # whoever waits for it is told; perhaps nobody does any more


async def _looked(resources: Resources) -> int:
    library = resources.library
    try:
        async with asyncio.timeout(_PATIENCE_S):
            edition = await anyio.to_thread.run_sync(library.newest_for_sure, abandon_on_cancel=True, limiter=_THREADS)
    except TimeoutError:
        raise NotReadyError from None
    return edition.number
