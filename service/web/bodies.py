"""Bodies read strictly: declared as JSON, complete in time, and exactly what the operation takes."""

import asyncio
from collections.abc import Awaitable, Callable, Mapping, Sequence
from typing import Any, ParamSpec, TypeVar

import anyio
import anyio.to_thread
from fastapi import Request
from pydantic import ValidationError

from service.documents import strict_json
from service.documents.faults import MOST_TOLD, Fault, faults_of
from service.documents.fields import Document
from service.documents.rendering import rendered
from service.web.errors import BodyTimeoutError, InvalidBodyError, UnsupportedMediaTypeError
from service.web.handing import go_elsewhere
from service.web.representations import JSON

BODY_LIMIT_BYTES = 256 * 1024
BODY_TIMEOUT_S = 20.0

_MOST_MEMBERS = 50
"""No object of a question has half as many fields; what has more is not looked at field by field."""
_MOST_MEMBERS_OF_OBJECT = 1_000
"""A material has a rating for each fuel."""
_READ_AT_ONCE_BYTES = 4 * 1024
"""What is no longer is parsed in some 0.2 ms: going to a thread and back would take as long."""
_LONGEST_DECLARED = 200
_CHARSETS = ("utf-8", "utf8", "us-ascii")
_PARSERS = anyio.CapacityLimiter(1)
"""Threads that parse: each would take its turns from the event loop, and none is the faster for another beside it."""

P = ParamSpec("P")
T = TypeVar("T")
Body = TypeVar("Body", bound=Document)


def body_of(model: type[Body], *media_types: str) -> Callable[[Request], Awaitable[Body]]:
    """Make a dependency that reads the body as `model`, declared as one of these media types, as JSON where none is
    told.

    Raises:
        UnsupportedMediaTypeError, BodyTooLargeError, BodyTimeoutError: before anything is parsed.
        MalformedJsonError, InvalidJsonError, InvalidBodyError: for what is not taken.
    """

    async def read(request: Request) -> Body:
        must_be_one_of(media_types or (JSON,), request)
        raw = await whole_body(request, request.app.state.body_timeout_s)
        return await aside(len(raw), parsed, model, raw)

    return read


def body_by_kind(field: str, models: Mapping[str, type[Body]], usual: str) -> Callable[[Request], Awaitable[Body]]:
    """Make a dependency that reads the body as the model that one of its fields names; `usual`: where it names none.

    Raises as `body_of`.
    """

    def read_as(raw: bytes) -> Body:
        value = strict_json.loads(raw, _MOST_MEMBERS)
        kind = value.get(field, usual) if isinstance(value, dict) else usual
        model = models.get(kind) if isinstance(kind, str) else None
        if model is None:
            raise InvalidBodyError([Fault(f"/{field}", rendered(kind), f"one of: {', '.join(models)}")], 0)
        return validated(model, value)

    async def read(request: Request) -> Body:
        must_be_one_of((JSON,), request)
        raw = await whole_body(request, request.app.state.body_timeout_s)
        return await aside(len(raw), read_as, raw)

    return read


def value_of(*media_types: str) -> Callable[[Request], Awaitable[Any]]:
    """Make a dependency that reads the body as any JSON, declared as one of these media types; what it is to be is the
    use case's to say.

    Raises as `body_of`.
    """

    async def read(request: Request) -> Any:
        must_be_one_of(media_types, request)
        raw = await whole_body(request, request.app.state.body_timeout_s)
        return await aside(len(raw), strict_json.loads, raw, _MOST_MEMBERS_OF_OBJECT)

    return read


async def aside(size_bytes: int, parse: Callable[P, T], *args: P.args, **kwargs: P.kwargs) -> T:
    """Parse something of a size: in the back process or a thread, unless it is small, so that the event loop never
    stands for it."""
    if size_bytes <= _READ_AT_ONCE_BYTES:
        return parse(*args, **kwargs)
    go_elsewhere()
    return await anyio.to_thread.run_sync(lambda: parse(*args, **kwargs), limiter=_PARSERS)


def parsed(model: type[Body], raw: bytes) -> Body:
    """Read JSON as `model`. Raises MalformedJsonError, InvalidJsonError, InvalidBodyError."""
    return validated(model, strict_json.loads(raw, _MOST_MEMBERS))


def validated(model: type[Body], value: Any) -> Body:
    """Take what was read as `model`. Raises InvalidBodyError."""
    try:
        return model.model_validate(value)
    except ValidationError as error:
        faults = faults_of(error, model=model, most=MOST_TOLD)
        raise InvalidBodyError(faults, error.error_count() - len(faults)) from None


def must_be_one_of(media_types: Sequence[str], request: Request) -> None:
    """Take a body that says that it is of one of these types. Raises UnsupportedMediaTypeError."""
    declared = request.headers.get("content-type", "").partition(";")[0].strip().lower()
    must_be(declared if declared in media_types else media_types[0], request)


def must_be(media_type: str, request: Request) -> None:
    """Take a body that says that it is of this type, in UTF-8 and not encoded. Raises UnsupportedMediaTypeError."""
    declared = request.headers.get("content-type", "")
    type_, *parameters = (part.strip(" \t") for part in declared[: _LONGEST_DECLARED + 1].split(";"))
    told = dict(parameter.lower().split("=", 1) for parameter in parameters if "=" in parameter)
    is_utf8 = told.get("charset", "utf-8").strip('"') in _CHARSETS
    if len(declared) > _LONGEST_DECLARED or type_.lower() != media_type or not is_utf8:
        found = rendered(declared) if declared else "nothing"
        raise UnsupportedMediaTypeError("Content-Type", found, f"{media_type}, in UTF-8", media_type)
    encoding = request.headers.get("content-encoding", "identity")
    if encoding.lower() != "identity":
        raise UnsupportedMediaTypeError("Content-Encoding", rendered(encoding), "no encoding", "identity")


async def whole_body(request: Request, limit_s: float) -> bytes:
    """Read the body to its end. Raises BodyTimeoutError where that takes longer than `limit_s`, BodyTooLargeError."""
    try:
        async with asyncio.timeout(limit_s):
            return await request.body()
    except TimeoutError:
        raise BodyTimeoutError(limit_s) from None
