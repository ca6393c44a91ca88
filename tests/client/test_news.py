"""What a webhook was sent is told from what somebody else sent."""

import pytest

from service.access.signing import signature
from service.client import is_signed

NOW_S = 1_614_265_330
SECRET = "whsec_c2VjcmV0IG9mIGFuIG93biBwYXJ0bmVy"
OTHER_SECRET = "whsec_c2VjcmV0IG9mIHNvbWVib2R5IGVsc2U="
BODY = b'{"type": "revision.published"}'


def _headers(**changed: str) -> dict[str, str]:
    signed = signature(SECRET, "msg_1", NOW_S, BODY)
    return {"Webhook-Id": "msg_1", "Webhook-Timestamp": str(NOW_S), "Webhook-Signature": signed} | changed


@pytest.mark.published
def test_the_example_of_the_standard() -> None:
    """That of the Standard Webhooks specification (its reference libraries' test)."""
    secret, body = "whsec_MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw", b'{"test": 2432232314}'
    headers = {
        "webhook-id": "msg_p5jXN8AQM9LWM0D4loKWxJek",
        "webhook-timestamp": "1614265330",
        "webhook-signature": "v1,g0hM9SsE+OTPJTGt/tmIKtSyZlE3uFJELVlNIOLJ1OE=",
    }
    assert is_signed(secret, headers, body, now_s=NOW_S)
    assert not is_signed(secret, headers, body)


def test_what_the_service_sends() -> None:
    """It is signed, also beside the signature of an older secret."""
    assert is_signed(SECRET, _headers(), BODY, now_s=NOW_S + 299)
    two = f"v1,AAAA {_headers()['Webhook-Signature']}"
    assert is_signed(SECRET, _headers(**{"Webhook-Signature": two}), BODY, now_s=NOW_S)


@pytest.mark.parametrize(
    ("headers", "body", "secret", "late_s"),
    [
        (_headers(), BODY + b" ", SECRET, 0),
        (_headers(**{"Webhook-Id": "msg_2"}), BODY, SECRET, 0),
        (_headers(**{"Webhook-Timestamp": str(NOW_S + 1)}), BODY, SECRET, 0),
        (_headers(**{"Webhook-Timestamp": "now"}), BODY, SECRET, 0),
        (_headers(**{"Webhook-Signature": ""}), BODY, SECRET, 0),
        (_headers(**{"Webhook-Signature": "v1,é"}), BODY, SECRET, 0),
        (_headers(), BODY, OTHER_SECRET, 0),
        (_headers(), BODY, SECRET, 301),
        (_headers(), BODY, SECRET, -301),
        ({}, BODY, SECRET, 0),
    ],
)
def test_what_others_send(headers: dict[str, str], body: bytes, secret: str, late_s: int) -> None:
    """Another body, id, time or secret, no signature, or a message that was heard before and is sent again."""
    assert not is_signed(secret, headers, body, now_s=NOW_S + late_s)


def test_a_secret_that_is_none() -> None:
    """It is the caller's fault, and no message is blamed for it."""
    with pytest.raises(ValueError, match=r"ASCII|base64"):
        is_signed("whsec_é", _headers(), BODY, now_s=NOW_S)
