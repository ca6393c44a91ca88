"""What a page knows of who looks at it: the units that were chosen, and the token that its forms send back."""

import secrets
from dataclasses import dataclass
from typing import TypeGuard, get_args

from fastapi import Request
from starlette.responses import Response

from service.web.middleware import COOKIES
from service.web.pages.rendering import Units
from service.web.site import Site

UNITS_COOKIE = f"{COOKIES}units"
KEPT_IN = f"{COOKIES}form"
SENT_AS = "form_token"
_TOKEN_BYTES = 24
_LEAST_TOKEN = 32
_MOST_TOKEN = 64
_MOST_HERE = 8_000
"""The address of a page stands in the page; of a longer one, which no form here makes, only the path does."""
_YEAR_S = 365 * 24 * 3600


@dataclass(frozen=True)
class Visit:
    """A look at a page: its own address to come back to, units, the token of its forms and whether it is new."""

    here: str
    units: Units
    token: str
    is_new: bool


def visit_of(request: Request) -> Visit:
    """Read the cookies of a request; what they lack, or hold in another form than was set, is made anew."""
    units = request.cookies.get(UNITS_COOKIE, "")
    token = request.cookies.get(KEPT_IN, "")
    known = _LEAST_TOKEN <= len(token) <= _MOST_TOKEN and token.isascii()
    here = request.url.path + (f"?{request.url.query}" if request.url.query else "")
    return Visit(
        here if request.method in ("GET", "HEAD") and len(here) <= _MOST_HERE else request.url.path[:_MOST_HERE],
        units if is_units(units) else "metric",
        token if known else secrets.token_urlsafe(_TOKEN_BYTES),
        not known,
    )


def is_units(text: str) -> TypeGuard[Units]:
    return text in get_args(Units)


def keep_token(response: Response, visit: Visit, request: Request) -> None:
    """Have the browser keep a new token, for its own site alone and out of the reach of scripts."""
    if visit.is_new:
        response.set_cookie(KEPT_IN, visit.token, httponly=True, samesite="strict", secure=is_secure(request))


def keep_units(response: Response, units: Units, request: Request) -> None:
    secure = is_secure(request)
    response.set_cookie(UNITS_COOKIE, units, max_age=_YEAR_S, httponly=True, samesite="lax", secure=secure)


def is_secure(request: Request) -> bool:
    """Whether a cookie is to go by TLS alone: it came so, or others reach this site so, by a proxy."""
    site: Site = request.app.state.site
    return request.url.scheme == "https" or site.is_secure


def is_own_form(request: Request, token: str) -> bool:
    """Whether a form was sent by a page of this site: its token is the cookie's, and no other site had it sent.

    Source: the double submission of a token and the headers `Sec-Fetch-Site` and `Origin`, common practice.
    """
    kept = request.cookies.get(KEPT_IN, "")
    if len(kept) < _LEAST_TOKEN or not secrets.compare_digest(kept.encode(), token.encode()):
        return False
    if request.headers.get("sec-fetch-site", "same-origin") not in ("same-origin", "none"):
        return False
    origin = request.headers.get("origin")
    site: Site = request.app.state.site
    return origin is None or site.is_origin(origin, request.headers.get("host", ""))


def local_path(text: str) -> str:
    """A path of this site to go back to; the first page where the text is none."""
    is_local = text.startswith("/") and not text.startswith("//") and text.isprintable() and "\\" not in text
    return text if is_local else "/ask"
