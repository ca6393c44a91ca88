"""What a form of a page sends: its fields as text, taken only from a page of this site."""

import asyncio
from collections.abc import AsyncGenerator, AsyncIterator
from contextlib import asynccontextmanager
from urllib.parse import parse_qsl

from fastapi import Request
from starlette.datastructures import FormData, Headers, UploadFile
from starlette.formparsers import MultiPartException, MultiPartParser
from starlette.requests import ClientDisconnect

from service.documents.rendering import rendered
from service.web.bodies import aside, whole_body
from service.web.counter.visits import SENT_AS, is_own_form
from service.web.errors import ForeignFormError, InvalidQueryError, ParameterFault, UnsupportedMediaTypeError

_FIELDS = "application/x-www-form-urlencoded"
_WITH_FILES = "multipart/form-data"
_LONGEST_DECLARED = 300
_MOST_FIELDS = 600
"""An order of 200 lines has two fields a line."""
_MOST_FILES = 1
_SLICE_BYTES = 256 * 1024


async def own_form(request: Request) -> dict[str, str]:
    """The fields of a form, the last of each name. Raises as `sent_form`."""
    async with sent_form(request) as form:
        return {name: value for name, value in form.multi_items() if isinstance(value, str)}


@asynccontextmanager
async def sent_form(request: Request) -> AsyncIterator[FormData]:
    """All that a form sends, with its files open meanwhile.

    Raises ForeignFormError unless a page of this site sent it, BodyTimeoutError where it takes too long,
    InvalidQueryError or UnsupportedMediaTypeError for what is no form.
    """
    declared = request.headers.get("content-type", "")
    if len(declared) > _LONGEST_DECLARED:
        raise UnsupportedMediaTypeError("Content-Type", rendered(declared), f"{_FIELDS} or {_WITH_FILES}", _FIELDS)
    try:
        raw = await whole_body(request, request.app.state.body_timeout_s)
        form = await _read(request.headers, raw)
    except (MultiPartException, ClientDisconnect, ValueError) as error:
        raise InvalidQueryError(ParameterFault("form", "what is no form", "the fields of the page's form")) from error
    try:
        token = form.get(SENT_AS, "")
        if isinstance(token, UploadFile) or not is_own_form(request, token):
            raise ForeignFormError
        yield form
    finally:
        await form.close()


async def _read(headers: Headers, raw: bytes) -> FormData:
    """Read a form of either kind; in another kind there is nothing. Raises MultiPartException, ValueError."""
    kind = headers.get("content-type", "").partition(";")[0].strip().lower()
    if kind == _WITH_FILES:
        parser = MultiPartParser(headers, _slices(raw), max_files=_MOST_FILES, max_fields=_MOST_FIELDS)
        parser.spool_max_size = len(raw) + 1  # a body has its limit, and a disk may be full
        return await parser.parse()
    if kind == _FIELDS:
        return await aside(len(raw), _fields, raw)
    return FormData()


def _fields(raw: bytes) -> FormData:
    fields = parse_qsl(raw.decode("ascii"), keep_blank_values=True, max_num_fields=_MOST_FIELDS)
    return FormData([*fields])


async def _slices(raw: bytes) -> AsyncGenerator[bytes, None]:
    """The body bit by bit, with the others' turns between."""
    for start in range(0, len(raw), _SLICE_BYTES):
        yield raw[start : start + _SLICE_BYTES]
        await asyncio.sleep(0)
