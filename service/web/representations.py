"""Answers as bytes: JSON with a strong ETag, conditional requests, caching."""

import hashlib
import re
from typing import Any

from fastapi import Request
from pydantic_core import to_json
from starlette.responses import Response

REVISION = "X-Catalog-Revision"
JSON = "application/json"
NDJSON = "application/x-ndjson"
REVALIDATE = "no-cache"
OWN = "private, no-cache"
LASTING = "public, max-age=3600"
NEVER = "no-store"

_ENTITY_TAG = re.compile(r'(?:W/)?("[\x21\x23-\x7e\x80-\xff]*")')


def represent(
    request: Request, content: Any, *, caching: str, revision: int | None = None, link: str | None = None
) -> Response:
    """Answer a GET with JSON (bytes are JSON already), or with 304 where the caller has it by its ETag."""
    body = content if isinstance(content, bytes) else to_json(content, exclude_none=True)
    tag = f'"{hashlib.sha256(body).hexdigest()[:32]}"'
    headers = {"ETag": tag, "Cache-Control": caching}
    if revision is not None:
        headers[REVISION] = str(revision)
    if link is not None:
        headers["Link"] = link
    if _is_known(request, tag):
        return Response(status_code=304, headers=headers)
    return Response(body, headers=headers, media_type=JSON)


def _is_known(request: Request, tag: str) -> bool:
    """Weak comparison with If-None-Match: RFC 9110, section 13.1.2."""
    given = ",".join(request.headers.getlist("if-none-match"))
    return given.strip() == "*" or tag in _ENTITY_TAG.findall(given)
