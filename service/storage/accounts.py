"""Stores of what belongs to accounts: whoever asks for one account finds nothing of another."""

from copy import copy
from typing import Self, TypeVar

from sqlalchemy import ColumnElement, Table, func, literal, select, true

from service.storage.store import Store

S = TypeVar("S", bound="OfAccounts")


class OfAccounts(Store):
    """A store that sees what all accounts keep, until it is narrowed to one of them."""

    _table: Table
    _many: str
    """What it keeps, by its name among the bounds of `Keeping`."""
    account: str | None = None
    sees_all: bool = False

    def of(self, account: str | None, *, sees_all: bool = False) -> Self:
        """The same store as an account sees it; None: as the service itself does. `sees_all`: what others keep too."""
        narrowed = copy(self)
        narrowed.account, narrowed.sees_all = account, sees_all
        return narrowed

    def _is_own(self, table: Table) -> ColumnElement[bool]:
        return true() if self.account is None or self.sees_all else table.c.account == self.account

    @property
    def many(self) -> str:
        """What it keeps, in words."""
        return self._many.replace("-", " ")

    def most(self) -> int:
        """How many of these one account keeps at once."""
        return self._keeping.most[self._many]

    def is_full(self) -> bool:
        """Whether the account keeps as many as it may."""
        own = select(literal(1)).where(self._table.c.account == self._keeps_for).limit(self.most()).subquery()
        with self._database.reading() as connection:
            return connection.execute(select(func.count()).select_from(own)).scalar_one() >= self.most()

    @property
    def _keeps_for(self) -> str:
        """The account that what is kept here belongs to."""
        return self.account or ""
