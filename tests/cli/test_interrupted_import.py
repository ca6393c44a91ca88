"""`portwright catalog import`, killed half way: the old revision answers and the file is whole."""

import json
import signal
import sqlite3
import time
from contextlib import closing
from pathlib import Path

import pytest

from tests.cli.commands import PATIENCE_S, installed, started
from tests.support.catalogs import small_catalog

MANY = 2_000
WRITTEN_BYTES = 100_000
ATTEMPTS = 4


def _write_big_catalog(file: Path, price: int) -> None:
    """Write a catalog that takes long to keep; its rows are wide, so that they reach the disk before the end."""
    catalog = small_catalog()
    seal = next(item for item in catalog["items"] if item["kind"] == "seal")
    wide = {"name": "n" * 200, "family": "f" * 120, "finish": "x" * 120, "price": price}
    catalog["items"] += [seal | wide | {"sku": f"SEAL-{number}"} for number in range(MANY)]
    file.write_text(json.dumps(catalog), encoding="utf-8")


def _kill_while_writing(catalog: Path, database: Path) -> None:
    """Start an import and kill it as soon as rows of it are on the disk."""
    journal = Path(f"{database}-wal")
    with started("catalog", "import", catalog) as process:
        deadline = time.monotonic() + PATIENCE_S
        while not (journal.exists() and journal.stat().st_size > WRITTEN_BYTES):
            assert process.poll() is None, process.communicate()[0]
            assert time.monotonic() < deadline, "the import wrote nothing"
            time.sleep(0.001)
        process.kill()
        assert process.wait() == -signal.SIGKILL


def test_a_killed_import_leaves_no_trace(catalog_file: Path, home: Path, tmp_path: Path) -> None:
    """Kill -9 while rows are written: same answer as before, sound file, and the next import works."""
    assert installed("catalog", "import", catalog_file).returncode == 0
    [database] = home.rglob("portwright.sqlite3")
    big_file = tmp_path / "big.json"
    for attempt in range(ATTEMPTS):
        before = installed("ask", "brook", "factory", "--json").stdout
        number = json.loads(before)["revision"]
        _write_big_catalog(big_file, price=attempt)
        _kill_while_writing(big_file, database)
        with closing(sqlite3.connect(database)) as connection:
            assert connection.execute("PRAGMA integrity_check").fetchone() == ("ok",)
            newest = connection.execute("SELECT max(number) FROM revision").fetchone()[0]
            rows = connection.execute("SELECT count(*) FROM catalog_object WHERE since > ?", (number,)).fetchone()[0]
        if newest == number:
            break
    else:
        pytest.fail("every kill came after the commit")
    assert rows == 0
    assert installed("ask", "brook", "factory", "--json").stdout == before
    assert installed("catalog", "import", big_file).stdout.startswith(f"imported as revision {number + 1}: ")
