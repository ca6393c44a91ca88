"""An outage: while a database is silent, one use at a time finds out whether it still is, the others learn so at once.

Without this every request would wait for its own timeout, and the requests behind it with it.
"""

from collections.abc import Iterator
from contextlib import contextmanager
from threading import Lock

from service.storage.errors import StorageSilentError, StorageUnavailableError


class Outage:
    """Whether the last use of a database found it silent. Safe to share by threads."""

    def __init__(self) -> None:
        self._is_silent = False
        self._trying = Lock()

    @contextmanager
    def noticed(self, database: str) -> Iterator[None]:
        """Watch over a use. Raises StorageSilentError at once while another use tries a silent database."""
        if not self._is_silent:
            with self._watched():
                yield
            return
        if not self._trying.acquire(blocking=False):
            raise StorageSilentError(database, "it fell silent and is being tried")
        try:
            with self._watched():
                yield
        finally:
            self._trying.release()

    @contextmanager
    def _watched(self) -> Iterator[None]:
        try:
            yield
        except StorageUnavailableError as error:
            self._is_silent = self._is_silent or isinstance(error, StorageSilentError)
            raise
        except BaseException:  # the fault of what was asked: the database did answer
            self._is_silent = False
            raise
        self._is_silent = False
