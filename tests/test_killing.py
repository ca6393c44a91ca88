"""The service killed under mixed writing, in one round; the many go by `python -m tests.killing`."""

from pathlib import Path

import pytest

from tests.killing import killed
from tests.storage.databases import empty_database


@pytest.mark.parametrize("kind", ["sqlite", pytest.param("postgresql", marks=pytest.mark.postgres)])
def test_nothing_acknowledged_is_lost(kind: str, tmp_path: Path) -> None:
    """Everything is there and equal, and the database is sound."""
    with empty_database(kind, tmp_path) as url:
        told: list[str] = []
        assert killed(url, rounds=1, seed=11, look_every=5, say=told.append) == []
        assert told
