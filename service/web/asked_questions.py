"""The questions that are asked, counted behind people: never in the way of an answer, and lossy where there are many.

What is asked is put down at once, in memory. Now and then all of that is counted in one write; what comes faster than
that, or is not yet written when the process ends, is lost.
"""

import asyncio
import logging
from collections import deque
from collections.abc import Callable, Iterator
from functools import partial
from typing import Annotated
from urllib.parse import parse_qsl

from fastapi import Depends

from service.documents.request import BillRequest, DetailedRequest
from service.documents.strict_json import InvalidJsonError, MalformedJsonError
from service.storage.asked_questions import AskedQuestionStore
from service.storage.errors import StorageError
from service.usecases.standing import count_asked
from service.web.bodies import parsed
from service.web.errors import InvalidBodyError, InvalidQueryError, OverloadedError
from service.web.lanes import Lanes
from service.web.queries import read_query
from service.web.question_query import BillsQuery
from service.web.resources import kept_as
from service.web.turns import Rank

EVERY_S = 5.0
_MOST_WAITING = 5_000
_AT_ONCE = 100
"""So many are counted in one go: a thousand would hold up every answer for the twentieth part of a second."""
_BETWEEN_S = 0.1

_log = logging.getLogger(__name__)


class AskedQuestions:
    """The questions that were asked of this process and are not counted yet."""

    def __init__(self, store: AskedQuestionStore | None) -> None:
        self._store = store
        self._waiting: deque[Callable[[], BillRequest]] = deque(maxlen=_MOST_WAITING)

    def note(self, request: BillRequest) -> None:
        """Put a question down; the oldest that waits gives way where there are too many."""
        if self._store is not None:
            self._waiting.append(lambda: request)

    def note_again(self, query: bytes, body: bytes | None) -> None:
        """Put a question down that was answered from what is kept, as it came: its query, or its body."""
        if self._store is not None:
            self._waiting.append(lambda: _read(query, body))

    def count(self, most: int = _MOST_WAITING) -> bool:
        """Count up to so many of those that wait; whether any did. Raises StorageError, which loses these."""
        if self._store is None or not self._waiting:
            return False
        taken = [self._waiting.popleft() for _ in range(min(most, len(self._waiting)))]
        count_asked(self._store, _requests(taken))
        return True

    def count_the_last(self) -> None:
        """Count what waits as the application ends; where that is not to be had, it is lost."""
        try:
            self.count()
        except StorageError as error:
            _log.warning("questions that were asked are not counted: %s", error)

    async def count_now_and_then(self, lanes: Lanes, every_s: float = EVERY_S) -> None:
        """Count so often, a few at once, for as long as the application runs; people's writes go first."""
        while True:
            await asyncio.sleep(every_s)
            for _ in range(0, len(self._waiting), _AT_ONCE):
                await self._count_some(lanes)
                await asyncio.sleep(_BETWEEN_S)

    async def _count_some(self, lanes: Lanes) -> None:
        try:
            await lanes.writes.run(partial(self.count, _AT_ONCE), rank=Rank.BATCH)
        except (StorageError, OverloadedError) as error:
            _log.warning("questions that were asked are not counted: %s", error)


def _requests(taken: list[Callable[[], BillRequest]]) -> Iterator[BillRequest]:
    for one in taken:
        try:
            yield one()
        except (InvalidQueryError, InvalidBodyError, InvalidJsonError, MalformedJsonError):
            continue  # it was answered once: only a question in another form than today's


def _read(query: bytes, body: bytes | None) -> BillRequest:
    if body is not None:
        return parsed(DetailedRequest, body).question()
    return read_query(BillsQuery, parse_qsl(query.decode("latin-1"), keep_blank_values=True)).question()


AppAskedQuestions = Annotated[AskedQuestions, Depends(kept_as("asked_questions", AskedQuestions))]
