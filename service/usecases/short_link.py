"""Short links: a few letters that can be read aloud, written down or scanned, for the long key of a bill."""

import hashlib
import re
from collections.abc import Iterator

from service.storage.short_links import ShortLinkStore
from service.usecases.errors import NotFoundError
from service.usecases.library import Library
from service.usecases.recall_bill import recall

ALPHABET = "0123456789abcdefghjkmnpqrstvwxyz"
"""32 signs without i, l, o and u, which are taken for others (Crockford's base 32)."""

SHORTEST, LONGEST = 8, 24
_CODE = re.compile(f"[{ALPHABET}]{{{SHORTEST},{LONGEST}}}")
_MEANT = str.maketrans("oil", "011")


class ShortLinks:
    """Gives bills of a library their codes, and finds keys by codes. Safe to share by threads."""

    def __init__(self, library: Library, store: ShortLinkStore) -> None:
        self._library = library
        self._store = store

    def link(self, key: str) -> tuple[str, bool]:
        """The code of a bill's key, always the same, and whether it is new.

        Raises NotFoundError for a key that names no valid bill.
        """
        self.prove(key)
        return self.keep(key)

    def prove(self, key: str) -> None:
        """Raise NotFoundError for a key that names no valid bill."""
        recall(self._library, key)

    def keep(self, key: str) -> tuple[str, bool]:
        """The code of a key that is proved, and whether it is new."""
        return self._store.save(key, codes_of(key))

    def key_of(self, code: str) -> str:
        """The key that a code stands for; o, i and l are read as 0 and 1. Raises NotFoundError."""
        meant = code.lower().translate(_MEANT)
        key = self._store.key(meant) if _CODE.fullmatch(meant) else None
        if key is None:
            raise NotFoundError("short link", code)
        return key


def codes_of(key: str) -> Iterator[str]:
    """The codes that a key may have, shortest first: each is the beginning of the next."""
    number = int.from_bytes(hashlib.sha256(key.encode()).digest())
    signs = "".join(ALPHABET[number >> 256 - 5 * (place + 1) & 31] for place in range(LONGEST))
    return (signs[:length] for length in range(SHORTEST, LONGEST + 1))
