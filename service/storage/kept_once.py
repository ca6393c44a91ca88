"""A store of what is kept once: under an id that nobody can guess, and for a while under a key of the caller's."""

from typing import Generic, Protocol, TypeVar

from sqlalchemy import ColumnElement, Table, insert, select, update

from service.storage.accounts import OfAccounts
from service.storage.errors import RowsRefusedError
from service.storage.keeping import KEY_DAYS, LAST_DAY, since
from service.storage.store import ID
from service.storage.sweeping import writing_and_sweeping


class Once(Protocol):
    """A row of such a store, with all its columns as attributes.

    `body_digest` is the same for the same request; `idempotency_key` is its account's own, None where there is none.
    """

    @property
    def id(self) -> str: ...
    @property
    def revision(self) -> int: ...
    @property
    def idempotency_key(self) -> str | None: ...
    @property
    def body_digest(self) -> str: ...
    @property
    def account(self) -> str: ...


T = TypeVar("T", bound=Once)


class KeptOnce(OfAccounts, Generic[T]):
    """Keeps rows of one table and finds them."""

    _table: Table
    _row: type[T]
    _days: str
    """The field of `Keeping` that says how many days they are kept."""

    def save(self, row: T) -> T:
        """Keep a row and return it; where its idempotency key is taken, return the one that has it instead.

        Of several that come with one key at the same time, one is kept and all get that one. A key that has had its
        KEY_DAYS is free again. `created_at` needs a time zone.
        What is of a revision that is not there raises RowsRefusedError.
        """
        key = row.idempotency_key
        account = row.account if self.account is None else self.account
        columns = self._table.c
        try:
            with writing_and_sweeping(self._database, self._keeping) as connection:
                if key is not None:
                    own = (columns.account == account) & (columns.idempotency_key == key)
                    had = own & (columns.created_at < since(KEY_DAYS))
                    connection.execute(update(self._table).where(had).values(idempotency_key=None))
                connection.execute(insert(self._table), vars(row) | {"account": account})
        except RowsRefusedError:
            kept = None if key is None else self.of(account).of_key(key)
            if kept is None:
                raise
            return kept
        return row

    def get(self, id_: str) -> T | None:
        """Return what has an id, None for any other text."""
        return self._one(self._table.c.id == id_) if ID.fullmatch(id_) else None

    def of_key(self, idempotency_key: str) -> T | None:
        """Return what was kept with an idempotency key."""
        columns = self._table.c
        own = columns.account == self._keeps_for
        return self._one(own & (columns.idempotency_key == idempotency_key), KEY_DAYS)

    def _is_kept(self, days: int = LAST_DAY) -> ColumnElement[bool]:
        is_there = self._table.c.created_at >= since(min(days, getattr(self._keeping, self._days)))
        return is_there & self._is_own(self._table)

    def _one(self, condition: ColumnElement[bool], days: int = LAST_DAY) -> T | None:
        return self._read_one(self._row, select(self._table).where(condition, self._is_kept(days)))
