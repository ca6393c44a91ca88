"""How news is signed: Standard Webhooks 1.0, the scheme v1, HMAC-SHA256 over id, time and body."""

import base64
import hmac
import secrets

PREFIX = "whsec_"
_SECRET_BYTES = 32
OVERLAP_S = 86_400
"""So long a secret that was replaced signs beside the new one: a receiver has a day to learn it."""


def new_secret() -> str:
    """Make a secret: 256 random bits in base64 behind `whsec_`."""
    return PREFIX + base64.b64encode(secrets.token_bytes(_SECRET_BYTES)).decode()


def rotated(secrets_: str, now_s: int) -> str:
    """Replace the secret of an endpoint: the new one, then the one before with the second at which it ends."""
    return f"{new_secret()} {current(secrets_)}@{now_s + OVERLAP_S}"


def current(secrets_: str) -> str:
    """The secret of an endpoint that is in use."""
    return secrets_.split(" ")[0]


def signatures(secrets_: str, id_: str, timestamp_s: int, body: bytes) -> str:
    """The value of `webhook-signature` by all secrets of an endpoint that are in use, split by spaces."""
    newest, *others = secrets_.split(" ")
    valid = [secret for secret, _, end in (other.partition("@") for other in others) if timestamp_s < int(end)]
    return " ".join(signature(secret, id_, timestamp_s, body) for secret in (newest, *valid))


def signature(secret: str, id_: str, timestamp_s: int, body: bytes) -> str:
    """What one secret gives for a message: `v1,` and the base64 of the code."""
    key = base64.b64decode(secret.removeprefix(PREFIX))
    code = hmac.digest(key, f"{id_}.{timestamp_s}.".encode() + body, "sha256")
    return "v1," + base64.b64encode(code).decode()
