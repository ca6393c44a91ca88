"""Answers as bytes: JSON and other media types with a strong ETag, and how they may be kept by others."""

import hashlib
import re
from collections.abc import Iterable, Mapping
from typing import Any

from pydantic_core import to_json
from starlette.responses import Response

from service.domain.tongue import ENGLISH

CONTENT_LANGUAGE = "Content-Language"
REVISION = "X-Catalog-Revision"
JSON = "application/json"
MERGE_PATCH = "application/merge-patch+json"
NDJSON = "application/x-ndjson"
HTML = "text/html"
CSS = "text/css"
JAVASCRIPT = "text/javascript"
PDF = "application/pdf"
CSV = "text/csv"
JSON_LD = "application/ld+json"
REVALIDATE = "no-cache"
OWN = "private, no-cache"
LASTING = "public, max-age=3600"
NEVER = "no-store"

_ENTITY_TAG = re.compile(rb'(?:W/)?("[\x21\x23-\x7e\x80-\xff]*")')


def represent(
    content: Any,
    *,
    caching: str,
    revision: int | None = None,
    media_type: str = JSON,
    more: Mapping[str, str] | None = None,
    status: int = 200,
) -> Response:
    """Answer with JSON, or with bytes of the media type as they are; what may be kept has a tag. `more`: further
    headers."""
    body = content if isinstance(content, bytes) else to_json(content, exclude_none=True)
    tag = {} if caching == NEVER else {"ETag": _tag(body, (more or {}).get(CONTENT_LANGUAGE, ENGLISH))}
    headers = {**tag, "Cache-Control": caching, **(more or {})}
    if revision is not None:
        headers[REVISION] = str(revision)
    return Response(body, status, headers, media_type)


def _tag(body: bytes, language: str) -> str:
    """A strong entity tag: another one for other bytes, or the same bytes in another language."""
    digest = hashlib.sha256(body)
    if language != ENGLISH:
        digest.update(language.encode())
    return f'"{digest.hexdigest()[:32]}"'


def is_known(given: Iterable[bytes], tag: bytes) -> bool:
    """Whether an entity tag is among those that If-None-Match gives: weak comparison, RFC 9110, section 13.1.2."""
    text = b",".join(given)
    return text.strip() == b"*" or tag in _ENTITY_TAG.findall(text)
