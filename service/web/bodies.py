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

BODY_TIMEOUT_S = 20.0

Body = TypeVar("Body", bound=Document)


def body_of(model: type[Body]) -> Callable[[Request], Awaitable[Body]]:
    """Make a dependency that reads the body as `model`.

    Raises:
        UnsupportedMediaTypeError, BodyTooLargeError, BodyTimeoutError: before anything is parsed.
        MalformedJsonError, InvalidJsonError, InvalidBodyError: for what is not taken.
    """

    async def read(request: Request) -> Body:
        _must_be_json(request)
        value = strict_json.loads(await _whole_body(request))
        try:
            return model.model_validate(value)
        except ValidationError as error:
            raise InvalidBodyError(faults_of(error, model=model)) from None

    return read


def _must_be_json(request: Request) -> None:
    declared = request.headers.get("content-type", "")
    message = Message()
    message["content-type"] = declared
    charset = str(message.get_param("charset", "utf-8")).lower()
    if message.get_content_type() != "application/json" or charset not in ("utf-8", "utf8", "us-ascii"):
        found = rendered(declared) if declared else "nothing"
        raise UnsupportedMediaTypeError("Content-Type", found, "application/json, in UTF-8")
    encoding = request.headers.get("content-encoding", "identity")
    if encoding.lower() != "identity":
        raise UnsupportedMediaTypeError("Content-Encoding", rendered(encoding), "no encoding")


async def _whole_body(request: Request) -> bytes:
    limit_s: float = request.app.state.body_timeout_s
    try:
        async with asyncio.timeout(limit_s):
            return await request.body()
    except TimeoutError:
        raise BodyTimeoutError(limit_s) from None
