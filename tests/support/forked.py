"""A real server in a third of the time: forked from a process that has imported all of the service already.

The command as people start it, in a process that knows nothing yet, is tried in `tests/cli/` and by `server.served`.
"""

import os
import sys
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from multiprocessing import get_context
from multiprocessing.connection import Connection

from tests.support.server import PATIENCE_S, address_in, environment_of

_FORKING = get_context("forkserver")
_FORKING.set_forkserver_preload(["service.cli.app", "service.web.serving"])


@contextmanager
def served(database_url: str, workers: int = 1, host: str = "127.0.0.1", **settings: str) -> Iterator[str]:
    """Serve as `server.served` does: give the base URL; the process is gone at the end, and was quiet about errors."""
    told, telling = _FORKING.Pipe(duplex=False)
    arguments = ["serve", "--host", host, "--port", "0", "--workers", str(workers)]
    process = _FORKING.Process(target=_run, args=(telling, arguments, environment_of(database_url, settings)))
    process.start()
    telling.close()
    with told, open(told.fileno(), encoding="utf-8", closefd=False) as lines:
        try:
            yield address_in(lines, workers)
            process.terminate()
            process.join(PATIENCE_S)
            assert process.exitcode is not None, "it does not end"
            rest = lines.read()
            assert "Traceback" not in rest, rest
        finally:
            process.kill()
            process.join()


def _run(telling: Connection, arguments: list[str], environment: Mapping[str, str]) -> None:
    """Run the command in this process, what it prints as errors goes to who started it."""
    os.dup2(telling.fileno(), 2)
    telling.close()
    nowhere = os.open(os.devnull, os.O_RDWR)
    for standard in (0, 1):
        os.dup2(nowhere, standard)
    os.close(nowhere)
    sys.stdin = os.fdopen(0, closefd=False)  # a process of several workers hands it on to them
    os.environ.clear()
    os.environ.update(environment)
    from service.cli.app import app

    app(arguments, prog_name="portwright")
