"""`portwright catalog import`, killed half way: the old revision answers and the file is whole."""

import json
import signal
import sqlite3
import time
from pathlib import Path
from typing import Any

from tests.cli.commands import PATIENCE_S, installed, started
from tests.support.catalogs import small_catalog

MANY = 12_000
WRITTEN_BYTES = 500_000


def _big_catalog() -> dict[str, Any]:
    catalog = small_catalog()
    seal = next(item for item in catalog["items"] if item["kind"] == "seal")
    catalog["items"] += [seal | {"sku": f"SEAL-{number}"} for number in range(MANY)]
    return catalog


def test_a_killed_import_leaves_no_trace(catalog_file: Path, home: Path, tmp_path: Path) -> None:
    """Kill -9 while rows are written: same answer as before, sound file, and the next import works."""
    assert installed("catalog", "import", catalog_file).returncode == 0
    before = installed("ask", "brook", "factory", "--json").stdout
    [file] = home.rglob("portwright.sqlite3")
    big_file = tmp_path / "big.json"
    big_file.write_text(json.dumps(_big_catalog()), encoding="utf-8")

    with started("catalog", "import", big_file) as process:
        journal = Path(f"{file}-wal")
        deadline = time.monotonic() + PATIENCE_S
        while not (journal.exists() and journal.stat().st_size > WRITTEN_BYTES):
            assert process.poll() is None, process.communicate()[0]
            assert time.monotonic() < deadline, "the import wrote nothing"
            time.sleep(0.002)
        process.kill()
        assert process.wait() == -signal.SIGKILL

    assert installed("ask", "brook", "factory", "--json").stdout == before
    connection = sqlite3.connect(file)
    assert connection.execute("PRAGMA integrity_check").fetchone() == ("ok",)
    assert connection.execute("SELECT max(number) FROM revision").fetchone() == (1,)
    assert connection.execute("SELECT count(*) FROM item WHERE revision > 1").fetchone() == (0,)
    connection.close()
    assert installed("catalog", "import", big_file).stdout.startswith("imported as revision 2: ")
