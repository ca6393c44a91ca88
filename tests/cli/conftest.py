"""A machine of its own for each test: an empty home, and no setting from outside."""

import json
import os
from pathlib import Path

import pytest
from sqlalchemy import make_url

from service.settings import read_settings
from tests.support.catalogs import small_catalog
from tests.support.sqlite_files import with_small_catalog


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty home folder; commands run in this process and in others take it for the user's."""
    for name in list(os.environ):
        if name.startswith(("PORTWRIGHT_", "XDG_")):
            monkeypatch.delenv(name)
    folder = tmp_path / "home"
    folder.mkdir()
    monkeypatch.setenv("HOME", str(folder))
    monkeypatch.setenv("COLUMNS", "80")
    return folder


@pytest.fixture
def imported(home: Path) -> None:
    """The small catalog is revision 1."""
    with_small_catalog(Path(make_url(read_settings().database_url.get_secret_value()).database or ""))


@pytest.fixture
def catalog_file(tmp_path: Path) -> Path:
    """The small catalog as one JSON file."""
    file = tmp_path / "catalog.json"
    file.write_text(json.dumps(small_catalog()), encoding="utf-8")
    return file
