"""How news is signed: Standard Webhooks 1.0, the scheme v1, HMAC-SHA256 over id, time and body."""

import base64
import hmac
import secrets

PREFIX = "whsec_"
_SECRET_BYTES = 32


def new_secret() -> str:
    """Make a secret: 256 random bits in base64 behind `whsec_`."""
    return PREFIX + base64.b64encode(secrets.token_bytes(_SECRET_BYTES)).decode()


def signature(secret: str, id_: str, timestamp_s: int, body: bytes) -> str:
    """The value of `webhook-signature` for a message: `v1,` and the base64 of the code."""
    key = base64.b64decode(secret.removeprefix(PREFIX))
    code = hmac.digest(key, f"{id_}.{timestamp_s}.".encode() + body, "sha256")
    return "v1," + base64.b64encode(code).decode()
