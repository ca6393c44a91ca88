"""The catalog that comes with Portwright, for ever: what callers try themselves on."""

from datetime import UTC, datetime

from service.documents.folder import load_catalog, seed_folder
from service.documents.packed import packed
from service.storage.fixed import FixedRevision
from service.usecases.library import Library

_PUBLISHED = datetime(2026, 1, 1, tzinfo=UTC)


def sandbox_library() -> Library:
    """A library with the seed catalog as its one revision, read when somebody first asks."""
    return Library(FixedRevision(lambda: packed(load_catalog(seed_folder())), _PUBLISHED))
