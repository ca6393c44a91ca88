"""What is reckoned behind people: worked out once for a revision, kept, and asked for again until it is there."""

import asyncio
import contextvars
import logging
from collections import OrderedDict
from collections.abc import Callable, Hashable, Mapping
from contextlib import suppress
from time import monotonic
from typing import Annotated, Any

from fastapi import Depends, Request
from pydantic_core import to_json
from starlette.responses import Response

from service.access.roles import Right
from service.documents.impact import BeingWorkedOut
from service.domain.work import AbandonedError
from service.storage.errors import StorageError
from service.usecases.errors import RefusedError
from service.usecases.impact import Remembered
from service.usecases.standing import KeptQuestions
from service.web.access import caller_of
from service.web.errors import OverloadedError
from service.web.representations import JSON, NEVER, REVISION
from service.web.resources import Resources, kept_as

RETRY_S = 2
"""When to ask again for what is being worked out."""
_MOST_KEPT = 32
_MOST_WAITING = 16

_log = logging.getLogger(__name__)


class Reckonings:
    """Reckons for an application, one thing after the other, as a task of the event loop."""

    def __init__(self, resources: Resources) -> None:
        self._resources = resources
        self._done: OrderedDict[Hashable, Any] = OrderedDict()
        self._waiting: OrderedDict[Hashable, Callable[[], Any]] = OrderedDict()
        self._task: asyncio.Task[None] | None = None
        self._step = asyncio.Event()
        self.remembered = Remembered()

    def get(self, key: Hashable, call: Callable[[], Any]) -> Any | None:
        """Return what a call gives; None while it is being worked out. Raises OverloadedError."""
        if key in self._done:
            self._done.move_to_end(key)
            return self._done[key]
        if key not in self._waiting:
            if len(self._waiting) >= _MOST_WAITING:
                raise OverloadedError
            self._waiting[key] = call
        if self._task is None or self._task.done():
            # In a context of its own: the work is for whoever asks later, not for whoever asked first and may leave.
            self._task = asyncio.create_task(self._work(), context=contextvars.Context())
        return None

    async def soon(self, key: Hashable, call: Callable[[], Any], within_s: float) -> Any | None:
        """As `get`, but what is there within so many seconds is waited for."""
        until = monotonic() + within_s
        while (found := self.get(key, call)) is None and (left_s := until - monotonic()) > 0:
            step = self._step
            with suppress(TimeoutError):
                await asyncio.wait_for(step.wait(), left_s)
        return found

    async def _work(self) -> None:
        while self._waiting:
            key, call = next(iter(self._waiting.items()))
            try:
                self._done[key] = await self._resources.lanes.reckon(call)
            except (StorageError, RefusedError, OverloadedError, AbandonedError) as error:
                _log.error("a reckoning came to nothing: %s", error)  # whoever asks again begins it anew
            finally:
                self._waiting.pop(key, None)
                self._step.set()  # whoever waits looks again
                self._step = asyncio.Event()
            while len(self._done) > _MOST_KEPT:
                self._done.popitem(last=False)


def not_yet(revision: int) -> Response:
    """The answer while something is worked out for a revision."""
    told: BeingWorkedOut = {"revision": revision, "text": f"It is being worked out: ask again in {RETRY_S} seconds."}
    headers = {REVISION: str(revision), "Cache-Control": NEVER, "Retry-After": str(RETRY_S)}
    return Response(to_json(told), status_code=202, headers=headers, media_type=JSON)


def kept_questions(request: Request) -> KeptQuestions:
    """Where the application keeps standing questions; nowhere where it was composed without."""
    kept: KeptQuestions = request.app.state.kept_questions
    return kept


def page_of(request: Request, told: Mapping[str, Any], start: int = 0, end: int | None = None) -> dict[str, Any]:
    """Return an impact with some of its questions; whoever has the id of an order check reads it, so that ids are for
    the workshop alone."""
    page: dict[str, Any] = {**told, "questions": told["questions"][start:end]}
    if "orders" in told and not caller_of(request.scope).may(Right.EDIT):
        page["orders"] = {name: value for name, value in told["orders"].items() if name != "ids"}
    return page


AppReckonings = Annotated[Reckonings, Depends(kept_as("reckonings", Reckonings))]
