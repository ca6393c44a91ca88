"""The store of partners' cases: what partners count on, each under its account's name."""

from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import delete, select

from service.storage.store import Store
from service.storage.tables import METADATA

_TABLE = METADATA.tables["partner_case"]


@dataclass(frozen=True)
class StoredCase:
    """A partner's case: `document` is its JSON, `body` that of the very bill that its key promises, if it has one."""

    account: str
    id: str
    document: str
    body: str | None
    created_at: datetime


class PartnerCaseStore(Store):
    """Keeps cases and finds them."""

    def add(self, case: StoredCase) -> None:
        """Keep a case. Raises RowsRefusedError where the account has one with its id."""
        self._add(_TABLE, case)

    def get(self, account: str, id_: str) -> StoredCase | None:
        """Return a case of an account."""
        wanted = select(_TABLE).where(_TABLE.c.account == account, _TABLE.c.id == id_)
        return self._read_one(StoredCase, wanted)

    def all(self) -> list[StoredCase]:
        """Return the cases by account, then by id."""
        cases = self._read_all(StoredCase, select(_TABLE))
        return sorted(cases, key=lambda case: (case.account, case.id))  # databases sort texts in ways of their own

    def count(self, account: str | None = None) -> int:
        """Return how many cases are kept, all or those of an account."""
        return self._count(_TABLE, *([] if account is None else [_TABLE.c.account == account]))

    def delete(self, account: str, id_: str) -> bool:
        """Delete a case of an account; False where there is none."""
        gone = delete(_TABLE).where(_TABLE.c.account == account, _TABLE.c.id == id_)
        return self._changes_one(gone)
