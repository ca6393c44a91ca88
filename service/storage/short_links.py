"""The store of short links: one code a key, the same until its end."""

import hashlib
from collections.abc import Iterable
from datetime import UTC, datetime

from sqlalchemy import ColumnElement, delete, insert, select

from service.storage.errors import RowsRefusedError
from service.storage.keeping import since
from service.storage.store import Store
from service.storage.sweeping import writing_and_sweeping
from service.storage.tables import METADATA

_TABLE = METADATA.tables["short_link"]


class ShortLinkStore(Store):
    """Keeps short links and finds them."""

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
                with writing_and_sweeping(self._database, self._keeping) as connection:
                    is_over = (_TABLE.c.key_digest == digest) | (_TABLE.c.code == code)
                    connection.execute(delete(_TABLE).where(is_over, ~self._is_kept()))
                    row = {"code": code, "key": key, "key_digest": digest, "created_at": datetime.now(UTC)}
                    connection.execute(insert(_TABLE), row)
            except RowsRefusedError as error:  # the code is another key's, or somebody kept this key just now
                refused = error
            else:
                return code, True
        kept = self._code_of(digest)
        if kept is None:
            raise refused or ValueError("no code was offered")
        return kept, False

    def _code_of(self, digest: str) -> str | None:
        return self._value(select(_TABLE.c.code).where(_TABLE.c.key_digest == digest, self._is_kept()))

    def key(self, code: str) -> str | None:
        """Return the key that is kept under a code."""
        return self._value(select(_TABLE.c.key).where(_TABLE.c.code == code, self._is_kept()))

    def _is_kept(self) -> ColumnElement[bool]:
        return _TABLE.c.created_at >= since(self._keeping.short_links_days)
