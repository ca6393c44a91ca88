"""Keys of bills in the wrapping of any format that there was."""

import base64
import zlib

from service.usecases.bill_keys import SKELETONS


def packed(plain: bytes, level: int = 9, digit: str = "2") -> str:
    """Any bytes in the wrapping of a key."""
    packer = zlib.compressobj(level=level, wbits=-15, zdict=SKELETONS[digit])
    return digit + base64.urlsafe_b64encode(packer.compress(plain) + packer.flush()).decode().rstrip("=")


def unpacked(key: str) -> bytes:
    """What a key holds, as plain JSON."""
    deflated = base64.urlsafe_b64decode(key[1:] + "=" * (-len(key[1:]) % 4))
    return zlib.decompressobj(wbits=-15, zdict=SKELETONS[key[0]]).decompress(deflated)
