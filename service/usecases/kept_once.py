"""What is judged once is kept, and given again to whoever sends the same request with the same key."""

import hashlib
from collections.abc import Callable
from dataclasses import dataclass
from typing import Generic, TypeVar

from service.storage.kept_once import KeptOnce, Once
from service.usecases.errors import IdempotencyKeyReusedError, NotFoundError
from service.usecases.room import check_room

T = TypeVar("T", bound=Once)


@dataclass(frozen=True)
class Kept:
    """What is stored under an id: `document` is its JSON; `again`: it was there before."""

    id: str
    revision: int
    document: bytes
    again: bool


def digest_of(said: str) -> str:
    """What tells one request from every other, by its canonical text."""
    return hashlib.sha256(said.encode()).hexdigest()


class Keeper(Generic[T]):
    """Keeps rows of a store once. `kind`: what they are, in words; `document`: the JSON of a row that is given out."""

    def __init__(self, store: KeptOnce[T], kind: str, document: Callable[[T], str]) -> None:
        self._store = store
        self._kind = kind
        self._document = document

    def before(self, digest: str, key: str | None) -> Kept | None:
        """What is kept under a key, None where it is new. Raises IdempotencyKeyReusedError for another request."""
        row = None if key is None else self._store.of_key(key)
        return None if row is None else self._given(row, digest, again=True)

    def save(self, row: T) -> Kept:
        """Keep a row, unless its key came in between. Raises IdempotencyKeyReusedError, FullError."""
        if self.before(row.body_digest, row.idempotency_key) is None:
            check_room(self._store)
        kept = self._store.save(row)
        return self._given(kept, row.body_digest, again=kept is not row)

    def row(self, id_: str) -> T:
        """The row of an id. Raises NotFoundError."""
        row = self._store.get(id_)
        if row is None:
            raise NotFoundError(self._kind, id_)
        return row

    def recall(self, id_: str) -> Kept:
        """What is kept under an id. Raises NotFoundError."""
        row = self.row(id_)
        return self._given(row, row.body_digest, again=True)

    def _given(self, row: T, digest: str, *, again: bool) -> Kept:
        if row.body_digest != digest:
            raise IdempotencyKeyReusedError(row.idempotency_key or "")
        return Kept(row.id, row.revision, self._document(row).encode(), again)
