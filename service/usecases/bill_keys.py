"""The key of a bill: all that it takes to give the bill again, in letters that fit a URL.

A key is the wishes and the name of the bill as compact JSON, deflated, in unpadded URL-safe base64 behind a format
digit. There is one key for one content: whatever does not encode back to itself is no key.
"""

import base64
import binascii
import json
import zlib
from dataclasses import dataclass

from pydantic import Field, ValidationError

from service.documents.fields import Document
from service.documents.request import BillRequest, RevisionNumber
from service.solver.engine import BillName

FORMAT = "1"
MAX_KEY_CHARS = 40_000
_MAX_JSON_BYTES = 64 * 1024
_PRESENTATION = {"limit", "order_by", "revision"}


class _Content(Document):
    """Revision, request without what only sorts and cuts the list, and the name of the bill."""

    v: RevisionNumber
    q: BillRequest
    r: str
    p: int = Field(ge=0)
    g: str | None = None
    c: dict[str, list[str]]


@dataclass(frozen=True)
class BillKey:
    """What a key holds."""

    revision: int
    request: BillRequest
    bill: BillName


class NoKeyError(ValueError):
    """The text is no key of a bill."""


def encode_key(revision: int, request: BillRequest, bill: BillName) -> str:
    """The key of a bill of a request in a revision."""
    content = _Content(
        v=revision,
        q=request.model_copy(update={name: BillRequest.model_fields[name].get_default() for name in _PRESENTATION}),
        r=bill.rail,
        p=bill.placement,
        g=bill.gauge,
        c={spot: list(skus) for spot, skus in sorted(bill.chains.items())},
    )
    plain = json.dumps(content.model_dump(exclude_defaults=True), separators=(",", ":"), sort_keys=True)
    packer = zlib.compressobj(level=9, wbits=-15)
    packed = packer.compress(plain.encode()) + packer.flush()
    return FORMAT + base64.urlsafe_b64encode(packed).decode().rstrip("=")


def decode_key(key: str) -> BillKey:
    """What a key holds. Raises NoKeyError for anything that `encode_key` would not have made."""
    if not key.startswith(FORMAT) or len(key) > MAX_KEY_CHARS:
        raise NoKeyError(key)
    packed = key.removeprefix(FORMAT)
    try:
        unpacker = zlib.decompressobj(wbits=-15)
        plain = unpacker.decompress(base64.urlsafe_b64decode(packed + "=" * (-len(packed) % 4)), _MAX_JSON_BYTES)
        content = _Content.model_validate_json(plain)
    except (binascii.Error, zlib.error, ValidationError, ValueError) as error:
        raise NoKeyError(key) from error
    found = BillKey(
        content.v,
        content.q,
        BillName(content.r, content.p, content.g, {spot: tuple(skus) for spot, skus in content.c.items()}),
    )
    if encode_key(found.revision, found.request, found.bill) != key:
        raise NoKeyError(key)
    return found
