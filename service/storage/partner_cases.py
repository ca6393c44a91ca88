"""The store of partners' cases: what partners count on, each under its account's name."""

from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import delete, func, insert, select

from service.storage.engine import Database
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


class PartnerCaseStore:
    """Keeps cases and finds them. Every method may raise any StorageError of `failures`."""

    def __init__(self, database: Database) -> None:
        self._database = database

    def add(self, case: StoredCase) -> None:
        """Keep a case. Raises RowsRefusedError where the account has one with its id."""
        with self._database.writing() as connection:
            connection.execute(insert(_TABLE), vars(case))

    def get(self, account: str, id_: str) -> StoredCase | None:
        """Return a case of an account."""
        wanted = select(_TABLE).where(_TABLE.c.account == account, _TABLE.c.id == id_)
        with self._database.reading() as connection:
            row = connection.execute(wanted).mappings().one_or_none()
        return None if row is None else StoredCase(**row)

    def all(self) -> list[StoredCase]:
        """Return the cases by account, then by id."""
        with self._database.reading() as connection:
            rows = connection.execute(select(_TABLE).order_by(_TABLE.c.account, _TABLE.c.id)).mappings().all()
        return sorted((StoredCase(**row) for row in rows), key=lambda case: (case.account, case.id))

    def count(self, account: str | None = None) -> int:
        """Return how many cases are kept, all or those of an account."""
        wanted = select(func.count()).select_from(_TABLE)
        if account is not None:
            wanted = wanted.where(_TABLE.c.account == account)
        with self._database.reading() as connection:
            return connection.execute(wanted).scalar_one()

    def delete(self, account: str, id_: str) -> bool:
        """Delete a case of an account; False where there is none."""
        gone = delete(_TABLE).where(_TABLE.c.account == account, _TABLE.c.id == id_)
        with self._database.writing() as connection:
            return connection.execute(gone).rowcount == 1
