"""Signing in with a key, and out again."""

from typing import Annotated

import anyio.to_thread
from fastapi import APIRouter, Depends, Request
from pydantic import BaseModel, ConfigDict, Field
from starlette.responses import Response

from service.access.allowances import ByAddress
from service.usecases.errors import UnknownKeyError
from service.web import sessions
from service.web.access import SIGN_IN, Doors, caller_of
from service.web.counter.forms import own_form
from service.web.counter.showing import PageRoute, gone_to, shown
from service.web.counter.visits import is_secure, local_path
from service.web.queries import query_of
from service.web.rate_limits import Quota

router = APIRouter(include_in_schema=False, route_class=PageRoute)

_SHOWN_KEY = 14
"""So much of a key is its id, which is no secret."""


class SignInQuery(BaseModel):
    """Where to go afterwards."""

    model_config = ConfigDict(extra="forbid")

    back: Annotated[str, Field(max_length=8_000)] = ""


@router.get(SIGN_IN)
async def sign_in_page(request: Request, asked: Annotated[SignInQuery, Depends(query_of(SignInQuery))]) -> Response:
    return shown(request, "sign_in.html", back=local_path(asked.back), fault=None)


@router.post(SIGN_IN)
async def sign_in(request: Request) -> Response:
    form = await own_form(request)
    doors: Doors | None = request.app.state.doors
    keys = None if doors is None else doors.keys
    back, text = local_path(form.get("back", "")), form.get("key", "").strip()
    if doors is not None:
        quota = await doors.limits.count(ByAddress.SIGN_INS, doors.addresses.of(request.scope))
        if quota is not None and quota.is_over:
            return _later(request, back, quota)
    try:
        if keys is None:
            raise UnknownKeyError
        caller = await anyio.to_thread.run_sync(keys.caller, text)
    except UnknownKeyError:
        if keys is not None:
            await anyio.to_thread.run_sync(keys.note, _id_in(text), "", "refused")
        fault = "This is no key of this service, or it was ended. Nothing was kept of it."
        return shown(request, "sign_in.html", status=401, back=back, fault=fault)
    id_ = caller.key or ""
    await anyio.to_thread.run_sync(keys.note, id_, caller.account, "signed in")
    response = gone_to(back)
    sessions.begin(response, id_, await anyio.to_thread.run_sync(keys.signing_key, id_), is_secure=is_secure(request))
    return response


@router.post("/sign-out")
async def sign_out(request: Request) -> Response:
    await own_form(request)
    caller = caller_of(request.scope)
    doors: Doors | None = request.app.state.doors
    keys = None if doors is None else doors.keys
    if keys is not None and caller.key is not None:
        await anyio.to_thread.run_sync(keys.note, caller.key, caller.account, "signed out")
    response = gone_to(SIGN_IN)
    sessions.end(response)
    return response


def _later(request: Request, back: str, quota: Quota) -> Response:
    """Too many keys were tried from where this comes: the page again, and when the next one is looked at."""
    fault = f"Too many keys were tried from your address. Try again in {quota.anew_s} seconds."
    page = shown(request, "sign_in.html", status=429, back=back, fault=fault)
    for name, value in (*quota.fields(), ("Retry-After", str(quota.anew_s))):
        page.headers[name] = value
    return page


def _id_in(text: str) -> str:
    """What may be the id of a key in what was typed; never a whole secret."""
    shown = text[:_SHOWN_KEY].removeprefix("pwk_")
    return shown if text.startswith("pwk_") and shown.isalnum() and shown.isascii() else ""
