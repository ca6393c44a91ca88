"""What a form of a page sends: its fields as text, taken only from a page of this site."""

import asyncio
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager

from fastapi import Request
from starlette.datastructures import FormData, UploadFile
from starlette.formparsers import MultiPartException
from starlette.requests import ClientDisconnect

from service.web.counter.visits import SENT_AS, is_own_form
from service.web.errors import BodyTimeoutError, ForeignFormError, InvalidQueryError, ParameterFault

_MOST_FIELDS = 100


async def own_form(request: Request) -> dict[str, str]:
    """The fields of a form, the last of each name. Raises as `sent_form`."""
    async with sent_form(request) as form:
        return {name: value for name, value in form.multi_items() if isinstance(value, str)}


@asynccontextmanager
async def sent_form(request: Request) -> AsyncIterator[FormData]:
    """All that a form sends, with its files open meanwhile.

    Raises ForeignFormError unless a page of this site sent it, BodyTimeoutError where it takes too long,
    InvalidQueryError for what is no form.
    """
    limit_s = request.app.state.body_timeout_s
    try:
        async with asyncio.timeout(limit_s):
            form = await request.form(max_files=1, max_fields=_MOST_FIELDS)
    except TimeoutError:
        raise BodyTimeoutError(limit_s) from None
    except (MultiPartException, ClientDisconnect) as error:
        raise InvalidQueryError(ParameterFault("form", "what is no form", "the fields of the page's form")) from error
    try:
        token = form.get(SENT_AS, "")
        if isinstance(token, UploadFile) or not is_own_form(request, token):
            raise ForeignFormError
        yield form
    finally:
        await form.close()
