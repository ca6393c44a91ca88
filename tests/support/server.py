"""A real server: `portwright serve` in a process of its own, on a free port, over the database at an address."""

import os
import re
import subprocess
import sys
from collections.abc import Iterator, Mapping
from contextlib import contextmanager

PATIENCE_S = 60


@contextmanager
def served(
    database_url: str, workers: int = 1, module: str = "service", host: str = "127.0.0.1", **settings: str
) -> Iterator[str]:
    """Serve with these settings and give the base URL; the process is gone at the end, and was quiet about errors.

    Who comes by loopback may do everything without a key, unless the settings say otherwise. With
    `back_process="false"` it starts in half of the time, for who asks nothing that takes long.
    """
    with begun(database_url, workers, module, host, **settings) as process:
        try:
            yield address_of(process, workers)
            process.terminate()
            _, rest = process.communicate(timeout=PATIENCE_S)
            assert "Traceback" not in rest, rest
        finally:
            process.kill()


def begun(
    database_url: str, workers: int = 1, module: str = "service", host: str = "127.0.0.1", **settings: str
) -> "subprocess.Popen[str]":
    """Start a server as `served` does; whoever does so ends it."""
    command = [sys.executable, "-m", module, "serve", "--host", host, "--port", "0", "--workers", str(workers)]
    environment = environment_of(database_url, settings)
    return subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True, env=environment)


def environment_of(database_url: str, settings: Mapping[str, str]) -> dict[str, str]:
    """The environment of a server over a database, with these settings."""
    environment = os.environ | {"PORTWRIGHT_DATABASE_URL": database_url, "PORTWRIGHT_WITHOUT_KEY": "admin"}
    return environment | {f"PORTWRIGHT_{name.upper()}": value for name, value in settings.items()}


def address_of(process: "subprocess.Popen[str]", workers: int = 1) -> str:
    """The base URL of a server, once all its workers have started."""
    assert process.stderr is not None
    return address_in(process.stderr, workers)


def address_in(lines: Iterator[str], workers: int) -> str:
    """Read what the server prints until all its workers have started."""
    printed = ""
    for line in lines:
        printed += line
        found = re.search(r"Uvicorn running on (http://[0-9.:]+)", printed)
        if found and printed.count("Application startup complete") == workers:
            return found[1]
    raise AssertionError(printed)
