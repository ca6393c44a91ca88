"""Generated requests with a key of each role, over both databases: `python -m tests.generated --tool PATH`.

The tool is Schemathesis, as `.ci/against-server` installs it; `.ci/schemathesis.toml` says what is right.
Each run has a server of its own over the catalog of `seed_data/`, where nothing is given without a key: an operation
refuses whoever has no right to it, and nobody else, as the table of rights says.
"""

import argparse
import json
import os
import subprocess
import sys
import tempfile
from collections.abc import Iterator, Sequence
from contextlib import closing, contextmanager
from dataclasses import dataclass
from pathlib import Path
from threading import Thread
from time import monotonic

from service.access.allowances import NO_LIMIT, ByAddress
from service.access.roles import RIGHTS, Role
from service.documents.folder import load_catalog
from service.storage.engine import open_database
from service.storage.keys import KeyStore
from service.storage.migrate import migrate
from service.storage.revisions import RevisionStore
from service.usecases.access_keys import AccessKeys
from service.usecases.library import Library
from service.web.rights import right_of_operation
from tests.storage.databases import empty_database
from tests.support.server import address_of, begun

_ROOT = Path(__file__).parents[1]
_DATABASES = ("sqlite", "postgresql")
_SECONDS_AN_ANSWER, _SECONDS_A_REQUEST = 5, 20
_UNLIMITED = ",".join(f"{name}={NO_LIMIT}" for name in (*Role, ByAddress.FAILED_KEYS))
"""Generated requests come faster than any person's."""


@dataclass(frozen=True)
class Run:
    """A key's role, and the kind of database that is asked with it."""

    role: Role
    database: str


def runs_of(roles: Sequence[Role], databases: Sequence[str]) -> list[Run]:
    """All of these roles over all of these databases."""
    return [Run(role, database) for database in databases for role in roles]


def tried(run: Run, tool: Path, cases: int, phases: str) -> bool:
    """Send so many requests an operation; whether nothing was found. What is found, the tool prints."""
    with (
        tempfile.TemporaryDirectory() as folder,
        empty_database(run.database, Path(folder)) as url,
        _serving(url) as (address, printed),
    ):
        with closing(open_database(url)) as database:
            key = AccessKeys(KeyStore(database)).make(run.role, "generated requests").text
        may = Path(folder) / "may.json"
        may.write_text(json.dumps(sorted(_operations(run.role))), encoding="utf-8")
        is_right = _generate(tool, address, key, ["-n", str(cases), "--phases", phases], folder, may)
    told = "".join(printed)
    if "Traceback" in told:
        print(told)
    return is_right and "Traceback" not in told


def _operations(role: Role) -> Iterator[str]:
    """The operations that a role has the right to."""
    promised = json.loads((_ROOT / "tests/web/openapi.json").read_text(encoding="utf-8"))
    for path in promised["paths"].values():
        names = (operation["operationId"] for operation in path.values() if "operationId" in operation)
        yield from (name for name in names if right_of_operation(name) in RIGHTS[role])


def _generate(tool: Path, address: str, key: str, how: list[str], folder: str, may: Path) -> bool:
    """One worker: two threads that parse at once make CPython 3.11 fail (AST constructor recursion depth)."""
    command = [tool, "--config-file", _ROOT / ".ci/schemathesis.toml", "run", f"{address}/openapi.json", *how]
    command += ["--header", f"Authorization: Bearer {key}", "--checks", "all", "--mode", "all", "--workers", 1]
    command += ["--generation-deterministic", "--continue-on-failure", "--max-response-time", _SECONDS_AN_ANSWER]
    command += ["--request-timeout", _SECONDS_A_REQUEST, "--no-color"]
    hooks = {"PYTHONPATH": str(_ROOT / ".ci"), "SCHEMATHESIS_HOOKS": "schemathesis_hooks", "ROLE_MAY": str(may)}
    environment = os.environ | hooks | {"PYTHONDONTWRITEBYTECODE": "1"}
    ended = subprocess.run([str(word) for word in command], cwd=folder, env=environment, check=False)
    return ended.returncode == 0


@contextmanager
def _serving(url: str) -> Iterator[tuple[str, list[str]]]:
    """A server over the seed catalog, where everybody needs a key: its address, and what it prints in the end."""
    with closing(open_database(url)) as database:
        migrate(database)
        Library(RevisionStore(database)).publish(load_catalog(_ROOT / "seed_data"))
    printed: list[str] = []
    with begun(url, without_key="none", requests_a_minute=_UNLIMITED) as process:
        try:
            address = address_of(process)
            assert process.stderr is not None
            reader = Thread(target=printed.extend, args=(process.stderr,))
            reader.start()
            yield address, printed
        finally:
            process.terminate()
            reader.join()


def main() -> None:
    """Run; end with 1 where anything was found."""
    given = _arguments()
    wrong = []
    roles = given.role or list(Role)
    if given.turn is not None:
        roles = [roles[given.turn % len(roles)]]
    for run in runs_of(roles, given.database or _DATABASES):
        print(f"\n== {run.role} over {run.database}", flush=True)
        started_s = monotonic()
        is_right = tried(run, given.tool.resolve(), given.cases, given.phases)
        print(f"{run.role} over {run.database}: {monotonic() - started_s:.0f} s", flush=True)
        if not is_right:
            wrong.append(f"{run.role} over {run.database}")
    print(f"found something: {', '.join(wrong) or 'nothing'}")
    sys.exit(bool(wrong))


def _arguments() -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="python -m tests.generated", description="Generated requests by role.")
    parser.add_argument("--tool", type=Path, required=True, help="Schemathesis: the command `st`")
    parser.add_argument("--role", type=Role, action="append", choices=list(Role), help="these alone; else all")
    parser.add_argument("--database", action="append", choices=_DATABASES, help="these alone; else both")
    parser.add_argument("--turn", type=int, help="one of the roles alone, by this number")
    parser.add_argument("--cases", type=int, default=25, help="requests an operation, beside those of the coverage")
    parser.add_argument("--phases", default="examples,coverage,fuzzing,stateful")
    return parser.parse_args()


if __name__ == "__main__":
    main()
