"""The store of orders that were read: each under an id that nobody can guess, changed as it is settled."""

import re
from datetime import datetime

from sqlalchemy import insert, select, update

from service.storage.accounts import OfAccounts
from service.storage.engine import Database
from service.storage.keeping import USUAL, Keeping, since
from service.storage.sweeping import sweep
from service.storage.tables import METADATA

_TABLE = METADATA.tables["order_reading"]
_ID = re.compile(r"[A-Za-z0-9_-]{1,64}")


class OrderReadingStore(OfAccounts):
    """Keeps readings and finds them. Every method may raise any StorageError of `failures`."""

    _table = _TABLE
    _many = "readings"

    def __init__(self, database: Database, keeping: Keeping = USUAL) -> None:
        self._database = database
        self._keeping = keeping

    def save(self, id_: str, document: str, created_at: datetime) -> None:
        """Keep a new reading. `created_at` needs a time zone."""
        with self._database.writing() as connection:
            kept = {"id": id_, "document": document, "created_at": created_at, "account": self._keeps_for}
            connection.execute(insert(_TABLE), kept)
            was_personal = sweep(connection, self._keeping)
        if was_personal:
            self._database.erase_remains()

    def change(self, id_: str, document: str) -> None:
        """Put a document in the place of a reading's; one that is gone meanwhile stays so."""
        with self._database.writing() as connection:
            connection.execute(update(_TABLE).where(_TABLE.c.id == id_, self._is_own(_TABLE)).values(document=document))

    def get(self, id_: str) -> str | None:
        """Return the document of an id, None for any other text."""
        if not _ID.fullmatch(id_):
            return None
        is_kept = _TABLE.c.created_at >= since(self._keeping.order_readings_days)
        with self._database.reading() as connection:
            found = select(_TABLE.c.document).where(_TABLE.c.id == id_, is_kept, self._is_own(_TABLE))
            return connection.execute(found).scalar_one_or_none()
