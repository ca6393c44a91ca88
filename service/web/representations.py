"""Answers as bytes: JSON and other media types with a strong ETag, conditional requests, caching."""

import hashlib
import re
from collections.abc import Mapping
from typing import Any

from fastapi import Request
from pydantic_core import to_json
from starlette.datastructures import Headers
from starlette.responses import Response
from starlette.types import Scope

REVISION = "X-Catalog-Revision"
JSON = "application/json"
NDJSON = "application/x-ndjson"
HTML = "text/html"
CSS = "text/css"
JAVASCRIPT = "text/javascript"
PDF = "application/pdf"
REVALIDATE = "no-cache"
OWN = "private, no-cache"
LASTING = "public, max-age=3600"
NEVER = "no-store"

_ENTITY_TAG = re.compile(r'(?:W/)?("[\x21\x23-\x7e\x80-\xff]*")')


def represent(
    request: Request,
    content: Any,
    *,
    caching: str,
    revision: int | None = None,
    media_type: str = JSON,
    more: Mapping[str, str] | None = None,
) -> Response:
    """Answer a GET with JSON, or with bytes of the media type as they are, or with 304 where the caller has them.

    `more`: further headers, which go with a 304 too.
    """
    body = content if isinstance(content, bytes) else to_json(content, exclude_none=True)
    tag = f'"{hashlib.sha256(body).hexdigest()[:32]}"'
    headers = {"ETag": tag, "Cache-Control": caching, **(more or {})}
    if revision is not None:
        headers[REVISION] = str(revision)
    if is_known(request.scope, tag):
        return Response(status_code=304, headers=headers)
    return Response(body, headers=headers, media_type=media_type)


def is_known(scope: Scope, tag: str) -> bool:
    """Weak comparison with If-None-Match: RFC 9110, section 13.1.2."""
    given = ",".join(Headers(scope=scope).getlist("if-none-match"))
    return given.strip() == "*" or tag in _ENTITY_TAG.findall(given)
