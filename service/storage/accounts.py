"""Stores of what belongs to accounts: whoever asks for one account finds nothing of another."""

from copy import copy
from typing import Self, TypeVar

from sqlalchemy import ColumnElement, Table, true

S = TypeVar("S", bound="OfAccounts")


class OfAccounts:
    """A store that sees what all accounts keep, until it is narrowed to one of them."""

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
    def _keeps_for(self) -> str:
        """The account that what is kept here belongs to."""
        return self.account or ""
