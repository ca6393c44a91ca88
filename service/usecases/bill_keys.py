"""The key of a bill: all that it takes to give the bill again, in letters that fit a URL.

A key is the wishes and the name of the bill as compact JSON, deflated, in unpadded URL-safe base64 behind a format
digit. Only the JSON that `KeyMaker` writes is taken; how it was deflated does not matter, so that a key stays good
whatever library deflates the next ones. Keys of each format that there was are understood for ever.
"""

import base64
import binascii
import json
import zlib
from collections.abc import Iterable
from dataclasses import dataclass

from pydantic import Field, ValidationError

from service.documents.fields import Document
from service.documents.request import BillRequest, RevisionNumber
from service.solver.engine import BillName

FORMAT = "2"
_SKELETON = (
    b"own-hose-factory-line-quick-connect-return-feed-link-bulkhead-"
    b"rail-fitting-plug-gauge-line-regulator-seal-fastener-spacer-clip-bracket-consumable-"
    b'"in_stock_only":true,"allow_unsold":false,"group_variants":false,"have":[{"qty":1,"sku":"'
    b'"own_rail":{"end":"female","standard":""clearances":[{"across_mm":1,"axial_mm":1,"spot":"'
    b'"exclude":["",""addons":["","boost_kpa":"feed_hose_m":"return_hose_m":"pump_l_h":"finish":""max_price":'
    b'},"g":"top","p":1,"q":{"chassis":"","fuel":"","gauge":"","power_kw":,"layout":""},"r":"","v":1}'
    b'{"c":{"1.centre":[""],"1.left":[""],"1.right":[""],"1.top":[""],"2.centre":[""],"2.left":[""],"2.right":[""],'
    b'"2.top":[""],"centre":[""],"left":[""],"right":[""],"top":[""]},"p":0,"q":{"chassis":"'
)
"""What contents have in common, known to both sides, so that a key need not spell it. Changed, it is a new format."""
SKELETONS = {"1": b"", FORMAT: _SKELETON}
MAX_KEY_CHARS = 40_000
_MAX_JSON_BYTES = 64 * 1024
_PRESENTATION = {"limit", "order_by", "revision"}
"""What only presents an answer, and so has no part in a key."""
_UNPRESENTED = {name: BillRequest.model_fields[name].get_default() for name in _PRESENTATION}


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
        asked = request.model_dump(exclude_defaults=True, exclude=_PRESENTATION)
        self._asked = _dense(asked)  # the longest part of each key, and the same in all

    def key_of(self, bill: BillName) -> str:
        """The key of a bill."""
        chains = ",".join([f"{_quoted(spot)}:[{_listed(skus)}]" for spot, skus in sorted(bill.chains.items())])
        gauge = "" if bill.gauge is None else f'"g":{_quoted(bill.gauge)},'
        plain = (
            f'{{"c":{{{chains}}},{gauge}"p":{bill.placement},"q":{self._asked},'
            f'"r":{_quoted(bill.rail)},"v":{self._revision}}}'
        )
        packer = zlib.compressobj(level=9, wbits=-15, zdict=_SKELETON)
        packed = packer.compress(plain.encode()) + packer.flush()
        return FORMAT + _letters(packed)


def decode_key(key: str) -> BillKey:
    """What a key holds. Raises NoKeyError for anything that holds no content of `KeyMaker`."""
    skeleton = SKELETONS.get(key[:1])
    if skeleton is None or len(key) > MAX_KEY_CHARS:
        raise NoKeyError(key)
    packed = key[1:]
    try:
        unpacker = zlib.decompressobj(wbits=-15, zdict=skeleton)
        deflated = base64.urlsafe_b64decode(packed + "=" * (-len(packed) % 4))
        plain = unpacker.decompress(deflated, _MAX_JSON_BYTES)
        content = _Content.model_validate_json(plain)
    except (binascii.Error, zlib.error, ValidationError, ValueError) as error:
        raise NoKeyError(key) from error
    whole = unpacker.eof and not unpacker.unused_data and _letters(deflated) == packed
    presented = any(getattr(content.q, name) != default for name, default in _UNPRESENTED.items())
    if not whole or presented or _plain(content) != plain:
        raise NoKeyError(key)
    chains = {spot: tuple(skus) for spot, skus in content.c.items()}
    return BillKey(content.v, content.q, BillName(content.r, content.p, content.g, chains))


def _plain(content: _Content) -> bytes:
    return _dense(content.model_dump(exclude_defaults=True)).encode()


_dense = json.JSONEncoder(separators=(",", ":"), sort_keys=True).encode
_quoted = json.encoder.encode_basestring_ascii


def _listed(texts: Iterable[str]) -> str:
    return ",".join(map(_quoted, texts))


def _letters(deflated: bytes) -> str:
    return base64.urlsafe_b64encode(deflated).decode().rstrip("=")
