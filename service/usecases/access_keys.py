"""Make, list and revoke keys, and tell who shows one."""

from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from threading import Lock
from time import monotonic

from service.access.keys import Digest, new_key, parts_of
from service.access.roles import RIGHTS, Caller, Role
from service.storage.keys import KeyStore, SignIn, StoredKey
from service.usecases.errors import NotFoundError, UnknownKeyError

KIND = "access key"
SEEN_S = 2.0
"""So long a key that was looked up is taken without another look: a revoked one ends so much later at most."""
_USED_EVERY_S = 60.0
_MOST_SEEN = 4096


@dataclass(frozen=True)
class MadeKey:
    """A key that was just made; its text is shown once."""

    text: str
    key: StoredKey


@dataclass(frozen=True)
class _Seen:
    key: StoredKey
    looked_at: float


class AccessKeys:
    """The keys of a service. Safe to share by threads."""

    def __init__(self, store: KeyStore, now: Callable[[], datetime] = lambda: datetime.now(UTC)) -> None:
        self._store = store
        self._now = now
        self._seen: OrderedDict[str, _Seen] = OrderedDict()
        self._used: dict[str, float] = {}
        self._due: dict[str, datetime] = {}
        self._lock = Lock()

    def make(self, role: Role, account: str, days: int | None = None) -> MadeKey:
        """Make a key for a role and an account, good for so many days, or until it is revoked."""
        made, now = new_key(), self._now()
        key = StoredKey(
            id=made.id,
            account=account,
            role=role.value,
            salt=made.digest.salt,
            digest=made.digest.value,
            created_at=now,
            expires_at=None if days is None else now + timedelta(days=days),
        )
        self._store.add(key)
        return MadeKey(made.text, key)

    def all(self) -> list[StoredKey]:
        """Every key, oldest first."""
        return self._store.all()

    def revoke(self, id_: str) -> None:
        """End a key. Raises NotFoundError where there is none that is good."""
        if not self._store.revoke(id_, self._now()):
            raise NotFoundError(KIND, id_)
        with self._lock:
            self._seen.pop(id_, None)

    def caller(self, text: str) -> Caller:
        """Who shows a key, as it was written. Raises UnknownKeyError."""
        parts = parts_of(text)
        if parts is None:
            raise UnknownKeyError
        key = self._good(parts[0])
        if not Digest(key.salt, key.digest).fits(parts[1]):
            raise UnknownKeyError
        return self._caller(key)

    def caller_of_id(self, id_: str) -> Caller:
        """Who signed in with the key of an id. Raises UnknownKeyError where it is good no longer."""
        return self._caller(self._good(id_))

    def is_known(self, id_: str) -> bool:
        """Whether there is a key of an id, as far as was seen here, be it good or not."""
        return id_ in self._seen

    def is_at_hand(self, id_: str) -> bool:
        """Whether who shows the key of an id is told without a look at the database."""
        seen = self._seen.get(id_)
        return seen is not None and _is_fresh(seen)

    def signing_key(self, id_: str) -> bytes:
        """What signs the sessions of a key: they end with it. Raises UnknownKeyError."""
        return self._good(id_).digest

    def note_uses(self) -> bool:
        """Write down when keys were used last, of those that were since the last time; whether more is left: False.

        Raises StorageError, which loses it: nobody who asks waits for this, and nobody is refused because of it.
        """
        with self._lock:
            uses, self._due = self._due, {}
        if uses:
            self._store.used(uses)
        return False

    def note(self, key: str, account: str, what: str) -> None:
        """Enter into the record of sign-ins what happened."""
        self._store.note(SignIn(self._now(), key, account, what))

    def _good(self, id_: str) -> StoredKey:
        key = self._looked_up(id_)
        is_over = key is None or key.revoked_at is not None
        if key is None or is_over or (key.expires_at is not None and key.expires_at <= self._now()):
            raise UnknownKeyError
        return key

    def _looked_up(self, id_: str) -> StoredKey | None:
        with self._lock:
            seen = self._seen.get(id_)
        if seen is not None and _is_fresh(seen):
            return seen.key
        key = self._store.get(id_)
        if key is not None:
            with self._lock:
                self._seen[id_] = _Seen(key, monotonic())
                self._seen.move_to_end(id_)
                if len(self._seen) > _MOST_SEEN:
                    self._seen.popitem(last=False)
        return key

    def _caller(self, key: StoredKey) -> Caller:
        if monotonic() - self._used.get(key.id, -_USED_EVERY_S) >= _USED_EVERY_S:
            self._used[key.id] = monotonic()
            with self._lock:
                self._due[key.id] = self._now()
        role = Role(key.role)
        return Caller(key.account, RIGHTS[role], key.id, role)


def _is_fresh(seen: _Seen) -> bool:
    return monotonic() - seen.looked_at < SEEN_S
