"""Worker processes: they end with their parent."""

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

from tests.support.catalogs import small_catalog
from tests.support.server import address_in
from tests.web.conftest import library_in

PATIENCE_S = 60


def _children(pid: int) -> list[int]:
    told = Path(f"/proc/{pid}/task/{pid}/children").read_text(encoding="utf-8").split()
    return [int(child) for child in told]


def _is_alive(pid: int) -> bool:
    try:
        return ") Z " not in Path(f"/proc/{pid}/stat").read_text(encoding="utf-8")
    except FileNotFoundError:
        return False


def test_workers_end_when_their_parent_is_killed(tmp_path: Path) -> None:
    """They stop as if they were told to; before, they went on to answer from a port that nobody could take again."""
    file = tmp_path / "catalog.sqlite3"
    with library_in(file, small_catalog()):
        pass
    command = [sys.executable, "-m", "service", "serve", "--port", "0", "--workers", "2"]
    environment = os.environ | {"PORTWRIGHT_DATABASE_URL": f"sqlite:///{file}"}
    with subprocess.Popen(
        command, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True, env=environment
    ) as parent:
        assert parent.stderr is not None
        address_in(parent.stderr, 2)
        workers = _children(parent.pid)
        assert len(workers) >= 2
        parent.send_signal(signal.SIGKILL)
        until = time.monotonic() + PATIENCE_S
        try:
            while any(map(_is_alive, workers)):
                assert time.monotonic() < until
                time.sleep(0.05)
        finally:
            for worker in filter(_is_alive, workers):
                os.kill(worker, signal.SIGKILL)
