"""A large catalog measured, each step in a process of its own: `python -m tests.bench_scale [ITEMS]`.

Times are of the processor; memory is resident, over that of a process that has loaded the service and done nothing.
"""

import gc
import json
import subprocess
import sys
from collections.abc import Callable
from contextlib import closing
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from tempfile import TemporaryDirectory
from time import process_time
from typing import Any

from service.documents.packing import pack_catalog
from service.documents.request import BillRequest
from service.storage.engine import open_database
from service.storage.migrate import migrate
from service.storage.revisions import RevisionStore
from service.usecases.find_bills import answer_in
from service.usecases.library import Edition, Library
from service.usecases.long_lived import settle, uncollected
from tests.bench_catalog import bench_catalog, car_of_family

_WARM = 200
_LIKE = 100
"""So many items has the small catalog that a warm query is compared on."""


@dataclass(frozen=True)
class Measured:
    """What one step took: processor seconds, resident MB more than before it, at its end and at most."""

    seconds: float
    more_mb: float
    most_mb: float


class Scale:
    """A catalog of so many items in a folder, with a database that it is imported into."""

    def __init__(self, folder: Path, items: int = 100_000) -> None:
        self.file = folder / f"{items}.json"
        self.file.write_text(json.dumps(bench_catalog(items)))
        self.database = folder / f"{items}.db"
        self.json_mb = self.file.stat().st_size / 1e6

    @cached_property
    def parsed(self) -> Measured:
        return self._measured("parse")

    @cached_property
    def imported(self) -> Measured:
        """As `portwright catalog import` does it, into a new database."""
        return self._measured("import")

    @cached_property
    def started(self) -> Measured:
        """From an open database to the first answer."""
        assert self.imported
        return self._measured("start")

    @cached_property
    def compiled(self) -> Measured:
        """The same, with every item and car compiled as if all had been asked for."""
        assert self.imported
        return self._measured("compile")

    @cached_property
    def warm(self) -> Measured:
        """A question asked again and again, worded anew each time."""
        assert self.imported
        return self._measured("warm")

    def start_ratio(self) -> float:
        """A start over parsing the same JSON."""
        return self.started.seconds / self.parsed.seconds

    def import_ratio(self) -> float:
        """An import over parsing the same JSON."""
        return self.imported.seconds / self.parsed.seconds

    def import_memory_ratio(self) -> float:
        """The most memory of an import over the size of the JSON."""
        return self.imported.most_mb / self.json_mb

    def memory_mb(self) -> float:
        """Resident memory of an edition, all compiled."""
        return self.compiled.more_mb

    def warm_ratio(self, like: "Scale") -> float:
        """A warm question over the same one on a small catalog with a like car."""
        return self.warm.seconds / like.warm.seconds

    def _measured(self, step: str) -> Measured:
        command = [sys.executable, "-m", "tests.bench_scale", step, str(self.file), str(self.database)]
        told = subprocess.run(command, check=True, capture_output=True, text=True).stdout
        return Measured(**json.loads(told))


def _parse(file: Path, _store: RevisionStore) -> object:
    return json.loads(file.read_bytes())


def _import(file: Path, store: RevisionStore) -> object:
    with uncollected():
        return Library(store).publish(pack_catalog(file))


def _start(_file: Path, store: RevisionStore) -> Edition:
    edition = Library(store).edition()
    _ask(edition)
    return edition


def _compile(file: Path, store: RevisionStore) -> Edition:
    edition = _start(file, store)
    for part in (edition.revision.items, edition.revision.chassis, edition.revision.mating, edition.revision.shapes):
        for _ in part.values():
            pass
    return edition


def _ask(edition: Edition) -> None:
    answer_in(edition, BillRequest.model_validate({"chassis": car_of_family(), "layout": "factory-line"}))


_STEPS: dict[str, Callable[[Path, RevisionStore], object]] = {
    "parse": _parse,
    "import": _import,
    "start": _start,
    "compile": _compile,
}


def _step(name: str, file: Path, database_file: Path) -> Measured:
    with closing(open_database(f"sqlite:///{database_file}")) as database:
        migrate(database)
        store = RevisionStore(database)
        if name == "warm":
            edition = _start(file, store)
            settle([edition.number])  # as the service does
            start = process_time()
            for _ in range(_WARM):
                _ask(edition)
            return Measured((process_time() - start) / _WARM, 0.0, 0.0)
        before, start = _resident_mb("VmRSS"), process_time()
        kept = _STEPS[name](file, store)
        seconds = process_time() - start
        gc.collect()
        found = Measured(seconds, _resident_mb("VmRSS") - before, _resident_mb("VmHWM") - before)
        del kept
        return found


def _resident_mb(name: str) -> float:
    """Resident memory of this process: VmRSS now, VmHWM the most since it was started."""
    lines = Path("/proc/self/status").read_text().splitlines()
    return int(next(line for line in lines if line.startswith(name)).split()[1]) * 1024 / 1e6


def measure(items: int = 100_000) -> dict[str, Any]:
    """All figures of a catalog of so many items."""
    with TemporaryDirectory() as folder:
        scale, like = Scale(Path(folder), items), Scale(Path(folder), _LIKE)
        return {
            "items": items,
            "json_mb": scale.json_mb,
            "parse_s": scale.parsed.seconds,
            "start_ratio": scale.start_ratio(),
            "import_ratio": scale.import_ratio(),
            "import_memory_ratio": scale.import_memory_ratio(),
            "memory_started_mb": scale.started.more_mb,
            "memory_mb": scale.memory_mb(),
            "warm_ratio": scale.warm_ratio(like),
        }


if __name__ == "__main__":
    if len(sys.argv) > 2:
        print(json.dumps(vars(_step(sys.argv[1], Path(sys.argv[2]), Path(sys.argv[3])))))
    else:
        for name, figure in measure(*map(int, sys.argv[1:])).items():
            print(f"{name:20} {figure:.6g}")
