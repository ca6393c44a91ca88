"""Keys: their text, and what is kept of it."""

import re

import pytest

from service.access.keys import Digest, new_key, parts_of
from service.access.roles import RIGHTS, Caller, Right, Role, without_key


def test_a_key_is_known_by_its_own_text_alone() -> None:
    """Its digest fits its secret and no other, and holds nothing of it."""
    made, other = new_key(), new_key()
    parts = parts_of(made.text)
    assert parts is not None
    assert parts[0] == made.id
    assert made.digest.fits(parts[1])
    assert not other.digest.fits(parts[1])
    assert not made.digest.fits(parts[1] + " ")
    assert parts[1].encode() not in made.digest.salt + made.digest.value


def test_secrets_have_256_bits() -> None:
    """43 letters of base64 (RFC 4648, section 5) hold 32 bytes."""
    assert re.fullmatch(r"pwk_[0-9a-z]{10}_[A-Za-z0-9_-]{43}", new_key().text)
    assert len({new_key().text for _ in range(100)}) == 100


def test_the_digest_is_an_hmac() -> None:
    """Test case 2 of RFC 4231, section 4.3: key `Jefe`, data `what do ya want for nothing?`; from memory."""
    value = bytes.fromhex("5bdcc146bf60754e6a042426089575c75a003f089d2739839dec58b964ec3843")
    assert Digest(b"Jefe", value).fits("what do ya want for nothing?")


@pytest.mark.parametrize(
    "text", ["", "pwk_", "pwk_short_x", "PWK_0123456789_" + "a" * 43, "pwk_0123456789_" + "a" * 44]
)
def test_what_is_no_key(text: str) -> None:
    """Nothing is looked up for it."""
    assert parts_of(text) is None


def test_each_role_may_what_a_lesser_one_may() -> None:
    """Asking goes with every role, the desk with all but the first, everything with the last."""
    assert all(Right.ASK in rights for rights in RIGHTS.values())
    assert all(Right.DESK in rights for role, rights in RIGHTS.items() if role is not Role.ASK)
    assert RIGHTS[Role.EDITOR] < RIGHTS[Role.PUBLISHER] < RIGHTS[Role.ADMIN] == frozenset(Right)
    assert Right.EDIT not in RIGHTS[Role.PARTNER]


def test_without_a_key() -> None:
    """What is open is the sum of the roles; with none of them, health and signing in alone."""
    assert without_key(frozenset()).rights == {Right.NONE}
    assert without_key(frozenset({Role.ASK, Role.PARTNER})).may(Right.CASES)
    assert not Caller().may(Right.ASK)
