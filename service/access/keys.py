"""Keys of access: their text, and the digest that is stored.

A key is `pwk_ID_SECRET`. The id tells keys apart and is shown in lists. The secret has 256 random bits, so a plain HMAC
is as hard to turn round as a slow hash (NIST SP 800-63B, section 5.1.1.2, asks for slow ones where people choose).
"""

import hmac
import re
import secrets
from dataclasses import dataclass

_KEY = re.compile(r"pwk_([0-9a-z]{10})_([A-Za-z0-9_-]{43})")
_ID_LETTERS = "0123456789abcdefghijklmnopqrstuvwxyz"
_ID_LENGTH = 10
_SECRET_BYTES = 32
_SALT_BYTES = 16


@dataclass(frozen=True)
class Digest:
    """What is kept of a secret."""

    salt: bytes
    value: bytes

    def fits(self, secret: str) -> bool:
        """Whether this is the digest of a secret; how long it takes says nothing."""
        return hmac.compare_digest(_digest(self.salt, secret), self.value)


@dataclass(frozen=True)
class NewKey:
    """A new key: its text, which is shown once; its id; and the digest that is kept."""

    text: str
    id: str
    digest: Digest


def new_key() -> NewKey:
    """Make a key."""
    id_ = "".join(secrets.choice(_ID_LETTERS) for _ in range(_ID_LENGTH))
    secret, salt = secrets.token_urlsafe(_SECRET_BYTES), secrets.token_bytes(_SALT_BYTES)
    return NewKey(f"pwk_{id_}_{secret}", id_, Digest(salt, _digest(salt, secret)))


def parts_of(text: str) -> tuple[str, str] | None:
    """The id and the secret of a key; None for any other text."""
    found = _KEY.fullmatch(text)
    return None if found is None else (found[1], found[2])


def _digest(salt: bytes, secret: str) -> bytes:
    return hmac.digest(salt, secret.encode(), "sha256")
