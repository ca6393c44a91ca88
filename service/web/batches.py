"""A batch: many orders in one body, one a line; each is answered by a line of its own, as if it had come alone.

The body is taken whole before the first line is answered. A caller that sends everything before it reads anything
would otherwise wait for us while we wait for it.
"""

from collections.abc import AsyncIterator, Awaitable, Callable, Iterator
from typing import Annotated, NotRequired

from fastapi import Request
from pydantic import Field
from pydantic_core import to_json
from starlette.responses import StreamingResponse
from typing_extensions import TypedDict

from service.documents.order_answer import OrderCheck
from service.documents.problem import Problem
from service.domain.work import AbandonedError
from service.web.bodies import BODY_LIMIT_BYTES, must_be, whole_body
from service.web.errors import BatchTooLongError, BodyTooLargeError
from service.web.middleware import refused
from service.web.problems import PROBLEM_TYPES, problem_of
from service.web.representations import NDJSON

MAX_ORDERS = 500
BATCH_LIMIT_BYTES = 8 * 1024 * 1024

BATCH_PATIENCE = BATCH_LIMIT_BYTES // BODY_LIMIT_BYTES
"""A batch has as much more time to arrive as it may be larger than another body."""
_LOOKED_AT_BYTES = (256, 64 * 1024)
"""At first and at most, for the next line that is not blank."""
_CREATED = 201

Answer = Callable[[bytes], Awaitable[bytes]]
"""From the JSON of one order to the JSON of its check; may raise whatever has a refusal."""


class BatchLine(TypedDict):
    """The answer to one line: a check, or the problem of this line alone."""

    line: Annotated[int, Field(description="the line of the body, counted from 1")]
    status: Annotated[int, Field(description="as if the order had come alone: 201, or that of the problem")]
    result: NotRequired[OrderCheck]
    problem: NotRequired[Problem]


class NdjsonResponse(StreamingResponse):
    """Lines of JSON, each sent when it is there."""

    media_type = NDJSON


async def batch_of(request: Request) -> bytes:
    """Read a batch. Raises UnsupportedMediaTypeError, BodyTooLargeError, BodyTimeoutError."""
    must_be(NDJSON, request)
    return await whole_body(request, request.app.state.body_timeout_s * BATCH_PATIENCE)


async def answered(batch: bytes, answer: Answer, request_id: str) -> AsyncIterator[bytes]:
    """Answer each line that is not blank, in order; the first one past the limit is told so, and is the last."""
    for count, (number, raw) in enumerate(full_lines(batch), start=1):
        yield await _answered(number, raw, answer, request_id, too_many=count > MAX_ORDERS)
        if count > MAX_ORDERS:
            return


def full_lines(batch: bytes) -> Iterator[tuple[int, bytes]]:
    """Yield the lines that are not blank, each with its number, from 1, and without what is blank before it."""
    number, end = 1, 0
    while (start := _next_full(batch, end)) < len(batch):
        number += batch.count(b"\n", end, start)
        end = batch.find(b"\n", start)
        end = len(batch) if end < 0 else end
        yield number, batch[start:end]


def _next_full(batch: bytes, start: int) -> int:
    """The place of the next byte that is not blank, else the end. A pattern would take twenty times as long."""
    size, most = _LOOKED_AT_BYTES
    while start < len(batch):
        part = batch[start : start + size]
        full = part.lstrip()
        if full:
            return start + len(part) - len(full)
        start, size = start + size, min(2 * size, most)
    return len(batch)


async def _answered(number: int, raw: bytes, answer: Answer, request_id: str, *, too_many: bool) -> bytes:
    try:
        if too_many:
            raise BatchTooLongError(MAX_ORDERS)
        if len(raw) > BODY_LIMIT_BYTES:
            raise BodyTooLargeError(BODY_LIMIT_BYTES, "line")
        return _line(number, _CREATED, b"result", await answer(raw))
    except AbandonedError:
        raise
    except Exception as error:  # noqa: BLE001 whatever befalls one line, the others are answered
        refusal = refused(error, request_id)
        problem = to_json(problem_of(refusal, f"{request_id}#{number}"), exclude_none=True)
        return _line(number, PROBLEM_TYPES[refusal.code].status, b"problem", problem)


def _line(number: int, status: int, name: bytes, content: bytes) -> bytes:
    return b'{"line":%d,"status":%d,"%s":%s}\n' % (number, status, name, content)
