"""Bodies read strictly: declared as JSON, complete in time, and exactly what the operation takes."""

import asyncio
from collections.abc import Awaitable, Callable
from email.message import Message
from typing import TypeVar

from fastapi import Request
from pydantic import ValidationError

from service.documents import strict_json
from service.documents.faults import faults_of
from service.documents.fields import Document
from service.documents.rendering import rendered
from service.web.errors import BodyTimeoutError, InvalidBodyError, UnsupportedMediaTypeError
from service.web.representations import JSON

BODY_LIMIT_BYTES = 256 * 1024
BODY_TIMEOUT_S = 20.0

Body = TypeVar("Body", bound=Document)


def body_of(model: type[Body]) -> Callable[[Request], Awaitable[Body]]:
    """Make a dependency that reads the body as `model`.

    Raises:
        UnsupportedMediaTypeError, BodyTooLargeError, BodyTimeoutError: before anything is parsed.
        MalformedJsonError, InvalidJsonError, InvalidBodyError: for what is not taken.
    """

    async def read(request: Request) -> Body:
        must_be(JSON, request)
        return parsed(model, await whole_body(request, request.app.state.body_timeout_s))

    return read


def parsed(model: type[Body], raw: bytes) -> Body:
    """Read JSON as `model`. Raises MalformedJsonError, InvalidJsonError, InvalidBodyError."""
    value = strict_json.loads(raw)
    try:
        return model.model_validate(value)
    except ValidationError as error:
        raise InvalidBodyError(faults_of(error, model=model)) from None


def must_be(media_type: str, request: Request) -> None:
    """Take a body that says that it is of this type, in UTF-8 and not encoded. Raises UnsupportedMediaTypeError."""
    declared = request.headers.get("content-type", "")
    message = Message()
    message["content-type"] = declared
    charset = str(message.get_param("charset", "utf-8")).lower()
    if message.get_content_type() != media_type or charset not in ("utf-8", "utf8", "us-ascii"):
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
