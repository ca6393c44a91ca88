"""The header Idempotency-Key: the caller's own name for a request, which makes it safe to send again."""

import re
from typing import Any

from fastapi import Request

from service.documents.rendering import rendered
from service.storage.keeping import KEY_DAYS
from service.web.errors import InvalidQueryError, ParameterFault
from service.web.refusals import IDEMPOTENCY_KEY

_KEY = re.compile(r"[!-~]{1,255}")
_EXPECTED = "1 to 255 visible ASCII characters"


async def idempotency_key_of(request: Request) -> str | None:
    """Read the key, in quotation marks or without, None where there is none. Raises InvalidQueryError."""
    given = request.headers.getlist(IDEMPOTENCY_KEY)
    if not given:
        return None
    if len(given) > 1:
        raise InvalidQueryError(ParameterFault(IDEMPOTENCY_KEY, f"it {len(given)} times", "it once"))
    [text] = given
    key = text[1:-1] if len(text) > 1 and text[0] == text[-1] == '"' else text
    if not _KEY.fullmatch(key):
        raise InvalidQueryError(ParameterFault(IDEMPOTENCY_KEY, rendered(text), _EXPECTED))
    return key


PARAMETER: dict[str, Any] = {
    "name": IDEMPOTENCY_KEY,
    "in": "header",
    "required": False,
    "description": f"the caller's own name for this very request: {_EXPECTED}, hard to guess. For {KEY_DAYS} days the "
    "same key with the same request to this operation gives the stored answer again, and the same key with another "
    "request is refused; then the key is free. Keys are not yet a caller's own: whoever sends the same key with the "
    "same request gets the same answer",
    "schema": {"type": "string", "minLength": 1, "maxLength": 255, "pattern": f"^{_KEY.pattern}$"},
}
