"""The store of orders that were read: each under an id that nobody can guess, changed as it is settled."""

from datetime import datetime

from sqlalchemy import insert, select, update

from service.storage.accounts import OfAccounts
from service.storage.keeping import since
from service.storage.store import ID
from service.storage.sweeping import writing_and_sweeping
from service.storage.tables import METADATA

_TABLE = METADATA.tables["order_reading"]


class OrderReadingStore(OfAccounts):
    """Keeps readings and finds them."""

    _table = _TABLE
    _many = "readings"

    def save(self, id_: str, document: str, created_at: datetime) -> None:
        """Keep a new reading. `created_at` needs a time zone."""
        with writing_and_sweeping(self._database, self._keeping) as connection:
            kept = {"id": id_, "document": document, "created_at": created_at, "account": self._keeps_for}
            connection.execute(insert(_TABLE), kept)

    def change(self, id_: str, document: str) -> None:
        """Put a document in the place of a reading's; one that is gone meanwhile stays so."""
        with self._database.writing() as connection:
            connection.execute(update(_TABLE).where(_TABLE.c.id == id_, self._is_own(_TABLE)).values(document=document))

    def get(self, id_: str) -> str | None:
        """Return the document of an id, None for any other text."""
        if not ID.fullmatch(id_):
            return None
        is_kept = _TABLE.c.created_at >= since(self._keeping.order_readings_days)
        return self._value(select(_TABLE.c.document).where(_TABLE.c.id == id_, is_kept, self._is_own(_TABLE)))
