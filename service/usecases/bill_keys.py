"""The key of a bill: all that it takes to give the bill again, in letters that fit a URL.

A key is the wishes and the name of the bill as compact JSON, deflated, in unpadded URL-safe base64 behind a format
digit. Only the JSON that `KeyMaker` writes is taken; how it was deflated does not matter, so that a key stays good
whatever library deflates the next ones.
"""

import base64
import binascii
import json
import zlib
from dataclasses import dataclass
from typing import Any

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


class KeyMaker:
    """Gives the bills of a request in a revision their keys."""

    def __init__(self, revision: int, request: BillRequest) -> None:
        self._revision = revision
        asked = request.model_copy(update=_unpresented()).model_dump(exclude_defaults=True)
        self._asked = _dense(asked)  # the longest part of each key, and the same in all

    def key_of(self, bill: BillName) -> str:
        """The key of a bill."""
        parts = {
            "c": _dense({spot: list(skus) for spot, skus in bill.chains.items()}),
            "g": None if bill.gauge is None else _dense(bill.gauge),
            "p": _dense(bill.placement),
            "q": self._asked,
            "r": _dense(bill.rail),
            "v": _dense(self._revision),
        }
        plain = ",".join(f'"{name}":{value}' for name, value in parts.items() if value is not None)
        packer = zlib.compressobj(level=9, wbits=-15)
        packed = packer.compress(f"{{{plain}}}".encode()) + packer.flush()
        return FORMAT + _letters(packed)


def decode_key(key: str) -> BillKey:
    """What a key holds. Raises NoKeyError for anything that holds no content of `KeyMaker`."""
    if not key.startswith(FORMAT) or len(key) > MAX_KEY_CHARS:
        raise NoKeyError(key)
    packed = key.removeprefix(FORMAT)
    try:
        unpacker = zlib.decompressobj(wbits=-15)
        deflated = base64.urlsafe_b64decode(packed + "=" * (-len(packed) % 4))
        plain = unpacker.decompress(deflated, _MAX_JSON_BYTES)
        content = _Content.model_validate_json(plain)
    except (binascii.Error, zlib.error, ValidationError, ValueError) as error:
        raise NoKeyError(key) from error
    whole = unpacker.eof and not unpacker.unused_data and _letters(deflated) == packed
    presented = any(getattr(content.q, name) != default for name, default in _unpresented().items())
    if not whole or presented or _plain(content) != plain:
        raise NoKeyError(key)
    chains = {spot: tuple(skus) for spot, skus in content.c.items()}
    return BillKey(content.v, content.q, BillName(content.r, content.p, content.g, chains))


def _plain(content: _Content) -> bytes:
    return _dense(content.model_dump(exclude_defaults=True)).encode()


_dense = json.JSONEncoder(separators=(",", ":"), sort_keys=True).encode


def _letters(deflated: bytes) -> str:
    return base64.urlsafe_b64encode(deflated).decode().rstrip("=")


def _unpresented() -> dict[str, Any]:
    """The defaults of what only presents an answer, and so has no part in a key."""
    return {name: BillRequest.model_fields[name].get_default() for name in _PRESENTATION}
