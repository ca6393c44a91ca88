"""The catalog that comes with Portwright, for ever: what callers try themselves on."""

from datetime import UTC, datetime
from importlib import resources
from pathlib import Path

from service.documents.folder import load_catalog
from service.documents.packed import packed
from service.storage.fixed import FixedRevision
from service.usecases.library import Library

_PUBLISHED = datetime(2026, 1, 1, tzinfo=UTC)


def seed_folder() -> Path:
    """Return the seed catalog: within the package where it is installed, beside it in a checkout."""
    package = Path(str(resources.files("service")))
    installed = package / "seed_data"
    return installed if installed.is_dir() else package.parent / "seed_data"


def sandbox_library() -> Library:
    """A library with the seed catalog as its one revision, read when somebody first asks."""
    return Library(FixedRevision(lambda: packed(load_catalog(seed_folder())), _PUBLISHED))
