"""What a large catalog costs: import, start, memory and a warm query, each in a process of its own.

Times are of the processor, so that what else the machine does falls on none of them.
"""

import json
import os
import statistics
import subprocess
import sys
import tempfile
from pathlib import Path
from time import process_time

from service.cli.app import app
from service.documents.request import BillRequest
from service.settings import read_settings
from service.storage.engine import open_database
from service.storage.revisions import RevisionStore
from service.usecases.find_bills import found_in
from service.usecases.library import Library
from tests.bench.report import Row
from tests.bench_catalog import bench_catalog, car_of_family

LARGE, SMALL = 100_000, 100
_MB = 1024 * 1024
_KB = 1024
_LAYOUT = "factory-line"
_ASKED = 60
_SELF = "tests.bench.scale"


def rows(items: int = LARGE) -> list[Row]:
    """All rows of size, for so many items beside a hundred."""
    with tempfile.TemporaryDirectory() as folder:
        large, small = (_written(Path(folder), number) for number in (items, SMALL))
        size_mb = large.stat().st_size / _MB
        parsed = _step("parse", large)
        imported = _step("import", large)
        _step("import", small)
        opened, of_small = (_step("open", file) for file in (large, small))
    beside = {"items": items} | parsed
    grown_mb = opened["memory_mb"] * LARGE / items
    return [
        Row(
            f"warm query, against {SMALL} items",
            opened["query_ms"] / of_small["query_ms"],
            1.3,
            is_limit=True,
            figures={"items": items, "ms": opened["query_ms"], f"at {SMALL}": of_small["query_ms"]},
        ),
        Row("start, against parsing", opened["start_s"] / parsed["parse_s"], 3, True, beside | opened),
        Row("import, against parsing", imported["import_s"] / parsed["parse_s"], 8, True, beside | imported),
        Row(
            "memory of the import, against the JSON",
            imported["memory_mb"] / size_mb,
            6,
            is_limit=True,
            figures=imported | {"JSON MB": size_mb},
        ),
        Row(f"memory over the empty process [MB for {LARGE} items]", grown_mb, 300, True, opened),
    ]


def _written(folder: Path, items: int) -> Path:
    file = folder / f"{items}.json"
    file.write_text(json.dumps(bench_catalog(items)))
    return file


def _step(name: str, file: Path) -> dict[str, float]:
    """What a step tells, in a process of its own."""
    command = [sys.executable, "-m", _SELF, name, str(file)]
    address = {"PORTWRIGHT_DATABASE_URL": f"sqlite:///{file.with_suffix('.sqlite3')}"}
    done = subprocess.run(command, check=True, stdout=subprocess.PIPE, text=True, env=os.environ | address)
    told: dict[str, float] = json.loads(done.stdout.splitlines()[-1])
    return told


def _parse(file: str) -> dict[str, float]:
    content = Path(file).read_bytes()
    begun_s = process_time()
    json.loads(content)
    return {"parse_s": process_time() - begun_s}


def _import(file: str) -> dict[str, float]:
    """What `portwright catalog import` takes, and its memory at its largest beyond that of the empty process [MB]."""
    begun_s, before_mb = process_time(), _resident_mb()
    app(["catalog", "import", file], standalone_mode=False)
    return {"import_s": process_time() - begun_s, "memory_mb": _resident_mb("VmHWM") - before_mb}


def _open(_: str) -> dict[str, float]:
    """How long the newest revision takes to open [s], its memory [MB], and a warm query of its first car [ms]."""
    database = open_database(read_settings().database_url.get_secret_value())
    library = Library(RevisionStore(database))
    database.empty_log(0)  # connected
    before_mb = _resident_mb()
    begun_s = process_time()
    library.edition()
    start_s = process_time() - begun_s
    times = []
    for nth in range(_ASKED):
        asked = BillRequest(chassis=car_of_family(), layout=_LAYOUT, max_price=10**9 + nth)
        begun_s = process_time()
        found_in(library.edition(), asked, "brief")
        times.append((process_time() - begun_s) * 1000)
    memory_mb = _resident_mb() - before_mb
    return {"start_s": start_s, "memory_mb": memory_mb, "query_ms": statistics.median(times[_ASKED // 4 :])}


def _resident_mb(which: str = "VmRSS") -> float:
    status = Path("/proc/self/status").read_text().splitlines()
    return next(int(line.split()[1]) for line in status if line.startswith(which)) / _KB


if __name__ == "__main__":
    print(json.dumps({"parse": _parse, "import": _import, "open": _open}[sys.argv[1]](sys.argv[2])))
