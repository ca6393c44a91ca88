"""The store of short links: one code a key, given out once and for ever."""

import hashlib
from collections.abc import Iterable

from sqlalchemy import insert, select

from service.storage.engine import Database
from service.storage.errors import RowsRefusedError
from service.storage.tables import METADATA

_TABLE = METADATA.tables["short_link"]


class ShortLinkStore:
    """Keeps short links and finds them. Every method may raise any StorageError of `failures`."""

    def __init__(self, database: Database) -> None:
        self._database = database

    def save(self, key: str, codes: Iterable[str]) -> tuple[str, bool]:
        """Keep a key under the first of `codes` that no other key has; (its code, whether it is new).

        A key that is kept already keeps its code. Raises RowsRefusedError where all of them are taken.
        """
        digest = hashlib.sha256(key.encode()).hexdigest()
        refused: RowsRefusedError | None = None
        for code in codes:
            kept = self._code_of(digest)
            if kept is not None:
                return kept, False
            try:
                with self._database.writing() as connection:
                    connection.execute(insert(_TABLE), {"code": code, "key": key, "key_digest": digest})
            except RowsRefusedError as error:  # the code is another key's, or somebody kept this key just now
                refused = error
            else:
                return code, True
        kept = self._code_of(digest)
        if kept is None:
            raise refused or ValueError("no code was offered")
        return kept, False

    def _code_of(self, digest: str) -> str | None:
        with self._database.reading() as connection:
            found = select(_TABLE.c.code).where(_TABLE.c.key_digest == digest)
            return connection.execute(found).scalar_one_or_none()

    def key(self, code: str) -> str | None:
        """Return the key that is kept under a code."""
        with self._database.reading() as connection:
            return connection.execute(select(_TABLE.c.key).where(_TABLE.c.code == code)).scalar_one_or_none()
