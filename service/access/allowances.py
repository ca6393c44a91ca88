"""Limits of requests a minute: by the role of the key, or by address."""

from collections.abc import Mapping
from enum import StrEnum
from types import MappingProxyType

from service.access.roles import Caller, Role


class ByAddress(StrEnum):
    """What is counted by the address that it comes from."""

    LOOPBACK = "loopback"
    """Requests without a key of this machine itself, where nobody else reaches the service."""
    WITHOUT_KEY = "without-key"
    """Requests without a key that come any other way."""
    FAILED_KEYS = "failed-keys"
    """Keys and sessions that are not good."""
    SIGN_INS = "sign-ins"
    """Keys that are typed at the page for signing in."""


NO_LIMIT = 0
A_MINUTE: Mapping[str, int] = MappingProxyType(
    {
        Role.ASK: 1_200,
        Role.DESK: 1_200,
        Role.PARTNER: 3_000,
        Role.EDITOR: 3_000,
        Role.PUBLISHER: 3_000,
        Role.ADMIN: 6_000,
        ByAddress.LOOPBACK: NO_LIMIT,
        ByAddress.WITHOUT_KEY: 600,
        ByAddress.FAILED_KEYS: 20,
        ByAddress.SIGN_INS: 20,
    }
)
"""Far more than people ask by hand: a page of questions asks about once a second while it is filled in."""


def policy_of(caller: Caller, *, is_local: bool) -> str:
    """What a caller's requests are counted as."""
    if caller.role is not None:
        return caller.role
    return ByAddress.LOOPBACK if is_local else ByAddress.WITHOUT_KEY
