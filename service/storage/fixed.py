"""A store with one revision that never changes: a catalog that is at hand, in no database."""

from collections.abc import Callable
from datetime import datetime

from service.documents.packed import PackedCatalog
from service.domain.lazy import lazy
from service.storage.errors import UnknownRevisionError
from service.storage.revisions import RevisionStore, RevisionSummary

_NUMBER = 1


class FixedRevision(RevisionStore):
    """Revision 1 is what `load` gives, read when it is first wanted; nothing can be added."""

    def __init__(self, load: Callable[[], PackedCatalog], published: datetime) -> None:
        self._load = load
        self._published = published

    def latest(self) -> int | None:
        return _NUMBER

    def newest_digest(self) -> tuple[int, str] | None:
        return _NUMBER, self._catalog.digest()

    def load(self, number: int) -> PackedCatalog:
        if number != _NUMBER:
            raise UnknownRevisionError(number, _NUMBER)
        return self._catalog

    def summaries(self) -> list[RevisionSummary]:
        told = self._catalog
        return [RevisionSummary(_NUMBER, self._published, told.maker.name, told.digest(), told.counts())]

    @lazy
    def _catalog(self) -> PackedCatalog:
        return self._load()
