"""Sessions of the pages: a cookie that says with which key somebody signed in, signed with what is kept of that key."""

from itsdangerous import BadData, TimestampSigner
from starlette.responses import Response
from starlette.types import Scope

from service.web.middleware import COOKIES

COOKIE = f"{COOKIES}session"
LASTS_S = 12 * 3600
_SALT = "portwright session"
_NAME = f"{COOKIE}=".encode()
_LONGEST = 200


def cookie_of(scope: Scope) -> str | None:
    """The text of the cookie of a session, as it was sent; None where there is none."""
    for name, value in scope["headers"]:
        if name == b"cookie" and _NAME in value:
            pair = next((pair for pair in value.split(b";") if pair.strip().startswith(_NAME)), b"")
            text = pair.strip()[len(_NAME) :].decode("latin-1")
            return text if 0 < len(text) <= _LONGEST else None
    return None


def key_of(cookie: str) -> str:
    """The id of the key that a cookie says it is of; whether that is so is not known yet."""
    return cookie.partition(".")[0]


def is_signed(cookie: str, signing_key: bytes) -> bool:
    """Whether a cookie was made here with this key, and is not over."""
    try:
        TimestampSigner(signing_key, salt=_SALT).unsign(cookie, max_age=LASTS_S)
    except BadData:
        return False
    return True


def begin(response: Response, key: str, signing_key: bytes, *, is_secure: bool) -> None:
    """Have the browser keep a session of a key, for this site and out of the reach of scripts.

    `is_secure`: by TLS alone.
    """
    text = TimestampSigner(signing_key, salt=_SALT).sign(key).decode()
    response.set_cookie(COOKIE, text, max_age=LASTS_S, httponly=True, samesite="lax", secure=is_secure)


def end(response: Response) -> None:
    """Have the browser forget its session."""
    response.delete_cookie(COOKIE, httponly=True, samesite="lax")
