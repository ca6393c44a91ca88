"""A real server: uvicorn in a process of its own, on a free port, over the database at an address."""

import os
import re
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager

PATIENCE_S = 60


@contextmanager
def served(database_url: str) -> Iterator[str]:
    """Serve as one worker does and give the base URL; the process is gone at the end, and was quiet about errors."""
    command = [sys.executable, "-m", "uvicorn", "--factory", "service.web.app:app_from_environment", "--port", "0"]
    environment = os.environ | {"PORTWRIGHT_DATABASE_URL": database_url}
    with subprocess.Popen(command, stderr=subprocess.PIPE, text=True, env=environment) as process:
        try:
            assert process.stderr is not None
            yield _address(process.stderr)
            process.terminate()
            _, rest = process.communicate(timeout=PATIENCE_S)
            assert "Traceback" not in rest, rest
        finally:
            process.kill()


def _address(lines: Iterator[str]) -> str:
    told = ""
    for line in lines:
        told += line
        if found := re.search(r"Uvicorn running on (http://[0-9.:]+)", line):
            return found[1]
    raise AssertionError(told)
