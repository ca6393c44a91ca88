"""News that came to a webhook: whether the service sent it (Standard Webhooks 1.0, v1)."""

import base64
import hmac
import time
from collections.abc import Mapping

_TOLERANCE_S = 300.0


def is_signed(
    secret: str, headers: Mapping[str, str], body: bytes, *, now_s: float | None = None, within_s: float = _TOLERANCE_S
) -> bool:
    """Whether a message was signed with the webhook's secret (`whsec_...`), lately.

    `headers` are those of the message, `body` its bytes as they came. `now_s` is the time, seconds since 1970; None:
    that of this machine. A message that comes again has the same `webhook-id`: take it once. Raises ValueError for a
    secret that is none.
    """
    told = {name.lower(): value for name, value in headers.items()}
    message_id, sent, signatures = (told.get(f"webhook-{name}", "") for name in ("id", "timestamp", "signature"))
    if (
        not (sent.isascii() and sent.isdecimal())
        or abs((time.time() if now_s is None else now_s) - int(sent)) > within_s
    ):
        return False
    key = base64.b64decode(secret.removeprefix("whsec_"), validate=True)
    signed = b".".join((message_id.encode(), sent.encode(), body))
    expected = f"v1,{base64.b64encode(hmac.digest(key, signed, 'sha256')).decode()}"
    return any(hmac.compare_digest(one.encode(), expected.encode()) for one in signatures.split(" "))
