"""The store of keys and of the record of sign-ins."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import select, update

from service.storage.store import Store
from service.storage.tables import METADATA

_KEY = METADATA.tables["access_key"]
_SIGN_IN = METADATA.tables["sign_in"]


@dataclass(frozen=True)
class StoredKey:
    """A key, with the digest of its secret."""

    id: str
    account: str
    role: str
    salt: bytes
    digest: bytes
    created_at: datetime
    expires_at: datetime | None = None
    revoked_at: datetime | None = None
    used_at: datetime | None = None


@dataclass(frozen=True)
class SignIn:
    """One entry of the record of sign-ins."""

    at: datetime
    key: str
    account: str
    what: str


class KeyStore(Store):
    """Keeps keys and finds them."""

    def add(self, key: StoredKey) -> None:
        """Keep a new key."""
        self._add(_KEY, key)

    def get(self, id_: str) -> StoredKey | None:
        """Return the key of an id, whether it is still good or not."""
        return self._read_one(StoredKey, select(_KEY).where(_KEY.c.id == id_))

    def all(self) -> list[StoredKey]:
        """Return every key, oldest first."""
        return self._read_all(StoredKey, select(_KEY).order_by(_KEY.c.created_at, _KEY.c.id))

    def revoke(self, id_: str, at: datetime) -> bool:
        """Revoke a key; False where there is none, or it is revoked already."""
        good = (_KEY.c.id == id_) & _KEY.c.revoked_at.is_(None)
        return self._changes_one(update(_KEY).where(good).values(revoked_at=at))

    def used(self, uses: Mapping[str, datetime]) -> None:
        """Note when keys were used last, by their ids."""
        with self._database.writing() as connection:
            for id_, at in sorted(uses.items()):  # in one order, so that two processes never wait for each other
                connection.execute(update(_KEY).where(_KEY.c.id == id_).values(used_at=at))

    def note(self, sign_in: SignIn) -> None:
        """Enter a sign-in into the record."""
        self._add(_SIGN_IN, sign_in)

    def sign_ins(self, limit: int) -> list[SignIn]:
        """Return the newest entries of the record, newest first."""
        wanted = select(_SIGN_IN.c.at, _SIGN_IN.c.key, _SIGN_IN.c.account, _SIGN_IN.c.what)
        return self._read_all(SignIn, wanted.order_by(_SIGN_IN.c.number.desc()).limit(limit))
